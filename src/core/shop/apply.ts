import { derivedId } from "./derived-id";
import type { Change, ShopEvent } from "./event";
import type { Facts } from "./facts";
import type { Row, TableName } from "./tables";

/** A row as it is after an event; one that is gone, as it was. */
export type RowAfter = {
  [Table in TableName]: { table: Table; row: Row<Table>; isNew: boolean; isGone?: true };
}[TableName];

/** Null takes a field away; undefined, which no JSON carries, leaves it as it is. */
const withFields = <R extends object>(row: R, set: Record<string, unknown>): R => {
  const after = { ...row } as Record<string, unknown>;
  for (const [field, value] of Object.entries(set)) {
    if (value === null) delete after[field];
    else if (value !== undefined) after[field] = value;
  }
  return after as R;
};

/**
 * The rows that an event leaves different. Pure: nothing is written; the edge stores them, the shared document takes
 * them, the screens lay them over what they show.
 *
 * @throws when an event changes a row that is not there: the ledger and the rows would have parted
 */
export function apply(facts: Pick<Facts, "get" | "where">, event: ShopEvent): RowAfter[] {
  return event.changes.flatMap((change) => rowsAfter(facts, change));
}

function rowsAfter(facts: Pick<Facts, "get" | "where">, change: Change): RowAfter[] {
  if ("at" in change) {
    return change.at.map((at, ordinal) => ({
      table: "reading",
      isNew: true,
      row: {
        id: derivedId(change.importId, ordinal + 1),
        roomId: change.roomId,
        at,
        airCelsius: (change.airTenths[ordinal] as number) / 10,
        humidityPercent: (change.humidityTenths[ordinal] as number) / 10,
        source: "import",
        importId: change.importId,
      },
    }));
  }
  if ("ofImport" in change) {
    return facts
      .where("reading", "importId", change.ofImport)
      .map((row) => ({ table: "reading", isNew: false, row: withFields(row, change.set) }));
  }
  const isNew = "set" in change && change.isNew === true;
  const before = isNew ? { id: change.id } : facts.get(change.table, change.id);
  if (!before) throw new Error(`event changes ${change.table} ${change.id}, which is not there`);
  const after = "isGone" in change ? { row: before, isGone: true } : { row: withFields(before, change.set) };
  return [{ table: change.table, isNew, ...after } as RowAfter];
}
