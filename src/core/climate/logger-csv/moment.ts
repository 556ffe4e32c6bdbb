/** Dates and times as loggers write them. */
import { type WallMs, wallDay } from "../../calendar";
import { hourMs, type InstantMs, instantBounds, minuteMs, secondMs } from "../../units";

export type DateOrder = "day-first" | "month-first";

/** An instant where the file says the offset or counts from the epoch, otherwise what the logger's clock showed. */
export type LoggerMoment = { at: InstantMs } | { wall: WallMs };

const clockShape = String.raw`(\d{1,2})[:.h](\d{2})(?:[:.](\d{2})(?:[.,]\d+)?)?(?:\s*([ap])\.?\s?m\.?)?`;
const offsetShape = String.raw`(?:\s*(?:(Z|UTC|GMT)|(?:UTC|GMT)?([+\-\u2212]\d{2}):?(\d{2})?))?`;
const yearFirst = new RegExp(
  String.raw`^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?:[T ,]\s*${clockShape}${offsetShape})?$`,
  "i",
);
const yearLast = new RegExp(
  String.raw`^(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})(?:[T ,]\s*${clockShape}${offsetShape})?$`,
  "i",
);
const clockAlone = new RegExp(`^${clockShape}$`, "i");

/** What kind of time a cell holds. */
export type TimeSort = "moment" | "date" | "clock";

export function timeSortOf(cell: string): TimeSort | undefined {
  if (epochOf(cell) !== undefined) return "moment";
  const parts = yearFirst.exec(cell) ?? yearLast.exec(cell);
  if (parts !== null) return parts[5] === undefined ? "date" : "moment";
  return /[:h]/i.test(cell) && clockAlone.test(cell) ? "clock" : undefined;
}

/** Does the cell say by itself where its clock stood? */
export function hasOffset(cell: string): boolean {
  const parts = yearFirst.exec(cell) ?? yearLast.exec(cell);
  return parts === null ? epochOf(cell) !== undefined : parts[9] !== undefined || parts[10] !== undefined;
}

/** The first two numbers of a date that does not say which is the day. Points are written day first everywhere. */
export function undecidedPair(cell: string): [number, number] | undefined {
  const parts = yearLast.exec(cell);
  return parts === null || parts[2] === "." ? undefined : [Number(parts[1]), Number(parts[3])];
}

/**
 * Reads a date with its time; a date alone is its midnight, because spreadsheets drop the zeros. Two-digit years are of
 * this century.
 *
 * @returns nothing for a cell that is no date, or a date that does not exist
 */
export function readMoment(cell: string, order: DateOrder): LoggerMoment | undefined {
  const epochAt = epochOf(cell);
  if (epochAt !== undefined) return { at: epochAt };
  const first = yearFirst.exec(cell);
  const parts = first ?? yearLast.exec(cell);
  if (parts === null) return undefined;
  const midnight = first
    ? wallDay(Number(parts[1]), Number(parts[3]), Number(parts[4]))
    : yearLastDay(Number(parts[1]), Number(parts[3]), Number(parts[4]), parts[2] === "." ? "day-first" : order);
  const clock = clockMs(parts[5], parts[6], parts[7], parts[8]);
  if (midnight === undefined || clock === undefined) return undefined;
  const wall = midnight + clock;
  if (parts[9] !== undefined) return { at: wall };
  if (parts[10] !== undefined) return { at: wall - offsetMs(parts[10], parts[11]) };
  return { wall };
}

function yearLastDay(first: number, second: number, year: number, order: DateOrder): WallMs | undefined {
  const fullYear = year < 100 ? 2000 + year : year;
  return order === "day-first" ? wallDay(fullYear, second, first) : wallDay(fullYear, first, second);
}

/** Seconds or milliseconds since 1970, when that lands in the years that the shop can write. */
function epochOf(cell: string): InstantMs | undefined {
  if (!/^\d{9,13}(?:\.\d+)?$/.test(cell)) return undefined;
  const number = Number(cell);
  const at = Math.floor(number < 1e11 ? number * secondMs : number);
  return at >= instantBounds.min && at <= instantBounds.max ? at : undefined;
}

/** @returns milliseconds since midnight; 24:00 is the end of the day (ISO 8601) */
function clockMs(hours = "0", minutes = "0", seconds = "0", half?: string): number | undefined {
  const [hour, minute, second] = [Number(hours), Number(minutes), Number(seconds)];
  if (minute > 59 || second > 60 || hour > 24 || (hour === 24 && minute + second > 0)) return undefined;
  if (half !== undefined && (hour < 1 || hour > 12)) return undefined;
  const isAfternoon = half?.toLowerCase() === "p";
  const dayHour = half === undefined ? hour : (hour % 12) + (isAfternoon ? 12 : 0);
  return dayHour * hourMs + minute * minuteMs + second * secondMs;
}

/** @param hours with its sign, "+02" */
function offsetMs(hours: string, minutes = "0"): number {
  const sign = hours.startsWith("+") ? 1 : -1;
  return sign * (Number(hours.slice(1)) * hourMs + Number(minutes) * minuteMs);
}
