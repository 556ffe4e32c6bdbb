/** Where in the file the readings are: the header, the first row of data, and what each column holds. */
import { type Measured, measuredBy, wordsOf } from "./header-words";
import { type TimeSort, timeSortOf } from "./moment";
import { isNumberCell } from "./number";
import { cellAt, type Delimiter, type LoggerRecord } from "./records";

/** How the file is cut up, so that reading it again finds the same rows. */
export type LoggerLayout = { delimiter: Delimiter; firstDataLine: number };

export type LoggerColumn = {
  index: number;
  /** What stands over it, possibly in several lines; empty when nothing does. */
  header: string;
  holds: TimeSort | "number" | "text" | "nothing";
  /** What the header says it measures. */
  measures?: Measured;
  /** The first few cells, to recognise the column by. */
  sample: string[];
};

export type LoggerTable = { firstDataLine: number; columns: LoggerColumn[] };

/** Headers of up to two lines: names, and units below. */
const headerLines = 2;
const samplesShown = 3;

/** A row of data has a time and a number. */
function isDataRow(record: LoggerRecord): boolean {
  const sorts = record.cells.map((_, index) => timeSortOf(cellAt(record, index)));
  const hasTime = sorts.includes("moment") || sorts.includes("date");
  return hasTime && record.cells.some((_, index) => sorts[index] === undefined && isNumberCell(cellAt(record, index)));
}

/**
 * Finds the table in the first records of a file; whatever stands above it (serial numbers, addresses, settings) is
 * passed over.
 *
 * @param width the usual number of cells in a record
 * @returns nothing when no row has a time and a number
 */
export function findTable(sample: readonly LoggerRecord[], width: number): LoggerTable | undefined {
  const first = sample.findIndex((record) => Math.abs(record.cells.length - width) <= 1 && isDataRow(record));
  const firstRecord = sample[first];
  if (firstRecord === undefined) return undefined;
  const above = sample
    .slice(Math.max(0, first - headerLines), first)
    // a header may leave out the delimiter at the end that the rows have, or have one too many
    .filter((record) => Math.abs(record.cells.length - firstRecord.cells.length) <= 1 && !isDataRow(record));
  const rows = sample.slice(first);
  const columns = firstRecord.cells.map((_, index) => columnAt(index, above, rows));
  return { firstDataLine: firstRecord.line, columns };
}

function columnAt(index: number, above: readonly LoggerRecord[], rows: readonly LoggerRecord[]): LoggerColumn {
  const header = above
    .map((record) => cellAt(record, index))
    .filter((cell) => cell !== "")
    .join(" ");
  const cells = rows.map((record) => cellAt(record, index));
  const measures = measuredBy(header);
  const column = { index, header, holds: contentOf(cells, header), sample: cells.slice(0, samplesShown) };
  return measures === undefined ? column : { ...column, measures };
}

/** What most of the cells of a column are. Missing values are no evidence against it. */
function contentOf(cells: readonly string[], header: string): LoggerColumn["holds"] {
  const filled = cells.filter((cell) => cell !== "");
  if (filled.length === 0) return "nothing";
  const counts = new Map<LoggerColumn["holds"], number>();
  for (const cell of filled) {
    const sort = timeSortOf(cell) ?? (isNumberCell(cell) ? "number" : "text");
    counts.set(sort, (counts.get(sort) ?? 0) + 1);
  }
  const [sort, count] = [...counts].reduce((most, next) => (next[1] > most[1] ? next : most));
  if (sort === "number" && isRowNumber(filled, header)) return "text";
  // sensors that drop out write words instead of numbers, often for hours
  return count >= filled.length * (sort === "number" ? 0.2 : 0.6) ? sort : "text";
}

/** 1, 2, 3 …: the logger's own count of its rows. */
function isRowNumber(cells: readonly string[], header: string): boolean {
  const isNamed = /^\s*(?:#|no\.?|nr\.?|n°|№)\s*$/i.test(header) || wordsOf(header)[0] === "id";
  const counts = cells.slice(0, 20).map(Number);
  const isCounting = counts.length > 2 && counts.every((count, index) => count === (counts[0] ?? 0) + index);
  return isNamed || (isCounting && (counts[0] === 0 || counts[0] === 1) && measuredBy(header) === undefined);
}
