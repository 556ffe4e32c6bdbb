/**
 * A table of seconds shown in whole minutes so that everything on the page adds up: the cells to their row and to their
 * column, and both to the total; and no row, column or cell is shown a minute or more off what it is. Rounding each cell by
 * itself does neither.
 *
 * The parts past the whole minutes form a table whose margins can be filled up to whole minutes by a row and a column of
 * slack. While a cell is not whole, there is a ring of such cells, alternately along rows and columns, since none can
 * stand alone in its row or column; moving seconds around that ring keeps every margin and makes one cell more whole.
 * Source: controlled rounding (B. D. Causey, L. H. Cox, L. R. Ernst 1985, "Applications of transportation theory to
 * statistical problems"), from memory.
 */

const minute = 60;

type Place = { row: number; column: number };

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
const upToMinute = (seconds: number): number => (minute - (seconds % minute)) % minute;

/**
 * @param seconds whole numbers, 0 or more; rows of one length
 * @returns minutes in the same places; half a minute in the total goes up
 */
export function agreeingMinutes(seconds: readonly (readonly number[])[]): number[][] {
  const past = seconds.map((row) => row.map((cell) => cell % minute));
  const columnSums = (past[0] ?? []).map((_, column) => sum(past.map((row) => row[column] as number)));
  const corner = sum(columnSums) % minute;
  const table = [...past.map((row) => [...row, upToMinute(sum(row))]), [...columnSums.map(upToMinute), corner]];
  for (let open = nextOpen(table); open; open = nextOpen(table)) shift(table, open);
  return seconds.map((cells, row) =>
    cells.map((cell, column) => Math.floor(cell / minute) + (table[row]?.[column] as number) / minute),
  );
}

const at = (table: readonly number[][], { row, column }: Place): number => table[row]?.[column] as number;
const isOpen = (table: readonly number[][], place: Place): boolean => at(table, place) % minute !== 0;

/** The corner first, because it says which way the total goes; then whatever is nearest to a whole minute. */
function nextOpen(table: readonly number[][]): Place | undefined {
  const corner = { row: table.length - 1, column: (table[0] as number[]).length - 1 };
  if (isOpen(table, corner)) return corner;
  const places = table.flatMap((cells, row) => cells.map((_, column) => ({ row, column })));
  const open = places.filter((place) => isOpen(table, place));
  const distance = (place: Place) => Math.abs(at(table, place) - minute / 2);
  return open.reduce<Place | undefined>(
    (best, place) => (best && distance(best) >= distance(place) ? best : place),
    undefined,
  );
}

/** Moves as much as the ring through this place allows, towards the minute that is nearer to it. */
function shift(table: number[][], start: Place): void {
  const ring = [start, ...wayAround(table, start)];
  const isUp = at(table, start) >= minute / 2;
  const gains = (index: number) => (index % 2 === 0) === isUp;
  const room = ring.map((place, index) => (gains(index) ? minute - at(table, place) : at(table, place)));
  const moved = Math.min(...room);
  ring.forEach((place, index) => {
    (table[place.row] as number[])[place.column] = at(table, place) + (gains(index) ? moved : -moved);
  });
}

/** The places of a ring after its start, alternately in one row and in one column, back to the start's column. */
function wayAround(table: readonly number[][], start: Place): Place[] {
  const rows = [...table.keys()];
  const columns = [...(table[0] as number[]).keys()];
  const seen = new Set([start.row]);
  const walk = (row: number): Place[] | undefined => {
    for (const column of columns) {
      const along = { row, column };
      if ((row === start.row && column === start.column) || !isOpen(table, along)) continue;
      if (column === start.column) return [along];
      for (const next of rows) {
        if (seen.has(next) || !isOpen(table, { row: next, column })) continue;
        seen.add(next);
        const rest = walk(next);
        if (rest) return [along, { row: next, column }, ...rest];
      }
    }
    return undefined;
  };
  const found = walk(start.row);
  if (!found) throw new Error(`no ring through row ${start.row}, column ${start.column}: the margins were not whole`);
  return found;
}
