/** Where unsent intents rest: a database of its own, which signing out never touches. */
import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import type { Intent } from "~/core/shop/intent";
import type { Refusal } from "~/core/shop/refusal";

type Kept = {
  /** Grows with every intent kept on this device: the order in which they were made. */
  place: number;
  /** Shop and member. */
  owner: string;
  intent: Intent;
  /** The clock was not measured when it was made; the next contact settles it. */
  expectedOffsetMs?: number;
};
export type WaitingIntent = Kept & { state: "waiting" };
/** Kept until the person has read why. */
export type RefusedIntent = Kept & { state: "refused"; refusal: Refusal };
export type KeptIntent = WaitingIntent | RefusedIntent;

type Unplaced<Each> = Each extends unknown ? Omit<Each, "place"> : never;

interface QueueSchema extends DBSchema {
  kept: { key: number; value: KeptIntent; indexes: { byOwner: string } };
  /** The last number given to an intent, per shop, member and device. */
  lastDeviceSeq: { key: string; value: number };
}
type Connection = IDBPDatabase<QueueSchema>;

export const queueDatabaseName = "tackfree-queue";

/** Browsers drop connections under memory pressure and after sleep, and say so only at the next use. */
const isConnectionLost = (error: unknown): boolean =>
  error instanceof DOMException && ["InvalidStateError", "UnknownError", "AbortError"].includes(error.name);

export class QueueDatabase {
  private connection: Promise<Connection> | undefined;

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
    }).catch((error: unknown) => {
      this.connection = undefined;
      throw error;
    });
    return this.connection;
  }
}

const openQueue = (onLost: () => void): Promise<Connection> =>
  openDB<QueueSchema>(queueDatabaseName, 1, {
    upgrade(database) {
      database.createObjectStore("kept", { keyPath: "place", autoIncrement: true }).createIndex("byOwner", "owner");
      database.createObjectStore("lastDeviceSeq");
    },
    blocking(_version, _blocked, event) {
      (event.target as IDBDatabase).close();
      onLost();
    },
    terminated: onLost,
  });

/** Resolves when the disk has it: `complete`, not merely the success of the request. */
export async function keep(
  connection: Connection,
  deviceKey: string,
  make: (deviceSeq: number) => Unplaced<WaitingIntent>,
): Promise<void> {
  const transaction = connection.transaction(["kept", "lastDeviceSeq"], "readwrite", { durability: "strict" });
  const numbers = transaction.objectStore("lastDeviceSeq");
  const writing = (async () => {
    const deviceSeq = ((await numbers.get(deviceKey)) ?? 0) + 1;
    // the key is given by the store, so the row has none yet
    await Promise.all([
      transaction.objectStore("kept").add(make(deviceSeq) as WaitingIntent),
      numbers.put(deviceSeq, deviceKey),
    ]);
  })();
  await Promise.all([writing, transaction.done]);
}

/** Writes several changes in one transaction. */
export async function rewrite(
  connection: Connection,
  changes: { put?: KeptIntent[]; remove?: number[]; lastDeviceSeq?: { key: string; value: number } },
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
