/**
 * A forecast that somebody stored for a room: whole hours counted from 1970 in UTC, each with its own air. An hour that it
 * leaves out is left to the pattern of the days before.
 */
import { hourMs, type InstantMs } from "../units";

/** The air of a coming hour: the lowest and dampest that it may get, and what it will likely be. */
export type HourAhead = {
  lowCelsius: number;
  likelyCelsius: number;
  likelyHumidityPercent: number;
  highHumidityPercent: number;
};

export type ForecastHour = HourAhead & { fromAt: InstantMs };

/** A stored forecast: what `roomAir` needs of its row. */
export type StoredForecast = { setAt: InstantMs; hours: readonly ForecastHour[] };

/** The stored hour that holds an instant, by halving; hours are in order and start on whole hours. */
export const storedHourAt = (hours: readonly ForecastHour[] | undefined, at: InstantMs): ForecastHour | undefined => {
  if (!hours) return undefined;
  let [low, high] = [0, hours.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((hours[middle] as ForecastHour).fromAt <= at) low = middle + 1;
    else high = middle;
  }
  const found = hours[low - 1];
  return found && at < found.fromAt + hourMs ? found : undefined;
};
