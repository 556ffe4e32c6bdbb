/**
 * Between an entity and its row. Columns bear the fields' names, so one mapper serves all tables; PostgreSQL itself turns
 * the JSON of an entity into a row (json_populate_recordset), numbers, lists and nested things alike.
 */
import { type Row, type TableName, tableNames, tables } from "~/core/shop/tables";
import type { Transaction } from "./db";
import { Prisma } from "./generated/client";

/** What all tables offer alike; their own types differ only in columns that the mapper goes over by name. */
type AnyTable = {
  findMany(query: {
    where: Record<string, unknown>;
    orderBy?: Record<string, "asc" | "desc">[];
    take?: number;
  }): PromiseLike<Record<string, unknown>[]>;
};

/** A row with the ledger number under which it was made, the order in which facts are given. */
export type StoredRow<Table extends TableName> = { row: Row<Table>; createdSeq: number };

const fieldsOf = (table: TableName): string[] => Object.keys(tables[table].shape);

const plain = (value: unknown): unknown =>
  typeof value === "bigint" || Prisma.Decimal.isDecimal(value) ? Number(value) : value;

/** The entity that a stored row holds: a column without a value is a field that is absent. */
export function rowOf<Table extends TableName>(table: Table, stored: Record<string, unknown>): Row<Table> {
  const present = fieldsOf(table).filter((field) => stored[field] !== null && stored[field] !== undefined);
  return Object.fromEntries(present.map((field) => [field, plain(stored[field])])) as Row<Table>;
}

/** Rows of one table of a shop, in the order in which they were made. */
export async function findRows<Table extends TableName>(
  tx: Transaction,
  table: Table,
  where: Record<string, unknown> & { shopId: string },
): Promise<StoredRow<Table>[]> {
  const found = await (tx[table] as unknown as AnyTable).findMany({
    where,
    orderBy: [{ createdSeq: "asc" }, { id: "asc" }],
  });
  return found.map((stored) => ({ row: rowOf(table, stored), createdSeq: stored.createdSeq as number }));
}

export type Stamp = { shopId: string; createdBy: string | null; seq: number };

/** A row as it is to be stored: the entity with the columns that every table has. */
export type RowLeft = {
  table: TableName;
  isNew: boolean;
  stored: { id: string; shopId: string; createdBy: string | null; createdSeq: number; changedSeq: number };
};

const insertion = (table: TableName) =>
  `INSERT INTO "${table}" SELECT * FROM json_populate_recordset(NULL::"${table}", $1::json)`;

/** @param rows what in SQL holds the rows as JSON */
export const replacement = (table: TableName, rows = "$1::json") => {
  const columns = [...fieldsOf(table).filter((field) => field !== "id"), "changedSeq"];
  return `UPDATE "${table}" AS old SET ${columns.map((column) => `"${column}" = new."${column}"`).join(", ")}
    FROM json_populate_recordset(NULL::"${table}", ${rows}) AS new
    WHERE old."shopId" = new."shopId" AND old."id" = new."id"`;
};

/** One statement carries this many; more would make a parameter of tens of megabytes. */
const rowsPerStatement = 20_000;

async function write(tx: Transaction, sql: string, rows: object[]): Promise<void> {
  for (let from = 0; from < rows.length; from += rowsPerStatement) {
    const part = rows.slice(from, from + rowsPerStatement);
    const written = await tx.$executeRawUnsafe(sql, JSON.stringify(part));
    if (written !== part.length) throw new Error(`${written} of ${part.length} rows were written: ${sql.slice(0, 40)}`);
  }
}

/** Stores rows. Within a table what changed goes first, so that a claim ends before the next begins. */
export async function writeRows(tx: Transaction, rows: readonly RowLeft[]): Promise<void> {
  for (const table of tableNames) {
    const ofTable = rows.filter((found) => found.table === table);
    const stored = (isNew: boolean) => ofTable.filter((found) => found.isNew === isNew).map((found) => found.stored);
    await write(tx, replacement(table), stored(false));
    await write(tx, insertion(table), stored(true));
  }
}

/** Takes rows away; those that refer to others go first. */
export async function removeRows(tx: Transaction, rows: readonly RowLeft[]): Promise<void> {
  for (const table of [...tableNames].reverse()) {
    const ofTable = rows.filter((found) => found.table === table).map(({ stored }) => stored);
    if (ofTable.length > 0) await write(tx, removal(table), ofTable);
  }
}

const removal = (table: TableName) =>
  `DELETE FROM "${table}" AS old USING json_populate_recordset(NULL::"${table}", $1::json) AS gone
    WHERE old."shopId" = gone."shopId" AND old."id" = gone."id"`;
