/**
 * What sets out for the server, and what can still be kept from it. Each is one transaction of the queue's database: of two
 * tabs, one that sends and one that takes back, the later finds what the earlier has written.
 */
import type { Connection, WaitingIntent } from "./queue-database";

const bothStores = ["kept", "lastDeviceSeq"] as const;

/**
 * Writes down that these set out, as they are given; their numbers are those that the database has by now. Resolves when
 * the disk has it.
 *
 * @returns those that are still in the line
 */
export async function setOut(connection: Connection, rows: readonly WaitingIntent[]): Promise<WaitingIntent[]> {
  const transaction = connection.transaction("kept", "readwrite", { durability: "strict" });
  const writing = Promise.all(
    rows.map(async (row): Promise<WaitingIntent[]> => {
      const found = await transaction.store.get(row.place);
      if (found?.state !== "waiting" || found.intent.intentId !== row.intent.intentId) return [];
      const { deviceSeq } = found.intent;
      const leaving: WaitingIntent = { ...row, intent: { ...row.intent, deviceSeq }, hasTravelled: true };
      await transaction.store.put(leaving);
      return [leaving];
    }),
  );
  const [left] = await Promise.all([writing, transaction.done]);
  return left.flat();
}

export type Withdrawn = { place: number; movedUp: WaitingIntent[] };

/**
 * Takes an intent out of the line that never left this device; those behind it move up by one.
 *
 * @returns nothing where it may have left, or is not there
 */
export async function withdraw(
  connection: Connection,
  { owner, deviceKey, intentId }: { owner: string; deviceKey: string; intentId: string },
): Promise<Withdrawn | undefined> {
  const transaction = connection.transaction(bothStores, "readwrite", { durability: "strict" });
  const kept = transaction.objectStore("kept");
  const working = (async () => {
    const rows = (await kept.index("byOwner").getAll(owner)).filter((row) => row.state === "waiting");
    const row = rows.find(({ intent }) => intent.intentId === intentId);
    if (!row) return undefined;
    const { deviceSeq, deviceId } = row.intent;
    const behind = rows.filter(({ intent }) => intent.deviceSeq > deviceSeq && intent.deviceId === deviceId);
    if ([row, ...behind].some(({ hasTravelled }) => hasTravelled)) return undefined;
    const movedUp = behind.map(
      (later): WaitingIntent => ({ ...later, intent: { ...later.intent, deviceSeq: later.intent.deviceSeq - 1 } }),
    );
    const numbers = transaction.objectStore("lastDeviceSeq");
    const last = (await numbers.get(deviceKey)) ?? deviceSeq;
    await Promise.all([
      kept.delete(row.place),
      ...movedUp.map((later) => kept.put(later)),
      numbers.put(last - 1, deviceKey),
    ]);
    return { place: row.place, movedUp };
  })();
  const [withdrawn] = await Promise.all([working, transaction.done]);
  return withdrawn;
}
