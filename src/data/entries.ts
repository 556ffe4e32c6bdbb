import type { TimeEntry } from "~/core/shop/tables";
import { database } from "./db";
import { findRows } from "./rows";

export type EntriesWanted = { shopId: string; memberId?: string; fromAt: number; toAt: number };

/** Entries that touch a stretch of time, running ones included, in the order in which they began; struck ones too. */
export async function entriesBetween({ shopId, memberId, fromAt, toAt }: EntriesWanted): Promise<TimeEntry[]> {
  const touching = {
    shopId,
    ...(memberId ? { memberId } : {}),
    startedAt: { lt: toAt },
    OR: [{ endedAt: null }, { endedAt: { gt: fromAt } }],
  };
  const found = await findRows(database(), "entry", touching);
  return found.map(({ row }) => row).sort((a, b) => a.startedAt - b.startedAt);
}
