import { accepted, alreadySo, type Context, changed, type Ruling, refused } from "./define";
import type { Row, TableName } from "./tables";

/**
 * An edit of one field carries what it was on the device: if somebody changed it meanwhile, the edit is refused with
 * both values, so that nobody's words disappear unseen. A field that already has the new value needs nothing.
 */
export function editField<Table extends TableName>(
  c: Context<{ field: string; was?: unknown; value?: unknown }>,
  table: Table,
  row: Row<Table>,
  event: { kind: string; pieceId?: string },
): Ruling {
  const now = (row as Record<string, unknown>)[c.body.field];
  if (isSame(now, c.body.value)) return alreadySo();
  if (!isSame(now, c.body.was)) {
    return refused({ kind: "changed-meanwhile", field: c.body.field, was: c.body.was, theirs: now });
  }
  const set = { [c.body.field]: c.body.value ?? null } as Parameters<typeof changed<Table>>[2];
  return accepted({ ...event, memberId: c.by.id, changes: [changed(table, (row as { id: string }).id, set)] });
}

const isSame = (a: unknown, b: unknown): boolean =>
  (a ?? null) === (b ?? null) || JSON.stringify(a) === JSON.stringify(b);
