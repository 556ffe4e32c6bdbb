import type { RowAfter } from "~/core/shop/apply";
import { tableNames, tables } from "~/core/shop/tables";
import type { Transaction } from "./db";
import { type RowLeft, removeRows, replacement, type Stamp, writeRows } from "./rows";

/** Beyond this the rows travel by themselves; a statement has its size. */
const mostRows = 5_000;
/** So many intents share a statement. */
const mostIntents = 100;

export type IntentLeft = {
  after: readonly RowAfter[];
  stamp: Stamp;
  /** Columns by name; absent where nothing happened. */
  entry?: object;
  ruling: object;
};

/**
 * All that the intents of a turn leave behind: their rows, their entries in the ledger, their rulings. They are stored
 * together, each row once and as it is at the end. Within a table what changed goes first, so that a claim ends before the
 * next begins; references are looked at when all is written. What is gone goes at the end, and with its intent: whatever
 * had referred to it is gone or changed by then.
 */
export class LeftBehind {
  private rows = new Map<string, RowLeft>();
  private gone = new Map<string, RowLeft>();
  private entries: object[] = [];
  private rulings: object[] = [];

  add({ after, stamp, entry, ruling }: IntentLeft): void {
    const { shopId, seq } = stamp;
    for (const { table, row, isNew, isGone } of after) {
      // a rule that makes an impossible row is a bug: it is found before anything is stored
      tables[table].parse(row);
      const key = `${table} ${row.id}`;
      const before = this.rows.get(key);
      const { createdBy, createdSeq } = before?.stored ?? { createdBy: stamp.createdBy, createdSeq: seq };
      const stored = { ...row, shopId, createdBy, createdSeq, changedSeq: seq };
      const left = { table, isNew: isNew || (before?.isNew ?? false), stored };
      if (!isGone) this.rows.set(key, left);
      else {
        this.rows.delete(key);
        if (!left.isNew) this.gone.set(key, left);
      }
    }
    if (entry) this.entries.push(entry);
    this.rulings.push(ruling);
  }

  get isEmpty(): boolean {
    return this.rulings.length === 0;
  }

  get isMuch(): boolean {
    return this.rows.size > mostRows || this.rulings.length >= mostIntents || this.gone.size > 0;
  }

  /** Stores it all, in one statement unless the rows are very many. */
  async store(tx: Transaction): Promise<void> {
    if (this.isEmpty) return;
    const rows = [...this.rows.values()];
    const areMany = rows.length > mostRows;
    if (areMany) await writeRows(tx, rows);
    const statement = new OneStatement();
    for (const table of areMany ? [] : tableNames) {
      const ofTable = rows.filter((found) => found.table === table);
      const stored = (isNew: boolean) => ofTable.filter((found) => found.isNew === isNew).map((found) => found.stored);
      const changed = statement.add(stored(false), (values) => replacement(table, values));
      statement.add(stored(true), (values) => `${insertion(table, values)}${changed && ` WHERE ${changed}`}`);
    }
    statement.add(this.entries, (values) => insertion("ledgerEntry", values));
    statement.add(this.rulings, (values) => insertion("ruling", values));
    await statement.run(tx);
    await removeRows(tx, [...this.gone.values()]);
    this.rows = new Map();
    this.gone = new Map();
    this.entries = [];
    this.rulings = [];
  }
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
