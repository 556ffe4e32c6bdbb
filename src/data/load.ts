import type { Facts, Need } from "~/core/shop/facts";
import type { TableName } from "~/core/shop/tables";
import type { Transaction } from "./db";
import type { LoadedFacts } from "./loaded-facts";
import { findRows } from "./rows";

/** An intent asks again when it has seen what it asked for; more rounds than this would be a circle. */
const mostRounds = 12;

/** Loads what is needed until nothing new is asked for. */
export async function loadUntilEnough(
  tx: Transaction,
  shopId: string,
  facts: LoadedFacts,
  needs: (facts: Facts) => Need[],
): Promise<void> {
  for (let round = 0; round < mostRounds; round += 1) {
    const missing = needs(facts.memory).filter((need) => !facts.carries(need));
    if (missing.length === 0) return;
    await loadNeeds(tx, shopId, missing, facts);
  }
  throw new Error("an intent never has enough to read");
}

/** Loads needs, those of one table by id or by one field together. */
export async function loadNeeds(
  tx: Transaction,
  shopId: string,
  needs: readonly Need[],
  facts: LoadedFacts,
): Promise<void> {
  for (const { table, where } of queriesOf(needs)) {
    for (const { row, createdSeq } of await findRows(tx, table, { shopId, ...where }))
      facts.put(table, row, createdSeq);
  }
  for (const need of needs) {
    if ("readingsOf" in need) await loadLastReadingBefore(tx, shopId, need, facts);
    facts.remember(need);
  }
}

type Query = { table: TableName; where: Record<string, unknown> };

function queriesOf(needs: readonly Need[]): Query[] {
  const valuesByLookUp = new Map<string, { table: TableName; field: string; values: Set<string> }>();
  const queries: Query[] = [];
  for (const need of needs) {
    if ("running" in need) queries.push({ table: "entry", where: { endedAt: null, struckAt: null } });
    else if ("readingsOf" in need) {
      queries.push({ table: "reading", where: { roomId: need.readingsOf, at: { gte: need.fromAt } } });
    } else if ("entriesOf" in need) {
      const since = [{ endedAt: null }, { endedAt: { gte: need.fromAt } }];
      queries.push({ table: "entry", where: { memberId: need.entriesOf, OR: since } });
    } else if ("all" in need) queries.push({ table: need.table, where: {} });
    else {
      const [field, value] = "id" in need ? ["id", need.id] : [need.field, need.value];
      const key = `${need.table} ${field}`;
      const lookUp = valuesByLookUp.get(key) ?? { table: need.table, field, values: new Set() };
      lookUp.values.add(value);
      valuesByLookUp.set(key, lookUp);
    }
  }
  const lookUps = [...valuesByLookUp.values()];
  return [
    ...queries,
    ...lookUps.map(({ table, field, values }) => ({ table, where: { [field]: { in: [...values] } } })),
  ];
}

async function loadLastReadingBefore(
  tx: Transaction,
  shopId: string,
  need: Extract<Need, { readingsOf: string }>,
  facts: LoadedFacts,
): Promise<void> {
  const last = await tx.reading.findFirst({
    where: { shopId, roomId: need.readingsOf, at: { lt: need.fromAt }, retractedAt: null },
    orderBy: { at: "desc" },
    select: { at: true },
  });
  if (!last) return;
  // a logger and a hand may have read at the same moment
  const rows = await findRows(tx, "reading", { shopId, roomId: need.readingsOf, at: last.at });
  for (const { row, createdSeq } of rows) facts.put("reading", row, createdSeq);
}
