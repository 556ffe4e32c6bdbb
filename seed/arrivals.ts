/** How a piece comes onto the floor, and how its schedule changes. */
import { addDays } from "~/core/calendar";
import type { Wall } from "./clock";
import type { Pen } from "./pen";
import { boardId, type Hand } from "./people";
import {
  type PieceNumber,
  type PiecePlan,
  pairIdOf,
  pieceIdOf,
  pieces,
  plannedCoatIdOf,
  surfaceIdOf,
  surfaceNamesOf,
} from "./pieces";
import { type ProductCode, sheetIdOf } from "./products";
import { roomIdOf } from "./rooms";
import type { Line } from "./script";

/** Plans coats on every surface of a piece and strikes others; each is called by its place and product. */
export const plan = (
  pen: Pen,
  when: Wall,
  by: Hand,
  piece: PieceNumber,
  add: readonly string[],
  strike: readonly string[] = [],
): Line[] =>
  surfaceNamesOf(piece).map((surface) =>
    pen.write(when, by, "change-schedule", {
      surfaceId: surfaceIdOf(piece, surface),
      add: add.map((coat) => {
        const [position, code] = coat.split(" ") as [string, ProductCode];
        const coatId = plannedCoatIdOf(piece, surface, coat);
        return { coatId, position: Number(position), sheetId: sheetIdOf(code) };
      }),
      strike: strike.map((coat) => plannedCoatIdOf(piece, surface, coat)),
    }),
  );

/** A piece comes in: its tag is written, its faces and its schedule are planned. */
export function arrive(pen: Pen, when: Wall, by: Hand, number: PieceNumber): Line[] {
  const { room, centimetres, boughtDaysBefore, surfaces, pair, schedule, ...fields }: PiecePlan = pieces[number];
  const [width, depth, height] = centimetres;
  const planned = schedule.map((code, index) => `${index + 1} ${code}`);
  const facesApart = pair && {
    pairs: [
      {
        pairId: pairIdOf(number),
        surfaceA: surfaceIdOf(number, pair[0]),
        surfaceB: surfaceIdOf(number, pair[1]),
        sort: pair[2],
      },
    ],
  };
  return [
    pen.write(when, by, "add-piece", {
      pieceId: pieceIdOf(number),
      number,
      boardId,
      ...fields,
      widthMillimetres: width * 10,
      depthMillimetres: depth * 10,
      heightMillimetres: height * 10,
      roomId: roomIdOf(room),
      acquiredOn: addDays(pen.clock.monday, -boughtDaysBefore),
      surfaces: surfaces.map((surface) => ({ surfaceId: surfaceIdOf(number, surface.name), ...surface })),
    }),
    ...(facesApart ? [pen.write(when, by, "set-pairs", facesApart)] : []),
    ...(planned.length > 0 ? plan(pen, when, by, number, planned) : []),
  ];
}
