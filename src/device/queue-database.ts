/** Where unsent intents rest: a database of its own, which signing out never touches. */
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Intent } from "~/core/shop/intent";
import type { Refusal } from "~/core/shop/refusal";
import { secondMs } from "~/core/units";
import { StoreHeld } from "./not-kept";

type Kept = {
  /** Grows with every intent kept on this device: the order in which they were made. */
  place: number;
  /** Shop and member. */
  owner: string;
  intent: Intent;
  /** The clock was not measured when it was made; the next contact settles it. */
  expectedOffsetMs?: number;
  /** It set out for the server at least once, and may have arrived though no answer did. */
  hasTravelled?: true;
};
export type WaitingIntent = Kept & { state: "waiting" };
/** Kept until the person has read why. */
export type RefusedIntent = Kept & { state: "refused"; refusal: Refusal };
export type KeptIntent = WaitingIntent | RefusedIntent;

export type NewIntent = Omit<WaitingIntent, "place">;

interface QueueSchema extends DBSchema {
  kept: { key: number; value: KeptIntent; indexes: { byOwner: string } };
  /** The last number given to an intent, per shop, member and device. */
  lastDeviceSeq: { key: string; value: number };
}
export type Connection = IDBPDatabase<QueueSchema>;

export const queueDatabaseName = "tackfree-queue";

/** Browsers drop connections under memory pressure and after sleep, and say so only at the next use. */
const isConnectionLost = (error: unknown): boolean =>
  error instanceof DOMException && ["InvalidStateError", "UnknownError", "AbortError"].includes(error.name);

export class QueueDatabase {
  private connection: Promise<Connection> | undefined;
  /** The browser closed the database under us: somebody cleared the site's data, or the device runs short. */
  onLost: () => void = () => undefined;

  constructor(private readonly open = openQueue) {}

  /** Reads or writes; opens anew and tries once more when the connection turns out to be gone. */
  async use<Value>(work: (connection: Connection) => Promise<Value>): Promise<Value> {
    try {
      return await work(await this.connected());
    } catch (error) {
      if (!isConnectionLost(error)) throw error;
      this.connection = undefined;
      return work(await this.connected());
    }
  }

  async close(): Promise<void> {
    const connection = await this.connection;
    this.connection = undefined;
    connection?.close();
  }

  private connected(): Promise<Connection> {
    this.connection ??= this.open(() => {
      this.connection = undefined;
      this.onLost();
    }).catch((error: unknown) => {
      this.connection = undefined;
      throw error;
    });
    return this.connection;
  }
}

/** Some browsers never answer when their store is broken. */
const openPatienceMs = 10 * secondMs;

async function openQueue(onLost: () => void): Promise<Connection> {
  let giveUp: (error: unknown) => void = () => undefined;
  const held = new Promise<never>((_, reject) => {
    giveUp = reject;
  });
  const timer = setTimeout(() => giveUp(new StoreHeld("the store does not open")), openPatienceMs);
  let isLate = false;
  const opening = openDB<QueueSchema>(queueDatabaseName, 1, {
    upgrade(database) {
      database.createObjectStore("kept", { keyPath: "place", autoIncrement: true }).createIndex("byOwner", "owner");
      database.createObjectStore("lastDeviceSeq");
    },
    blocked: () => giveUp(new StoreHeld("another tab holds the store")),
    blocking(_version, _blocked, event) {
      (event.target as IDBDatabase).close();
      onLost();
    },
    terminated: onLost,
  });
  // one that opens after all, when nobody waits for it any more, would be in the way of the next
  void opening.then((connection) => isLate && connection.close()).catch(() => undefined);
  try {
    return await Promise.race([opening, held]);
  } catch (error) {
    isLate = true;
    throw error;
  } finally {
    clearTimeout(timer);
  }
}

/**
 * Keeps intents, in this order. Resolves when the disk has them: `complete`, not merely the success of the requests.
 *
 * @param make what is kept, given its number in the device's line
 * @param remove places of what they come instead of
 */
export async function keep(
  connection: Connection,
  deviceKey: string,
  make: readonly ((nextDeviceSeq: number) => NewIntent)[],
  remove: readonly number[] = [],
): Promise<WaitingIntent[]> {
  const transaction = connection.transaction(["kept", "lastDeviceSeq"], "readwrite", { durability: "strict" });
  const numbers = transaction.objectStore("lastDeviceSeq");
  const store = transaction.objectStore("kept");
  const rows: WaitingIntent[] = [];
  const writing = (async () => {
    let last = (await numbers.get(deviceKey)) ?? 0;
    const adding = make.map(async (one) => {
      const row = one(last + 1);
      last = Math.max(last, row.intent.deviceSeq);
      // the key is given by the store, so the row has none yet
      const place = await store.add(row as WaitingIntent);
      rows.push({ ...row, place });
    });
    await Promise.all([...adding, ...remove.map((place) => store.delete(place)), numbers.put(last, deviceKey)]);
  })();
  // all of it or nothing: an abort that comes too late has nothing to abort
  writing.catch(() => transaction.abort()).catch(() => undefined);
  await Promise.all([writing, transaction.done]);
  return rows;
}

/** Writes several changes in one transaction. */
export async function rewrite(
  connection: Connection,
  changes: { put?: readonly KeptIntent[]; remove?: readonly number[]; lastDeviceSeq?: { key: string; value: number } },
): Promise<void> {
  const transaction = connection.transaction(["kept", "lastDeviceSeq"], "readwrite", { durability: "strict" });
  const kept = transaction.objectStore("kept");
  const { put = [], remove = [], lastDeviceSeq } = changes;
  await Promise.all([
    ...put.map((row) => kept.put(row)),
    ...remove.map((place) => kept.delete(place)),
    ...(lastDeviceSeq ? [transaction.objectStore("lastDeviceSeq").put(lastDeviceSeq.value, lastDeviceSeq.key)] : []),
    transaction.done,
  ]);
}
