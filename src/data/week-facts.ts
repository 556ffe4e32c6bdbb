import { laidCoats, workedAreas } from "~/core/labour/split";
import type { WeekInput } from "~/core/labour/week";
import type { Piece, TimeEntry } from "~/core/shop/tables";
import { database } from "./db";
import { findRows } from "./rows";

type WeekFacts = Pick<WeekInput, "claims" | "areaOf" | "coatsOf"> & { pieces: Pick<Piece, "id" | "number" | "name">[] };

/** What adding a week up rests on, for the pieces and tasks that its entries name. */
export async function weekFacts(shopId: string, entries: readonly TimeEntry[]): Promise<WeekFacts> {
  const subjects = entries.flatMap((entry) => entry.subjects);
  const pieceIds = [...new Set(subjects.map((subject) => subject.pieceId))];
  const taskIds = [...new Set(subjects.flatMap((subject) => subject.taskId ?? []))];
  const ofPieces = { shopId, pieceId: { in: pieceIds } };
  const [pieces, claims, tasks, surfaces, coats] = await Promise.all([
    findRows(database(), "piece", { shopId, id: { in: pieceIds } }),
    findRows(database(), "claim", { shopId, taskId: { in: taskIds } }),
    findRows(database(), "task", { shopId, id: { in: taskIds } }),
    findRows(database(), "surface", ofPieces),
    findRows(database(), "coat", ofPieces),
  ]);
  const rowsOf = <Row>(found: { row: Row }[]) => found.map(({ row }) => row);
  return {
    pieces: rowsOf(pieces).map(({ id, number, name }) => ({ id, number, name })),
    claims: rowsOf(claims),
    areaOf: workedAreas(rowsOf(tasks), rowsOf(surfaces)),
    coatsOf: laidCoats(rowsOf(coats)),
  };
}
