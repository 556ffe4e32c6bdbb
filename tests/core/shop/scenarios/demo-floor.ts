/**
 * The made-up week of the cure tests (zone America/New_York, 26 October to 1 November 2026) as a floor behind the door:
 * its rooms read every ten minutes, with a step of the heater exactly at its minute, its sheets and its people.
 */
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { pictureOf } from "~/core/shop/picture";
import type { Coat, Piece, Reading, RoomStay, Surface } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import * as week from "../../cure/week";
import { aCoat, aPiece, fern, id, type Rows, shopWith } from "../../support/shop";

export const { at, loft, sprayRoom, wallClock } = week;
const mades = [week.w1, week.w2, week.o1, week.o2, week.l1];

/** Readings of both rooms to Thursday 5 November, with the heater's trip on Wednesday morning or without. */
export const tripped = week.weekReadings(at("11-05 00:00 EST"), week.trippedLoft);
export const steady = week.weekReadings(at("11-05 00:00 EST"), week.steadyLoft);

export const demoFloor = (rows: Rows, readings: readonly Reading[] = tripped): MemoryFacts =>
  shopWith({
    room: [loft, sprayRoom],
    product: mades.map((made) => made.product),
    sheet: mades.map((made) => made.sheet),
    reading: [...readings],
    ...rows,
  });

type Made = (typeof mades)[number];

/** A coat that the owner laid in no time, as the demo week times them by their end. */
export const laid = (on: Surface, made: Made, endedAt: InstantMs, coatId: string, position = 1): Coat =>
  aCoat({
    id: coatId,
    pieceId: on.pieceId,
    surfaceId: on.id,
    position,
    sheetId: made.sheet.id,
    state: "applied",
    applied: { startedAt: endedAt, endedAt, by: [fern], roomId: sprayRoom.id, scuffedBefore: false },
  });

/** A piece with its number and stays: in the loft all along, or in the spray room until some evening. */
export function standing(
  number: string,
  pieceId: string,
  sprayUntil?: InstantMs,
): { piece: Piece; roomStay: RoomStay[] } {
  const since = at("10-20 08:00 EDT");
  const stay = (roomId: string, stayId: string, fromAt: InstantMs, toAt?: InstantMs): RoomStay => ({
    id: stayId,
    pieceId,
    roomId,
    fromAt,
    ...(toAt === undefined ? {} : { toAt }),
    how: "bearers",
  });
  const stayId = (which: number) => id(Number.parseInt(pieceId.slice(-4), 16) * 0x100 + which);
  return {
    piece: aPiece({ id: pieceId, number, roomId: loft.id }),
    roomStay:
      sprayUntil === undefined
        ? [stay(loft.id, stayId(1), since)]
        : [stay(sprayRoom.id, stayId(1), since, sprayUntil), stay(loft.id, stayId(2), sprayUntil)],
  };
}

/** What the gates of a piece rest on, for questions that no intent asks yet. */
export function picture(facts: MemoryFacts, pieceId: string) {
  const found = pictureOf(facts, pieceId);
  if (!found) throw new Error(`no piece ${pieceId}`);
  return found;
}
