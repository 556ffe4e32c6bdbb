import type { RowAfter } from "~/core/shop/apply";
import { tableNames, tables } from "~/core/shop/tables";
import type { Transaction } from "./db";
import { replacement, type Stamp, storedRow, writeRows } from "./rows";

/** Beyond this the rows travel by themselves; a statement has its size. */
const mostRows = 5_000;

export type IntentLeft = {
  after: readonly RowAfter[];
  stamp: Stamp;
  /** Columns by name; absent where nothing happened. */
  entry?: object;
  ruling: object;
};

/**
 * Stores all that an intent leaves behind in one statement: its rows, its entry in the ledger, its ruling. Within a table
 * what changed goes first, so that a claim ends before the next begins; references are looked at when all is written.
 */
export async function storeIntent(tx: Transaction, { after, stamp, entry, ruling }: IntentLeft): Promise<void> {
  const isMuch = after.length > mostRows;
  if (isMuch) await writeRows(tx, after, stamp);
  else for (const { table, row } of after) tables[table].parse(row);
  const statement = new OneStatement();
  for (const table of isMuch ? [] : tableNames) {
    const ofTable = after.filter((found) => found.table === table);
    const stored = (isNew: boolean) =>
      ofTable.filter((found) => found.isNew === isNew).map(({ row }) => storedRow(row, stamp));
    const changed = statement.add(stored(false), (rows) => replacement(table, rows));
    statement.add(stored(true), (rows) => `${insertion(table, rows)}${changed && ` WHERE ${changed}`}`);
  }
  if (entry) statement.add([entry], (rows) => insertion("ledgerEntry", rows));
  statement.add([ruling], (rows) => insertion("ruling", rows));
  await statement.run(tx);
}

const insertion = (table: string, rows: string) =>
  `INSERT INTO "${table}" SELECT * FROM json_populate_recordset(NULL::"${table}", ${rows})`;

/** Several writings as parts of one statement, each of which must write as many rows as it was given. */
class OneStatement {
  private readonly parts: string[] = [];
  private readonly counts: number[] = [];
  private readonly values: string[] = [];

  /** @returns the condition that this part is done; nothing where there is nothing to write */
  add(rows: readonly object[], part: (rows: string) => string): string {
    if (rows.length === 0) return "";
    const name = `part${this.parts.length}`;
    this.values.push(JSON.stringify(rows));
    this.parts.push(`${name} AS (${part(`$${this.values.length}::json`)} RETURNING 1)`);
    this.counts.push(rows.length);
    return `(SELECT count(*) FROM ${name}) = ${rows.length}`;
  }

  async run(tx: Transaction): Promise<void> {
    const counted = this.parts.map((_, index) => `(SELECT count(*)::int FROM part${index}) AS "${index}"`);
    const sql = `WITH ${this.parts.join(", ")} SELECT ${counted.join(", ")}`;
    const [written] = await tx.$queryRawUnsafe<Record<string, number>[]>(sql, ...this.values);
    const short = this.counts.findIndex((count, index) => written?.[index] !== count);
    if (short >= 0)
      throw new Error(`${written?.[short]} of ${this.counts[short]} rows were written: ${this.parts[short]}`);
  }
}
