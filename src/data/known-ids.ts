import { type TableName, tableNames } from "~/core/shop/tables";
import type { Transaction } from "./db";

/** The tables of a shop in which these ids are. @param ids what in SQL holds them; `$1` is the shop */
export const whereKnown = (ids: string): string =>
  tableNames
    .map((table) => `SELECT '${table}' AS "table", id FROM "${table}" WHERE "shopId" = $1::uuid AND id = ANY(${ids})`)
    .join(" UNION ALL ");

const everyTable = whereKnown("$2::uuid[]");

export type KnownId = { table: TableName; id: string };

/** Which ids a shop has in which tables, as far as they have been looked for; whatever is made meanwhile is noted here too. */
export class KnownIds {
  private readonly asked = new Set<string>();
  private readonly tablesById = new Map<string, Set<TableName>>();

  constructor(
    private readonly tx: Transaction,
    private readonly shopId: string,
  ) {}

  /** Looks for those that have not been looked for yet, all in one question. */
  async look(ids: readonly string[]): Promise<void> {
    const fresh = this.notLookedFor(ids);
    if (fresh.length === 0) return;
    this.found(fresh, await this.tx.$queryRawUnsafe<KnownId[]>(everyTable, this.shopId, fresh));
  }

  /** Each once. */
  notLookedFor = (ids: readonly string[]): string[] => [...new Set(ids)].filter((id) => !this.asked.has(id));

  /** These have been looked for, and that is where they are. */
  found(ids: readonly string[], known: readonly KnownId[]): void {
    for (const id of ids) this.asked.add(id);
    for (const { table, id } of known) this.note(table, id);
  }

  note(table: TableName, id: string): void {
    const tables = this.tablesById.get(id);
    if (tables) tables.add(table);
    else this.tablesById.set(id, new Set([table]));
  }

  forget(table: TableName, id: string): void {
    this.tablesById.get(id)?.delete(table);
  }

  /** Only of ids that have been looked for. */
  has(id: string, table?: TableName): boolean {
    const tables = this.tablesById.get(id);
    return tables !== undefined && (table === undefined ? tables.size > 0 : tables.has(table));
  }
}

const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-[78][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
/** More ids than any intent names; a body beyond it is a fault, and is not remembered as a maker of things. */
const mostIds = 500;

/** The ids that a body names, however deep. */
export function idsIn(body: unknown): string[] {
  const found = new Set<string>();
  const walk = (value: unknown): void => {
    if (typeof value === "string" && uuid.test(value)) found.add(value);
    else if (value !== null && typeof value === "object") for (const part of Object.values(value)) walk(part);
  };
  walk(body);
  return found.size > mostIds ? [] : [...found];
}
