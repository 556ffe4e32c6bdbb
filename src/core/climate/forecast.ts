/**
 * What a room will be like: hour by hour as somebody stored it, and beyond as it was at the same hour of the last seven
 * days. Hours are counted from 1970 in UTC, so that a change of the shop's clocks shifts nothing: a day here is always 24
 * hours.
 */
import { dayMs, hourMs, type InstantMs } from "../units";
import { type HourAhead, storedHourAt } from "./forecast-hours";
import { airAt, type RoomAir } from "./history";
import { forecastBackMs } from "./thinning";

const hoursOfDay = 24;
const daysBack = forecastBackMs / dayMs;
/** One bad night is not every night, once there are this many days to say so. Choice of this product. */
const daysToForgiveOne = 4;

/** One value for each hour of the day, 0 to 23 in UTC. */
export type RoomForecast = {
  lowCelsius: readonly number[];
  likelyCelsius: readonly number[];
  likelyHumidityPercent: readonly number[];
  highHumidityPercent: readonly number[];
  /** On how many hours of the last seven days it rests, of 168. */
  hoursKnown: number;
};

type Hour = { lowCelsius: number; meanCelsius: number; highHumidityPercent: number; meanHumidityPercent: number };

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

const median = (values: readonly number[]) => {
  const sorted = [...values].sort((one, other) => one - other);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? (sorted[middle] as number) : mean(sorted.slice(middle - 1, middle + 1));
};

/** The second lowest of enough values, else the lowest. */
const lowOf = (values: readonly number[]) =>
  [...values].sort((one, other) => one - other)[values.length >= daysToForgiveOne ? 1 : 0] as number;

/** The hours of the last seven days of which something is known, by their count since 1970. */
const knownHours = (air: RoomAir, lastHour: number): Map<number, Hour> => {
  const readingsByHour = new Map<number, { celsius: number; humidityPercent: number }[]>();
  for (let index = air.readings.length - 1; index >= 0; index -= 1) {
    const reading = air.readings[index] as RoomAir["readings"][number];
    const hour = Math.floor(reading.at / hourMs);
    if (hour <= lastHour - daysBack * hoursOfDay) break;
    // a span reading tells the lowest since its start, not the air of this hour: the history below has spread it out
    if (reading.spanFromAt !== undefined) continue;
    const found = { celsius: reading.airCelsius, humidityPercent: reading.humidityPercent };
    const before = readingsByHour.get(hour);
    if (before) before.push(found);
    else readingsByHour.set(hour, [found]);
  }
  const hours = new Map<number, Hour>();
  for (let hour = lastHour; hour > lastHour - daysBack * hoursOfDay; hour -= 1) {
    const middle = airAt(air, (hour + 0.5) * hourMs);
    const found = readingsByHour.get(hour) ?? (middle.isKnown ? [middle] : []);
    if (found.length === 0) continue;
    const celsius = found.map((moment) => moment.celsius);
    const humidityPercent = found.map((moment) => moment.humidityPercent);
    hours.set(hour, {
      lowCelsius: Math.min(...celsius),
      meanCelsius: mean(celsius),
      highHumidityPercent: Math.max(...humidityPercent),
      meanHumidityPercent: mean(humidityPercent),
    });
  }
  return hours;
};

const forecastByAir = new WeakMap<RoomAir, RoomForecast>();

/**
 * The coming hours of a room by its own pattern: likely the median of the same hour over the last seven days; low the second lowest (the
 * lowest under four days), high humidity the same the other way round. An hour of day that was never read counts as the
 * coldest and dampest hour known, and likely as the room usually is, though never colder than the low.
 *
 * @returns nothing for a room that was never read
 */
export const roomForecast = (air: RoomAir): RoomForecast | undefined => {
  if (air.endsAt === undefined || !air.last) return undefined;
  const kept = forecastByAir.get(air);
  if (kept) return kept;
  const known = knownHours(air, Math.floor(air.endsAt / hourMs));
  const all = [...known.values()];
  const coldest = Math.min(air.last.celsius, ...all.map((hour) => hour.lowCelsius));
  const dampest = Math.max(air.last.humidityPercent, ...all.map((hour) => hour.highHumidityPercent));
  const sameHours = Array.from({ length: hoursOfDay }, (): Hour[] => []);
  for (const [hour, found] of known) (sameHours[hour % hoursOfDay] as Hour[]).push(found);
  const each = (of: (days: readonly Hour[]) => number, unknown: number) =>
    sameHours.map((days) => (days.length === 0 ? unknown : of(days)));
  const forecast = {
    lowCelsius: each((days) => lowOf(days.map((hour) => hour.lowCelsius)), coldest),
    likelyCelsius: each((days) => median(days.map((hour) => hour.meanCelsius)), Math.max(coldest, air.usualCelsius)),
    likelyHumidityPercent: each(
      (days) => median(days.map((hour) => hour.meanHumidityPercent)),
      Math.min(dampest, air.usualHumidityPercent),
    ),
    highHumidityPercent: each((days) => -lowOf(days.map((hour) => -hour.highHumidityPercent)), dampest),
    hoursKnown: known.size,
  };
  forecastByAir.set(air, forecast);
  return forecast;
};

/**
 * The air of a room in the hour that holds `at`: the stored forecast where it has that hour, else the room's pattern.
 *
 * @param at an instant to come; what was read there counts for nothing here
 * @returns nothing for a room that was never read and has no stored hour there
 */
export const hourAhead = (air: RoomAir, at: InstantMs): HourAhead | undefined => {
  const stored = storedHourAt(air.forecastHours, at);
  if (stored) return stored;
  const pattern = roomForecast(air);
  if (!pattern) return undefined;
  const hourOfDay = Math.floor(at / hourMs) % hoursOfDay;
  return {
    lowCelsius: pattern.lowCelsius[hourOfDay] as number,
    likelyCelsius: pattern.likelyCelsius[hourOfDay] as number,
    likelyHumidityPercent: pattern.likelyHumidityPercent[hourOfDay] as number,
    highHumidityPercent: pattern.highHumidityPercent[hourOfDay] as number,
  };
};

/** When the last stored hour ends: from then on the pattern alone goes on. Nothing where no forecast is stored. */
export const storedUntilAt = (air: RoomAir): InstantMs | undefined => {
  const last = air.forecastHours?.at(-1);
  return last && last.fromAt + hourMs;
};
