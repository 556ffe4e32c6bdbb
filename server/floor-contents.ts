/** What the floor's document is to hold: worked out whole from the rows, or as the difference that a commit makes. */
import type { RowAfter } from "~/core/shop/apply";
import { belongsOnFloor, type FloorTable, floorTables, isOnFloor } from "~/core/shop/floor";
import type { Reading, Row } from "~/core/shop/tables";
import { dayMs, type InstantMs } from "~/core/units";
import type { Transaction } from "~/data/db";
import { findRows } from "~/data/rows";
import { airFrom, airOfDay, airOfRoom } from "./floor-air";
import { checkpointsOf } from "./floor-checkpoints";
import type { FloorDocument, FloorEntry } from "./floor-document";

const tablesOfPieces = [
  "surface",
  "pair",
  "promise",
  "roomStay",
  "coat",
  "joint",
  "test",
  "confirmation",
  "word",
  "task",
  "claim",
] as const;
/** Some of these rows are of no piece: they stay. */
const tablesOfSomePieces: readonly FloorTable[] = ["test", "task", "claim"];
const isOfPiece = (table: FloorTable): boolean => (tablesOfPieces as readonly string[]).includes(table);

const entryOf = (table: FloorTable, row: Row<FloorTable>, hasLeft: (pieceId: string) => boolean): FloorEntry => ({
  part: table,
  key: row.id,
  value: belongsOnFloor(table, row, hasLeft) ? row : undefined,
});

async function rowEntries(tx: Transaction, table: FloorTable, where: Record<string, unknown> & { shopId: string }) {
  return (await findRows(tx, table, where)).map(({ row }) => entryOf(table, row as Row<FloorTable>, () => false));
}

/** The whole floor, as the rows have it. */
export async function wholeFloor(
  tx: Transaction,
  { shopId, seq, epoch, now }: { shopId: string; seq: number; epoch: number; now: InstantMs },
): Promise<FloorEntry[]> {
  const fromAt = airFrom(now);
  const entries: FloorEntry[] = [];
  const pieces = await rowEntries(tx, "piece", { shopId, archivedAt: null });
  const pieceIds = pieces.map(({ key }) => key);
  for (const table of floorTables) {
    if (table === "piece") entries.push(...pieces);
    else if (!isOfPiece(table)) entries.push(...(await rowEntries(tx, table, { shopId, ...onlyRunning(table) })));
    else {
      const ofNone = tablesOfSomePieces.includes(table) ? [{ pieceId: null }] : [];
      entries.push(...(await rowEntries(tx, table, { shopId, OR: [{ pieceId: { in: pieceIds } }, ...ofNone] })));
    }
  }
  for (const { key: roomId } of entries.filter(({ part }) => part === "room")) {
    entries.push(...(await airOfRoom(tx, { shopId, roomId, fromAt })));
  }
  entries.push(...(await checkpointsOf(tx, { shopId, pieceIds, fromAt, now })));
  const shop = entries.find(({ part }) => part === "shop")?.value as Row<"shop">;
  const meta = { shopId, epoch, seq, zone: shop.zone, airFromAt: fromAt };
  entries.push(...Object.entries(meta).map(([key, value]): FloorEntry => ({ part: "meta", key, value })));
  return entries.filter(({ value }) => value !== undefined);
}

/** Of hours only those that run; the others are many, and not for every phone. */
const onlyRunning = (table: FloorTable) => (table === "entry" ? { endedAt: null, struckAt: null } : {});

/** The ledger went from one number to another, and these rows are as they are since. */
export type Commit = { shopId: string; fromSeq: number; seq: number; rowsAfter: readonly RowAfter[] };

/** What a commit changes on the floor. Called inside of its transaction, when its rows are written. */
export async function floorChanges(
  tx: Transaction,
  floor: FloorDocument,
  { shopId, seq, rowsAfter }: Commit,
  now: InstantMs,
): Promise<FloorEntry[]> {
  const fromAt = floor.get("meta", "airFromAt") as InstantMs;
  const pieces = rowsAfter.flatMap((after) => (after.table === "piece" ? [after.row] : []));
  const leaving = new Set(pieces.filter(({ archivedAt }) => archivedAt !== undefined).map(({ id }) => id));
  const staying = new Set(pieces.filter(({ id }) => !leaving.has(id)).map(({ id }) => id));
  const hasLeft = (id: string) => leaving.has(id) || !(staying.has(id) || floor.has("piece", id));

  const entries = rowsAfter.flatMap((after): FloorEntry[] => {
    if (!isOnFloor(after.table)) return [];
    if (after.isGone) return [{ part: after.table, key: after.row.id, value: undefined }];
    return [entryOf(after.table, after.row as Row<FloorTable>, hasLeft)];
  });
  if (leaving.size > 0) entries.push(...goingWith(floor, leaving));
  const isNew = new Set(rowsAfter.flatMap((after) => (after.table === "piece" && after.isNew ? [after.row.id] : [])));
  const returning = [...staying].filter((id) => !isNew.has(id) && !floor.has("piece", id));
  for (const table of returning.length > 0 ? tablesOfPieces : []) {
    entries.push(...(await rowEntries(tx, table, { shopId, pieceId: { in: returning } })));
  }
  const readings = rowsAfter.flatMap((after) => (after.table === "reading" ? [after.row] : []));
  entries.push(...(await airChanges(tx, floor, { shopId, readings, fromAt })));

  const touched = touchedPieces(rowsAfter, fromAt);
  const live = [...floor.keys("piece"), ...staying].filter((id) => !leaving.has(id));
  const toWeigh = touched === "all" ? live : live.filter((id) => touched.has(id) || returning.includes(id));
  if (toWeigh.length > 0) entries.push(...(await weighed(tx, floor, { shopId, pieceIds: toWeigh, fromAt, now })));

  const zone = rowsAfter.flatMap((after) => (after.table === "shop" ? [after.row.zone] : []))[0];
  if (zone) entries.push({ part: "meta", key: "zone", value: zone });
  return [...entries, { part: "meta", key: "seq", value: seq }];
}

