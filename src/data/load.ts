import type { Facts, Need } from "~/core/shop/facts";
import type { Row, TableName } from "~/core/shop/tables";
import { announceLongWork, type Transaction } from "./db";
import type { LoadedFacts } from "./loaded-facts";
import { pastFrom } from "./past";
import { findRows, rowOf } from "./rows";

/** An intent asks again when it has seen what it asked for; more rounds than this would be a circle. */
const mostRounds = 12;

/** Where rows come from: what was written in this turn is stored before the database is asked. */
export type Source = { tx: Transaction; shopId: string; store(): Promise<void> };

/** Loads what is needed until nothing new is asked for. */
export async function loadUntilEnough(
  source: Source,
  facts: LoadedFacts,
  needs: (facts: Facts) => Need[],
): Promise<void> {
  for (let round = 0; round < mostRounds; round += 1) {
    const missing = needs(facts.memory).filter((need) => !facts.carries(need));
    if (missing.length === 0) return;
    await source.store();
    await loadNeeds(source.tx, source.shopId, merged(missing), facts);
  }
  throw new Error("an intent never has enough to read");
}

/** Each need once; of the same history the one that reaches back furthest. */
export function merged(needs: readonly Need[]): Need[] {
  const byWhat = new Map<string, Need>();
  for (const need of needs) {
    const { fromAt, ...what } = { fromAt: 0, ...need };
    const key = JSON.stringify(what);
    const known = byWhat.get(key);
    const isFurther = known && "fromAt" in known && known.fromAt <= fromAt;
    if (!known || ("fromAt" in known && !isFurther)) byWhat.set(key, need);
  }
  return [...byWhat.values()];
}

/** Loads needs, in one question; those of one table by id or by one field together. */
export async function loadNeeds(
  tx: Transaction,
  shopId: string,
  needs: readonly Need[],
  facts: LoadedFacts,
): Promise<void> {
  for (const { table, row, createdSeq } of await select(tx, shopId, selectionsOf(needs)))
    facts.put(table, row, createdSeq);
  for (const need of needs) {
    if ("readingsOf" in need) await loadLastReadingBefore(tx, shopId, need, facts);
    if ("pastFrom" in need) for (const entry of await pastFrom(tx, shopId, need.pastFrom)) facts.noteRuling(entry);
    facts.remember(need);
  }
}

/** Can it be asked for together with other things? */
export const isPlain = (need: Need): boolean =>
  !("pastFrom" in need || "readingsOf" in need || ("table" in need && need.table === "reading"));

/** Rows of a table that a condition in SQL holds for; `?` stands for its values, each with the type of its column. */
export type Selection = { table: TableName; condition: string; values: unknown[] };

export function selectionsOf(needs: readonly Need[]): Selection[] {
  const valuesByLookUp = new Map<string, { table: TableName; field: string; values: Set<string> }>();
  const selections: Selection[] = [];
  for (const need of needs) {
    if ("pastFrom" in need) continue;
    if ("running" in need) {
      selections.push({ table: "entry", condition: `"endedAt" IS NULL AND "struckAt" IS NULL`, values: [] });
    } else if ("readingsOf" in need) {
      const condition = `"roomId" = ?::uuid AND "at" >= ?::bigint`;
      selections.push({ table: "reading", condition, values: [need.readingsOf, need.fromAt] });
    } else if ("entriesOf" in need) {
      const condition = `"memberId" = ?::uuid AND ("endedAt" IS NULL OR "endedAt" >= ?::bigint)`;
      selections.push({ table: "entry", condition, values: [need.entriesOf, need.fromAt] });
    } else if ("all" in need) selections.push({ table: need.table, condition: "true", values: [] });
    else {
      const [field, value] = "id" in need ? ["id", need.id] : [need.field, need.value];
      const key = `${need.table} ${field}`;
      const lookUp = valuesByLookUp.get(key) ?? { table: need.table, field, values: new Set() };
      lookUp.values.add(value);
      valuesByLookUp.set(key, lookUp);
    }
  }
  for (const { table, field, values } of valuesByLookUp.values()) {
    selections.push({ table, condition: `"${field}" = ANY(?::${typeOf(field)}[])`, values: [[...values]] });
  }
  return selections;
}

/** The column's own type, or its index would lie idle. */
const typeOf = (field: string): string =>
  field === "id" || field.endsWith("Id") ? "uuid" : field.endsWith("Sha256") ? "bpchar" : "text";

export type Found = { table: TableName; row: Row<TableName>; createdSeq: number };

/** More than this may take seconds to judge. */
const quicklyJudgedRows = 10_000;

/** @param values `$1` is the shop; what the selections ask by is put behind them */
export const questionsOf = (selections: readonly Selection[], values: unknown[]): string[] =>
  selections.map(({ table, condition, values: own }, index) => {
    const filled = own.reduce<string>((sql, value) => sql.replace("?", `$${values.push(value)}`), condition);
    const where = `"shopId" = $1::uuid AND (${filled})`;
    return `SELECT ${index} AS "part", "createdSeq", to_jsonb(found) AS "row" FROM "${table}" AS found WHERE ${where}`;
  });

/** All selections in one question, because each costs the way to the database and back. */
async function select(tx: Transaction, shopId: string, selections: readonly Selection[]): Promise<Found[]> {
  if (selections.length === 0) return [];
  const values: unknown[] = [shopId];
  const sql = questionsOf(selections, values).join(" UNION ALL ");
  // the readings of one import may be a year's
  if (selections.some(({ table, condition }) => table === "reading" && condition.includes("importId"))) {
    await announceLongWork(tx);
  }
  const rows = await tx.$queryRawUnsafe<{ part: number; createdSeq: number; row: Record<string, unknown> }[]>(
    sql,
    ...values,
  );
  if (rows.length > quicklyJudgedRows) await announceLongWork(tx);
  return foundOf(selections, rows);
}

/** In the order in which they were asked for and made. */
export const foundOf = (
  selections: readonly Selection[],
  rows: readonly { part: number; createdSeq: number; row: Record<string, unknown> }[],
): Found[] =>
  rows
    .map(({ part, createdSeq, row }) => {
      const { table } = selections[part] as Selection;
      return { part, table, row: rowOf(table, row), createdSeq };
    })
    .sort((a, b) => a.part - b.part || a.createdSeq - b.createdSeq || (a.row.id < b.row.id ? -1 : 1));

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
