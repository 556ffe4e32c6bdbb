/** Text into records of cells, as RFC 4180 has it, and as loggers write it: LF or CR alone, blank lines, stray quotes. */

export const delimiters = ["\t", ";", ","] as const;
export type Delimiter = (typeof delimiters)[number];

/** `line` is the 1-based line of the file on which the record starts. */
export type LoggerRecord = { line: number; cells: string[] };

/** A logger has a dozen columns; a line with more cells than this is something else, and is not stored whole. */
const mostCells = 256;
/** A quote that is not closed within this many characters was never an opening quote. */
const longestQuoted = 1000;

/**
 * Marks that cannot be seen: control characters other than tab and line ends, and those that only steer the text around
 * them (Unicode TR9, TR36), the byte order mark included.
 */
const hidden = /(?![\t\n\r])[\p{Cc}\p{Cf}]/gu;
/** No-break and narrow spaces, which spreadsheets put between thousands and before "PM". */
const spaces = /[\u00A0\u2000-\u200A\u202F\u205F\u3000]/g;

/** The text without what nobody can see. */
export const visibleText = (text: string): string => text.replace(hidden, "").replace(spaces, " ");

/** The records of a text, one by one; blank lines are passed over. */
export function* recordsOf(text: string, delimiter: Delimiter): Generator<LoggerRecord> {
  let line = 1;
  let position = 0;
  while (position < text.length) {
    const startLine = line;
    const cells: string[] = [];
    for (;;) {
      const cell =
        text[position] === '"' ? quotedCell(text, position, delimiter) : plainCell(text, position, delimiter);
      if (cells.length < mostCells) cells.push(cell.value);
      line += cell.linesInside;
      position = cell.end;
      if (text[position] !== delimiter) break;
      position++;
    }
    position += text[position] === "\r" && text[position + 1] === "\n" ? 2 : 1;
    line++;
    if (cells.length > 1 || cells[0]?.trim() !== "") yield { line: startLine, cells };
  }
}

type Cell = { value: string; end: number; linesInside: number };

const [lineFeed, carriageReturn] = [10, 13];
/** A code unit that ends a line; past the end of the text there is none. */
const isLineEnd = (unit: number) => unit === lineFeed || unit === carriageReturn || Number.isNaN(unit);

function plainCell(text: string, start: number, delimiter: Delimiter): Cell {
  const separator = delimiter.charCodeAt(0);
  let end = start;
  for (let unit = text.charCodeAt(end); unit !== separator && !isLineEnd(unit); unit = text.charCodeAt(end)) end++;
  return { value: text.slice(start, end), end, linesInside: 0 };
}

/** A quoted cell may hold delimiters, line ends and doubled quotes. One that never closes properly is read as plain. */
function quotedCell(text: string, start: number, delimiter: Delimiter): Cell {
  const latest = Math.min(text.length, start + longestQuoted);
  for (let at = start + 1; at < latest; at++) {
    if (text[at] !== '"') continue;
    if (text[at + 1] === '"') {
      at++;
      continue;
    }
    if (text[at + 1] !== delimiter && !isLineEnd(text.charCodeAt(at + 1))) break;
    const inside = text.slice(start + 1, at);
    const linesInside = inside.match(/\r\n|\n|\r/g)?.length ?? 0;
    return { value: inside.replaceAll('""', '"'), end: at + 1, linesInside };
  }
  return plainCell(text, start, delimiter);
}

/** Longer than any number or date. */
const longestRead = 64;

/**
 * A cell as it is read: trimmed, and without the quotes of a file that puts spaces before them. One that is too long to
 * be read is cut, and marked so that its beginning is not taken for a number.
 */
export function cellAt({ cells }: LoggerRecord, column: number): string {
  const cell = (cells[column] ?? "").trim();
  if (cell.length > longestRead) return `${cell.slice(0, longestRead - 1)}…`;
  return cell.length > 1 && cell.startsWith('"') && cell.endsWith('"') ? cell.slice(1, -1).trim() : cell;
}

/** The most frequent number of cells among records with more than one, and how many records have it. */
function usualWidth(widths: readonly number[]): { width: number; records: number } {
  const recordsByWidth = new Map<number, number>();
  for (const width of widths) if (width > 1) recordsByWidth.set(width, (recordsByWidth.get(width) ?? 0) + 1);
  let usual = { width: 1, records: 0 };
  for (const [width, records] of recordsByWidth) if (records > usual.records) usual = { width, records };
  return usual;
}

const sampleRecords = 200;

/** The first records of a text. */
export function sampleOf(text: string, delimiter: Delimiter): LoggerRecord[] {
  const sample: LoggerRecord[] = [];
  for (const record of recordsOf(text, delimiter)) if (sample.push(record) >= sampleRecords) break;
  return sample;
}

/**
 * The delimiter under which most lines have the same number of cells. Tab and semicolon go before the comma, because
 * numbers and dates contain commas, but never those.
 */
export function detectDelimiter(text: string): { delimiter: Delimiter; width: number } | undefined {
  const found = delimiters
    .map((delimiter) => {
      const sample = sampleOf(text, delimiter);
      return { delimiter, ...usualWidth(sample.map(({ cells }) => cells.length)) };
    })
    .filter(({ records }) => records > 0);
  const mostRecords = Math.max(...found.map(({ records }) => records));
  return found.find(({ records }) => records >= 0.8 * mostRecords);
}