/** Moves the window of air on, and weighs the films anew that it leaves behind. Nothing where it is still the same. */
export async function windowMoved(
  tx: Transaction,
  floor: FloorDocument,
  { shopId, now }: { shopId: string; now: InstantMs },
): Promise<FloorEntry[]> {
  const fromAt = airFrom(now);
  const entries: FloorEntry[] = [{ part: "meta", key: "airFromAt", value: fromAt }];
  const air: FloorEntry[] = [];
  for (const roomId of floor.keys("room")) air.push(...(await airOfRoom(tx, { shopId, roomId, fromAt })));
  entries.push(...over(floor, "air", air), ...air);
  entries.push(...(await weighed(tx, floor, { shopId, pieceIds: floor.keys("piece"), fromAt, now })));
  return entries;
}

export const isWindowOver = (floor: FloorDocument, now: InstantMs): boolean =>
  floor.get("meta", "airFromAt") !== airFrom(now);

/** What is there now of a part and is not among these entries: to be taken away. */
function over(
  floor: FloorDocument,
  part: "air" | "checkpoint",
  wanted: readonly FloorEntry[],
  isMeant = (_: string) => true,
) {
  const kept = new Set(wanted.map(({ key }) => key));
  const gone = floor.keys(part).filter((key) => isMeant(key) && !kept.has(key));
  return gone.map((key): FloorEntry => ({ part, key, value: undefined }));
}

/** Everything that rests on pieces that leave. */
function goingWith(floor: FloorDocument, leaving: ReadonlySet<string>): FloorEntry[] {
  const gone: FloorEntry[] = [];
  for (const table of tablesOfPieces) {
    for (const row of floor.rows(table)) {
      if (row.pieceId === undefined || !leaving.has(row.pieceId)) continue;
      gone.push({ part: table, key: row.id, value: undefined });
      if (table === "coat") gone.push({ part: "checkpoint", key: row.id, value: undefined });
    }
  }
  return gone;
}

async function airChanges(
  tx: Transaction,
  floor: FloorDocument,
  { shopId, readings, fromAt }: { shopId: string; readings: readonly Reading[]; fromAt: InstantMs },
): Promise<FloorEntry[]> {
  const roomsBefore = new Set(readings.filter(({ at }) => at < fromAt).map(({ roomId }) => roomId));
  const days = new Map(
    readings
      .filter(({ at, roomId }) => at >= fromAt && !roomsBefore.has(roomId))
      .map(({ roomId, at }) => [`${roomId} ${Math.floor(at / dayMs)}`, { roomId, at }]),
  );
  const entries: FloorEntry[] = [];
  for (const { roomId, at } of days.values()) entries.push(await airOfDay(tx, { shopId, roomId, at }));
  for (const roomId of roomsBefore) {
    const air = await airOfRoom(tx, { shopId, roomId, fromAt });
    entries.push(...over(floor, "air", air, (key) => key.startsWith(`${roomId}:`)), ...air);
  }
  return entries;
}

/** Pieces whose films may have earned something else before the window than was written down. */
function touchedPieces(rowsAfter: readonly RowAfter[], fromAt: InstantMs): "all" | Set<string> {
  const touched = new Set<string>();
  for (const { table, row, isNew } of rowsAfter) {
    if (table === "coat" || table === "roomStay") touched.add(row.pieceId);
    // the line across the start of the window ends at the first reading after it, a longest gap away at most
    else if (table === "reading" && (row.spanFromAt ?? row.at) < fromAt + dayMs) return "all";
    else if ((table === "room" || table === "sheet") && !isNew) return "all";
  }
  return touched;
}

async function weighed(
  tx: Transaction,
  floor: FloorDocument,
  of: { shopId: string; pieceIds: readonly string[]; fromAt: InstantMs; now: InstantMs },
): Promise<FloorEntry[]> {
  const pieceIds = new Set(of.pieceIds);
  const checkpoints = await checkpointsOf(tx, of);
  const isMeant = (coatId: string) => {
    const coat = floor.get("coat", coatId) as Row<"coat"> | undefined;
    return !coat || pieceIds.has(coat.pieceId);
  };
  return [...over(floor, "checkpoint", checkpoints, isMeant), ...checkpoints];
}
