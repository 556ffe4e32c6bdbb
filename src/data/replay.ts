import { apply } from "~/core/shop/apply";
import type { ShopEvent } from "~/core/shop/event";
import { MemoryFacts } from "~/core/shop/memory-facts";
import { type TableName, tableNames } from "~/core/shop/tables";
import { canonicalJson } from "./canonical-json";
import { database } from "./db";
import { findRows } from "./rows";

const entriesAtOnce = 500;

/** The state of a shop, made from nothing but its ledger. */
export async function replay(shopId: string): Promise<MemoryFacts> {
  const facts = new MemoryFacts();
  for (let after = 0; ; ) {
    const entries = await database().ledgerEntry.findMany({
      where: { shopId, seq: { gt: after } },
      orderBy: { seq: "asc" },
      take: entriesAtOnce,
    });
    for (const { events } of entries) {
      for (const event of events as unknown as ShopEvent[]) facts.take(apply(facts, event));
    }
    const last = entries.at(-1);
    if (!last) return facts;
    after = last.seq;
  }
}

/** The state of a shop as its rows have it. */
export async function storedRows(shopId: string): Promise<MemoryFacts> {
  const facts = new MemoryFacts();
  for (const table of tableNames) {
    for (const { row } of await findRows(database(), table, { shopId })) facts.put(table, row);
  }
  return facts;
}

export type Difference = { table: TableName; id: string; replayed?: unknown; stored?: unknown };

/** Rows in which two states of a shop differ; none is what must come of comparing the ledger with the rows. */
export function differences(replayed: MemoryFacts, stored: MemoryFacts): Difference[] {
  return tableNames.flatMap((table) => {
    const ids = new Set([...replayed.all(table), ...stored.all(table)].map(({ id }) => id as string));
    return [...ids].flatMap((id) => {
      const pair = { replayed: replayed.get(table, id), stored: stored.get(table, id) };
      return canonicalJson(pair.replayed) === canonicalJson(pair.stored) ? [] : [{ table, id, ...pair }];
    });
  });
}
