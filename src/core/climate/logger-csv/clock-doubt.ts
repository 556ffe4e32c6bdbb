/**
 * Whether a logger's clock stood wrong by whole hours: set to another zone, to the wrong half of the day, never put forward
 * in spring. A doubt is a question to a person, never a correction.
 */
import { hourMs, type InstantMs, minuteMs } from "../../units";
import { warmestHourOf } from "./day-wave";
import type { LoggerReading, LoggerReadings } from "./read";

type Moment = Pick<LoggerReading, "at" | "airCelsius">;

/** `shiftMin` is to be added to every time of the file: positive for a clock that was behind. */
export type ClockDoubt = { shiftMin: number } & (
  | { why: "agrees-shifted"; hoursCompared: number; scatterCelsius: number; scatterShiftedCelsius: number }
  | { why: "still-to-come"; rows: number; lastAt: InstantMs }
  | { why: "warm-at-night"; warmestHour: number }
);

/** A day either way holds every zone, and the date that was set a day off. */
const furthestHours = 24;
/** Fewer hours can agree by chance at one of 49 shifts. Choice of this product. */
const leastHoursCompared = 12;
/** Loggers mostly write every 1 to 60 minutes; between rows further apart nothing is assumed. Common practice. */
const longestBetweenRowsMs = 2 * hourMs;
/**
 * Two honest thermometers in a room differ by a constant and, each good to 0.5 °C (common practice), scatter about it by
 * no more than √2 of that.
 */
const honestScatterCelsius = 0.7;
/** Clearly better: with less than half the scatter. Choice of this product. */
const clearlyBetter = 0.5;
/** A day's wave fits again a day on, nearly as well: within this share of the scatter, the smaller shift is likelier. */
const aboutAsGood = 0.1;
/** A clock may run ahead by a rounding; the door bears as much. */
const roundingMs = 2 * minuteMs;
/** Rooms are mostly warmest between these hours, heated or by the sun. Source: common practice. */
const [warmFromHour, warmToHour] = [6, 21];
/** Of what makes a night of a day, the wrong half of it is the likeliest. Source: common practice. */
const halfDayHours = 12;

/** One of each hour: a logger of another make must not outvote the thermometer on the wall by its number of rows. */
const oneAnHour = (moments: readonly Moment[]): Moment[] => {
  const byHour = new Map<number, Moment>();
  for (const moment of moments) {
    const hour = Math.floor(moment.at / hourMs);
    if (!byHour.has(hour)) byHour.set(hour, moment);
  }
  return [...byHour.values()];
};

/** By how much two series differ about their mean difference when one is shifted; and in how many moments they meet. */
const scatterAt = (rows: readonly Moment[], others: readonly Moment[], shiftMs: number) => {
  const differences: number[] = [];
  let next = 0;
  for (const other of others) {
    const at = other.at - shiftMs;
    while (next < rows.length && (rows[next] as Moment).at < at) next += 1;
    const [before, after] = [rows[next - 1], rows[next]];
    if (after?.at === at) differences.push(after.airCelsius - other.airCelsius);
    else if (before && after && after.at - before.at <= longestBetweenRowsMs) {
      const share = (at - before.at) / (after.at - before.at);
      differences.push(before.airCelsius + share * (after.airCelsius - before.airCelsius) - other.airCelsius);
    }
  }
  const count = differences.length;
  const mean = differences.reduce((sum, value) => sum + value, 0) / count;
  const celsius = Math.sqrt(differences.reduce((sum, value) => sum + (value - mean) ** 2, 0) / count);
  return { shiftHours: shiftMs / hourMs, count, celsius };
};

type Scatter = ReturnType<typeof scatterAt>;

