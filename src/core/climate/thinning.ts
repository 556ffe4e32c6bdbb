import type { Reading } from "../shop/tables";
import { dayMs, type InstantMs, minuteMs } from "../units";

/** Readings closer together than this say little more about a film. Common practice of loggers: 5 to 10 minutes. */
export const thinningMs = 10 * minuteMs;

/** Colder first, then damper, then by id: every device picks the same of two readings of one instant. */
const isColder = (one: Reading, other: Reading) =>
  one.airCelsius !== other.airCelsius
    ? one.airCelsius < other.airCelsius
    : one.humidityPercent !== other.humidityPercent
      ? one.humidityPercent > other.humidityPercent
      : one.id < other.id;

/** One reading per instant: the coldest source is believed, and a surface measured by any of them is kept. */
const onePerInstant = (sorted: readonly Reading[]) => {
  const kept: Reading[] = [];
  for (const reading of sorted) {
    const last = kept[kept.length - 1];
    if (last?.at !== reading.at) {
      kept.push(reading);
      continue;
    }
    const colder = isColder(reading, last) ? reading : last;
    const surfaces = [reading.surfaceCelsius, last.surfaceCelsius].filter((found) => found !== undefined);
    kept[kept.length - 1] = surfaces.length === 0 ? colder : { ...colder, surfaceCelsius: Math.min(...surfaces) };
  }
  return kept;
};

/** Of the readings of one ten minutes: the first, the last, both ends of the coldest, and every measured surface. */
const keptOfTenMinutes = (readings: readonly Reading[]) => {
  const coldest = readings.reduce((low, reading) => Math.min(low, reading.airCelsius), Number.POSITIVE_INFINITY);
  const firstColdest = readings.findIndex((reading) => reading.airCelsius === coldest);
  const lastColdest = readings.findLastIndex((reading) => reading.airCelsius === coldest);
  return readings.filter(
    (reading, index) =>
      index === 0 ||
      index === readings.length - 1 ||
      index === firstColdest ||
      index === lastColdest ||
      reading.surfaceCelsius !== undefined,
  );
};

/**
 * What the history of a room is made of, on the server and on every device: its readings in order, without the
 * retracted ones, thinned so that a step keeps its place and cold is never lost. Thinning twice changes nothing.
 * Readings five minutes apart or more all stay.
 *
 * @param readings of one room, in any order
 */
export const thinReadings = (readings: readonly Reading[]): Reading[] => {
  const live = readings.filter((reading) => reading.retractedAt === undefined).sort((one, other) => one.at - other.at);
  const spans = live.filter((reading) => reading.spanFromAt !== undefined);
  const points = onePerInstant(live.filter((reading) => reading.spanFromAt === undefined));
  const kept: Reading[] = [];
  let start = 0;
  while (start < points.length) {
    const tenMinutes = Math.floor((points[start] as Reading).at / thinningMs);
    let end = start + 1;
    while (end < points.length && Math.floor((points[end] as Reading).at / thinningMs) === tenMinutes) end += 1;
    if (end - start > 2) kept.push(...keptOfTenMinutes(points.slice(start, end)));
    else for (let index = start; index < end; index += 1) kept.push(points[index] as Reading);
    start = end;
  }
  return spans.length === 0 ? kept : [...kept, ...spans].sort((one, other) => one.at - other.at);
};

/** How far back from the last reading the coming hours are guessed; see `forecast.ts`. */
export const forecastBackMs = 7 * dayMs;

/**
 * The readings that a device must carry so that it answers like the server for a film with a checkpoint at `sinceAt`: the
 * thinned ones since then, the last one before, from which the line to the first of them starts, and of a room that has
 * not been read lately the seven days from which its coming hours are guessed.
 *
 * @param readings of one room, in any order
 */
export const readingsSince = (readings: readonly Reading[], sinceAt: InstantMs): Reading[] => {
  const thinned = thinReadings(readings);
  const last = thinned.at(-1);
  if (!last) return [];
  const fromAt = Math.min(sinceAt, last.at - forecastBackMs);
  const before = thinned.findLast((reading) => reading.at <= fromAt && reading.spanFromAt === undefined);
  return thinned.filter((reading) => reading.at >= fromAt || reading === before);
};
