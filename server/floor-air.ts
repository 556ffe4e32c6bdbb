/** The days of air that the floor carries, thinned, and the last reading before them, from which the first line starts. */
import { thinReadings } from "~/core/climate/history";
import { airDayKey, floorAirDays, packAir } from "~/core/shop/floor";
import type { Reading } from "~/core/shop/tables";
import { dayMs, type InstantMs } from "~/core/units";
import type { Transaction } from "~/data/db";
import { findRows } from "~/data/rows";
import type { FloorEntry } from "./floor-document";

const dayStart = (at: InstantMs): InstantMs => Math.floor(at / dayMs) * dayMs;

/** From when on the floor carries air: whole days of universal time, by which the air is packed. */
export const airFrom = (now: InstantMs): InstantMs => dayStart(now) - (floorAirDays - 1) * dayMs;

export async function readingsBetween(
  tx: Transaction,
  { shopId, roomId, fromAt, toAt }: { shopId: string; roomId: string; fromAt: InstantMs; toAt?: InstantMs },
): Promise<Reading[]> {
  const at = toAt === undefined ? { gte: fromAt } : { gte: fromAt, lt: toAt };
  return (await findRows(tx, "reading", { shopId, roomId, at, retractedAt: null })).map(({ row }) => row);
}

/** The point before the window that a device needs as well, alone on its day. */
async function lastBefore(
  tx: Transaction,
  { shopId, roomId, fromAt }: { shopId: string; roomId: string; fromAt: InstantMs },
): Promise<Reading | undefined> {
  const last = await tx.reading.findFirst({
    where: { shopId, roomId, at: { lt: fromAt }, retractedAt: null, spanFromAt: null },
    orderBy: { at: "desc" },
    select: { at: true },
  });
  if (!last) return undefined;
  const ofDay = await readingsBetween(tx, { shopId, roomId, fromAt: dayStart(Number(last.at)), toAt: fromAt });
  return thinReadings(ofDay).findLast(({ spanFromAt }) => spanFromAt === undefined);
}

/** All that the floor carries of one room's air. Thinning goes by ten minutes, so a day can be thinned by itself. */
export async function airOfRoom(
  tx: Transaction,
  where: { shopId: string; roomId: string; fromAt: InstantMs },
): Promise<FloorEntry[]> {
  const byDay = new Map<string, Reading[]>();
  const before = await lastBefore(tx, where);
  for (const reading of [...(before ? [before] : []), ...thinReadings(await readingsBetween(tx, where))]) {
    const key = airDayKey(where.roomId, reading.at);
    byDay.set(key, [...(byDay.get(key) ?? []), reading]);
  }
  return [...byDay].map(([key, readings]) => ({ part: "air", key, value: packAir(readings) }));
}

/** The day of a room around an instant within the window. */
export async function airOfDay(
  tx: Transaction,
  { shopId, roomId, at }: { shopId: string; roomId: string; at: InstantMs },
): Promise<FloorEntry> {
  const fromAt = dayStart(at);
  const readings = thinReadings(await readingsBetween(tx, { shopId, roomId, fromAt, toAt: fromAt + dayMs }));
  return { part: "air", key: airDayKey(roomId, at), value: readings.length > 0 ? packAir(readings) : undefined };
}