/** How well the file agrees with the others at every shift that leaves enough to compare. */
const scatters = (rows: readonly Moment[], others: readonly Moment[], latestAt: InstantMs): Scatter[] => {
  const lastAt = (rows.at(-1) as Moment).at;
  const [firstOther, lastOther] = [others[0], others.at(-1)];
  if (!firstOther || !lastOther) return [];
  const reachMs = furthestHours * hourMs + longestBetweenRowsMs;
  // of a year's file most rows meet nothing at any shift
  const near = rows.filter(({ at }) => at >= firstOther.at - reachMs && at <= lastOther.at + reachMs);
  const hours = Array.from({ length: 2 * furthestHours + 1 }, (_, index) => index - furthestHours);
  return hours
    .filter((shift) => shift === 0 || lastAt + shift * hourMs <= latestAt)
    .map((shift) => scatterAt(near, others, shift * hourMs))
    .filter(({ count }) => count >= leastHoursCompared);
};

const betterShift = (found: readonly Scatter[], asItStands: Scatter): Scatter | undefined => {
  if (asItStands.celsius <= honestScatterCelsius) return undefined;
  const best = found.reduce((one, other) => (other.celsius < one.celsius ? other : one));
  if (best.celsius > clearlyBetter * asItStands.celsius) return undefined;
  const dayOff = found.find(
    ({ shiftHours }) =>
      Math.abs(shiftHours - best.shiftHours) === 24 && Math.abs(shiftHours) < Math.abs(best.shiftHours),
  );
  // at no shift it would be no doubt, and that was looked at above
  if (!dayOff || dayOff.shiftHours === 0) return best;
  return dayOff.celsius <= best.celsius + aboutAsGood * asItStands.celsius ? dayOff : best;
};

/**
 * What speaks against the times of a logger's file. By the same room's other readings of the same days it is doubted only
 * where those agree clearly better at another whole hour; without such readings, where rows lie in what is still to come
 * or the days are warmest at night.
 *
 * @param rows in order of time, as read from the file
 * @param known the room's readings that the shop has, in order of time; of any source
 */
export function clockDoubt(
  rows: readonly LoggerReading[],
  known: readonly Moment[],
  zone: string,
  now: InstantMs,
): ClockDoubt | undefined {
  const last = rows.at(-1);
  if (!last) return undefined;
  const latestAt = now + roundingMs;
  // what was taken in from this file before is no second witness
  const celsiusByAt = new Map(rows.map((row) => [row.at, row.airCelsius]));
  const others = oneAnHour(known.filter(({ at, airCelsius }) => celsiusByAt.get(at) !== airCelsius));
  const found = scatters(rows, others, latestAt);
  const asItStands = found.find(({ shiftHours }) => shiftHours === 0);
  const better = asItStands && betterShift(found, asItStands);
  if (asItStands && better) {
    return {
      why: "agrees-shifted",
      shiftMin: better.shiftHours * 60,
      hoursCompared: better.count,
      scatterCelsius: asItStands.celsius,
      scatterShiftedCelsius: better.celsius,
    };
  }
  if (last.at > latestAt) {
    const shiftMin = -60 * Math.ceil((last.at - latestAt) / hourMs);
    return { why: "still-to-come", shiftMin, rows: rows.filter(({ at }) => at > latestAt).length, lastAt: last.at };
  }
  if (asItStands) return undefined;
  const warmestHour = warmestHourOf(oneAnHour(rows), zone);
  if (warmestHour === undefined || (warmestHour >= warmFromHour && warmestHour < warmToHour)) return undefined;
  const isOn = last.at + halfDayHours * hourMs <= latestAt;
  return { why: "warm-at-night", warmestHour, shiftMin: (isOn ? halfDayHours : -halfDayHours) * 60 };
}

/** The readings with their clock set right; rows that would still lie in what is to come are left out and counted. */
export function withClockSet(readings: LoggerReadings, shiftMin: number, now: InstantMs) {
  const all = readings.rows.map((row) => ({ ...row, at: row.at + shiftMin * minuteMs }));
  const rows = all.filter(({ at }) => at <= now + roundingMs);
  const [first, last] = [rows[0], rows.at(-1)];
  return {
    readings: { ...readings, rows, fromAt: first?.at ?? readings.fromAt, toAt: last?.at ?? readings.toAt },
    rowsToCome: all.length - rows.length,
  };
}
