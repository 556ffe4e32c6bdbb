/** What may be stored as a forecast: whole hours to come, in order, with numbers that a room can have. */
import { bounds, hourMs, type InstantMs, instantBounds, type QuantityName } from "../units";
import type { ForecastHour } from "./forecast-hours";

/** Ten days: further, a forecast says less than the pattern of the week. */
export const farthestHours = 240;

export type HourFault = {
  /** Counted from 1. */
  row: number;
  fromAt: number;
  why:
    | "no-whole-hour"
    | "out-of-order"
    | "twice"
    | "over-already"
    | "too-far-ahead"
    | "cannot-be"
    | "finer-than-a-tenth"
    | "low-above-likely"
    | "high-below-likely";
  found?: number;
  min?: number;
  max?: number;
  unit?: string;
};

export type ForecastNotFit = { kind: "forecast-not-fit"; roomId: string; hours: HourFault[] };

const quantities = [
  ["lowCelsius", "airCelsius"],
  ["likelyCelsius", "airCelsius"],
  ["likelyHumidityPercent", "humidityPercent"],
  ["highHumidityPercent", "humidityPercent"],
] as const satisfies readonly (readonly [keyof ForecastHour, QuantityName])[];

const numberFault = (hour: ForecastHour): Pick<HourFault, "why" | "found" | "min" | "max" | "unit"> | undefined => {
  for (const [field, quantity] of quantities) {
    const found = hour[field];
    const { min, max, unit } = bounds[quantity];
    if (!(found >= min && found <= max)) return { why: "cannot-be", found, min, max, unit };
    if (Math.round(found * 10) / 10 !== found) return { why: "finer-than-a-tenth", found, unit };
  }
  if (hour.lowCelsius > hour.likelyCelsius)
    return { why: "low-above-likely", found: hour.lowCelsius, max: hour.likelyCelsius, unit: "°C" };
  if (hour.highHumidityPercent < hour.likelyHumidityPercent)
    return { why: "high-below-likely", found: hour.highHumidityPercent, min: hour.likelyHumidityPercent, unit: "% RH" };
  return undefined;
};

const timeFault = (fromAt: number, previousAt: number | undefined, madeAt: InstantMs): HourFault["why"] | undefined => {
  if (!(fromAt >= instantBounds.min && fromAt <= instantBounds.max) || fromAt % hourMs !== 0) return "no-whole-hour";
  if (fromAt === previousAt) return "twice";
  if (previousAt !== undefined && fromAt < previousAt) return "out-of-order";
  if (fromAt + hourMs <= madeAt) return "over-already";
  return fromAt > madeAt + farthestHours * hourMs ? "too-far-ahead" : undefined;
};

/**
 * The hours that do not fit, each with the first thing that is wrong with it.
 *
 * @param hours as somebody wrote them; they should start on whole hours of UTC
 * @param madeAt when they were written: hours over by then, or more than ten days ahead, are no forecast
 */
export const hourFaults = (hours: readonly ForecastHour[], madeAt: InstantMs): HourFault[] =>
  hours.flatMap((hour, index) => {
    const why = timeFault(hour.fromAt, hours[index - 1]?.fromAt, madeAt);
    const fault = why ? { why } : numberFault(hour);
    return fault ? [{ row: index + 1, fromAt: hour.fromAt, ...fault }] : [];
  });
