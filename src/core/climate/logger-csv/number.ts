/** Numbers as loggers and spreadsheets write them: with a decimal point or comma, groups of thousands, a unit behind. */

export type DecimalMark = "point" | "comma";

const numberShape = /^[+\-\u2212]?\d[\d.,' ]*(?:\s*(?:°|º|deg)?\s*[CF]|\s*%\s*(?:RH|RF|HR|rF)?)?$/i;

/** Does a cell look like a number at all, in whichever style? */
export const isNumberCell = (cell: string): boolean => numberShape.test(cell);

/**
 * What a cell tells about its decimal mark: of two kinds the last one, a single one is the mark itself. Elsewhere 1.000
 * may be a thousand; no air is a thousand degrees or per cent, so here it is one.
 */
export function decimalEvidence(cell: string): DecimalMark | undefined {
  const lastPoint = cell.lastIndexOf(".");
  const lastComma = cell.lastIndexOf(",");
  if (lastPoint < 0 && lastComma < 0) return undefined;
  const last: DecimalMark = lastPoint > lastComma ? "point" : "comma";
  const isRepeated = last === "point" ? cell.indexOf(".") !== lastPoint : cell.indexOf(",") !== lastComma;
  // a mark that comes twice groups thousands
  if (isRepeated) return last === "point" ? "comma" : "point";
  return last;
}

/**
 * The number in a cell under a decimal mark; the other mark groups thousands. Nothing when the cell does not fit it.
 *
 * @example readNumber("1.234,50", "comma") // 1234.5
 */
export function readNumber(cell: string, decimal: DecimalMark): number | undefined {
  if (!numberShape.test(cell)) return undefined;
  const digits = cell
    .replace(/[^\d.,'+\-\u2212 ]/g, "")
    .trim()
    .replace("\u2212", "-");
  const [whole = "", fraction, more] = digits.split(decimal === "point" ? "." : ",");
  if (more !== undefined || (fraction !== undefined && !/^\d*$/.test(fraction))) return undefined;
  const isGrouped = /[.,' ]/.test(whole);
  if (isGrouped && !/^[+-]?\d{1,3}(?:[.,' ]\d{3})+$/.test(whole)) return undefined;
  return Number(`${whole.replace(/[.,' ]/g, "")}.${fraction || "0"}`);
}
