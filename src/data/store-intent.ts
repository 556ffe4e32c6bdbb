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

/** What is stored with the last of a turn. */
export type TurnsEnd = {
  head: { shopId: string; seq: number; recordedAt: number };
  /** How far the queues of devices have been judged. */
  queues: readonly object[];
  deviceIds: readonly string[];
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

  /**
   * Stores it all, in one statement unless the rows are very many.
   *
   * @param end where nothing comes after it in this turn
   */
  async store(tx: Transaction, end?: TurnsEnd): Promise<void> {
    if (this.isEmpty && !end) return;
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
    if (end) addEnd(statement, end);
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

function addEnd(statement: OneStatement, { head, queues, deviceIds }: TurnsEnd): void {
  statement.add(
    queues,
    (values) => `${insertion("deviceQueue", values)} ON CONFLICT ("shopId", "deviceId", "memberId") DO UPDATE
      SET "lastDeviceSeq" = excluded."lastDeviceSeq", "lastMadeAt" = excluded."lastMadeAt"`,
  );
  const heard = deviceIds.map((id) => ({ shopId: head.shopId, id, lastHeardAt: head.recordedAt }));
  // a device that nobody has signed in is none to be heard of
  statement.addAsFarAsThere(
    heard,
    (values) => `UPDATE "device" AS old SET "lastHeardAt" = new."lastHeardAt"
      FROM json_populate_recordset(NULL::"device", ${values}) AS new
      WHERE old."shopId" = new."shopId" AND old."id" = new."id"`,
  );
  statement.add(
    [head],
    (values) => `${insertion("ledgerHead", values)} ON CONFLICT ("shopId") DO UPDATE
      SET "seq" = excluded."seq", "recordedAt" = excluded."recordedAt"`,
  );
}

/** Several writings as parts of one statement, each of which must write as many rows as it was given. */
class OneStatement {
  private readonly parts: string[] = [];
  private readonly counts: (number | undefined)[] = [];
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

  /** Of these some may not be there to be written. */
  addAsFarAsThere(rows: readonly object[], part: (rows: string) => string): void {
    this.add(rows, part);
    if (rows.length > 0) this.counts[this.counts.length - 1] = undefined;
  }

  async run(tx: Transaction): Promise<void> {
    const counted = this.parts.map((_, index) => `(SELECT count(*)::int FROM part${index}) AS "${index}"`);
    const sql = `WITH ${this.parts.join(", ")} SELECT ${counted.join(", ")}`;
    const [written] = await tx.$queryRawUnsafe<Record<string, number>[]>(sql, ...this.values);
    const short = this.counts.findIndex((count, index) => count !== undefined && written?.[index] !== count);
    if (short >= 0)
      throw new Error(`${written?.[short]} of ${this.counts[short]} rows were written: ${this.parts[short]}`);
  }
}
