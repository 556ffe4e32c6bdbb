export type AnyRow = { id: string } & Record<string, unknown>;

const inOrder = (one: AnyRow, other: AnyRow) => (one.id < other.id ? -1 : 1);

/** Rows of one table that lie over others, by id and by the fields that they were looked up by. */
export class OverlayRows {
  private readonly idsByField = new Map<string, Map<unknown, Set<string>>>();
  /** What the whole table was over what lay beneath, for as long as both are the same. */
  private whole: { under: readonly AnyRow[]; rows: AnyRow[] } | undefined;

  constructor(private readonly byId = new Map<string, AnyRow>()) {}

  /** The same rows, to lay more over them; these stay as they are. */
  copy(): OverlayRows {
    return new OverlayRows(new Map(this.byId));
  }

  get(id: string): AnyRow | undefined {
    return this.byId.get(id);
  }

  put(row: AnyRow): void {
    const before = this.byId.get(row.id);
    this.byId.set(row.id, row);
    this.whole = undefined;
    for (const [field, index] of this.idsByField) {
      if (before) index.get(before[field])?.delete(row.id);
      addTo(index, row[field], row.id);
    }
  }

  rows(): AnyRow[] {
    return [...this.byId.values()];
  }

  /** All rows of the table; the same list as long as no row is another. */
  all(under: AnyRow[]): AnyRow[] {
    if (this.whole?.under !== under) this.whole = { under, rows: this.merged(under, this.rows()) };
    return this.whole.rows;
  }

  /** Rows with this value in a field. @param under those beneath that have it */
  where(under: AnyRow[], field: string, value: string): AnyRow[] {
    const ids = (this.idsByField.get(field) ?? this.indexed(field)).get(value) ?? [];
    return this.merged(
      under,
      [...ids].map((id) => this.byId.get(id) as AnyRow),
    );
  }

  /** Those beneath that have no other row here, and these, by id. */
  merged(under: AnyRow[], fitting: AnyRow[]): AnyRow[] {
    const untouched = under.filter((row) => !this.byId.has(row.id));
    return [...untouched, ...fitting].sort(inOrder);
  }

  private indexed(field: string): Map<unknown, Set<string>> {
    const index = new Map<unknown, Set<string>>();
    for (const row of this.byId.values()) addTo(index, row[field], row.id);
    this.idsByField.set(field, index);
    return index;
  }
}

function addTo(index: Map<unknown, Set<string>>, value: unknown, id: string): void {
  const ids = index.get(value);
  if (ids) ids.add(id);
  else index.set(value, new Set([id]));
}
