/** Where each member's pass on this device rests: beside the queue, and like it not touched by signing out. */
import { type DBSchema, openDB } from "idb";
import type { InstantMs } from "~/core/units";
import type { QueueOwner } from "./intent-queue";
import { newSecret } from "./secret";

/** One thing that the shop took after the end of the membership. */
export type Delivered = { intentId: string; kind: string; madeAt: InstantMs };

export type Ended = {
  endedAt: InstantMs;
  /** Until when this device may deliver. */
  untilAt: InstantMs;
  isOver: boolean;
  delivered: readonly Delivered[];
};

export type Pass = { owner: string; secret: string; ended?: Ended };

interface PassSchema extends DBSchema {
  pass: { key: string; value: Pass };
}

const open = () =>
  openDB<PassSchema>("tackfree-pass", 1, {
    upgrade: (database) => {
      database.createObjectStore("pass", { keyPath: "owner" });
    },
  });

async function using<Value>(work: (database: Awaited<ReturnType<typeof open>>) => Promise<Value>): Promise<Value> {
  const database = await open();
  try {
    return await work(database);
  } finally {
    database.close();
  }
}

/** The secret goes with the device's id: under another id the server would take nothing. */
const keyOf = ({ shopId, memberId, deviceId }: QueueOwner): string => `${shopId}:${memberId}:${deviceId}`;

export const passOf = (owner: QueueOwner): Promise<Pass | undefined> =>
  using((database) => database.get("pass", keyOf(owner)));

/** The pass of this member here, made at the first asking; two tabs get the same. */
export const passMade = (owner: QueueOwner): Promise<Pass> =>
  using(async (database) => {
    const transaction = database.transaction("pass", "readwrite", { durability: "strict" });
    const made: Pass = (await transaction.store.get(keyOf(owner))) ?? { owner: keyOf(owner), secret: newSecret() };
    await Promise.all([transaction.store.put(made), transaction.done]);
    return made;
  });

/** Keeps what the shop has said and taken, so that the person still reads it after the page was loaded again. */
export const keepEnded = (
  owner: QueueOwner,
  said: Omit<Ended, "delivered">,
  more: readonly Delivered[],
): Promise<Pass> =>
  using(async (database) => {
    const transaction = database.transaction("pass", "readwrite", { durability: "strict" });
    const pass = await transaction.store.get(keyOf(owner));
    if (!pass) throw new Error("a pass is used that was never made");
    const before = pass.ended?.delivered ?? [];
    const known = new Set(before.map(({ intentId }) => intentId));
    const delivered = [...before, ...more.filter(({ intentId }) => !known.has(intentId))];
    const after: Pass = { ...pass, ended: { ...said, delivered } };
    await Promise.all([transaction.store.put(after), transaction.done]);
    return after;
  });
