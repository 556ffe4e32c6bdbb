/** Rows that a key finds the same, together, in the order in which the first of each came. */
export function alike<Row>(rows: readonly Row[], keyOf: (row: Row) => unknown): Row[][] {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const key = JSON.stringify(keyOf(row));
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups.values()];
}
