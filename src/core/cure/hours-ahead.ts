/** What coming hours are worth, summed once: hour by hour as far as a forecast is stored, then a day over and over. */
import { hourAhead, storedUntilAt } from "../climate/forecast";
import type { HourAhead } from "../climate/forecast-hours";
import type { RoomAir } from "../climate/history";
import { hourMs, type InstantMs, minuteMs } from "../units";

const hoursOfDay = 24;

export type HoursAhead = {
  /** The hour, counted from 1970, with which the sums begin. */
  firstHour: number;
  /** Minutes earned from there to the start of each hour, and at last to where the pattern of a day takes over. */
  sums: Float64Array;
  /** Minutes a minute in each hour of the day, in UTC. */
  rateByHour: Float64Array;
  minutesPerDay: number;
  minutesToHour: Float64Array;
};

const hourOf = (at: InstantMs) => Math.floor(at / hourMs);

/**
 * @param air a room that was read
 * @param rateOf what a minute is worth in the air of a coming hour
 */
export const hoursAhead = (air: RoomAir, rateOf: (hour: HourAhead) => number): HoursAhead | undefined => {
  if (air.endsAt === undefined) return undefined;
  const firstHour = hourOf(air.endsAt);
  const patternHour = Math.max(firstHour, Math.ceil((storedUntilAt(air) ?? 0) / hourMs));
  const rateIn = (hour: number) => rateOf(hourAhead(air, hour * hourMs) as HourAhead);
  const sums = new Float64Array(patternHour - firstHour + 1);
  for (let hour = firstHour; hour < patternHour; hour += 1)
    sums[hour - firstHour + 1] = (sums[hour - firstHour] as number) + 60 * rateIn(hour);
  const rateByHour = new Float64Array(hoursOfDay);
  for (let hour = patternHour; hour < patternHour + hoursOfDay; hour += 1) rateByHour[hour % hoursOfDay] = rateIn(hour);
  const minutesToHour = new Float64Array(hoursOfDay + 1);
  for (let hour = 0; hour < hoursOfDay; hour += 1)
    minutesToHour[hour + 1] = (minutesToHour[hour] as number) + 60 * (rateByHour[hour] as number);
  return { firstHour, sums, rateByHour, minutesPerDay: minutesToHour[hoursOfDay] as number, minutesToHour };
};

/** Minutes a minute at an instant to come. */
export const rateAhead = ({ firstHour, sums, rateByHour }: HoursAhead, at: InstantMs) => {
  const hour = hourOf(at);
  const stored = hour - firstHour;
  return stored >= 0 && stored + 1 < sums.length
    ? ((sums[stored + 1] as number) - (sums[stored] as number)) / 60
    : (rateByHour[hour % hoursOfDay] as number);
};

/** Of the pattern: minutes from the start of 1970 on. */
const ofPattern = ({ rateByHour, minutesPerDay, minutesToHour }: HoursAhead, at: InstantMs, fromDay: number) => {
  const hours = at / hourMs - fromDay * hoursOfDay;
  const hour = Math.floor(hours);
  const hourOfDay = hour % hoursOfDay;
  return (
    Math.floor(hour / hoursOfDay) * minutesPerDay +
    (minutesToHour[hourOfDay] as number) +
    (hours - hour) * 60 * (rateByHour[hourOfDay] as number)
  );
};

/** Minutes from the first hour to an instant in or after it. */
const earnedTo = (ahead: HoursAhead, at: InstantMs) => {
  const { firstHour, sums } = ahead;
  const stored = sums.length - 1;
  const hour = hourOf(at) - firstHour;
  if (hour < stored)
    return (sums[hour] as number) + ((at - (firstHour + hour) * hourMs) / minuteMs) * rateAhead(ahead, at);
  const patternAt = (firstHour + stored) * hourMs;
  const fromDay = Math.floor(patternAt / hourMs / hoursOfDay);
  return (sums[stored] as number) + ofPattern(ahead, at, fromDay) - ofPattern(ahead, patternAt, fromDay);
};

/** Minutes earned between two instants, neither before the hour of the last reading; 0 if they are in no order. */
export const earnedAhead = (ahead: HoursAhead, fromAt: InstantMs, toAt: InstantMs) =>
  toAt <= fromAt ? 0 : earnedTo(ahead, toAt) - earnedTo(ahead, fromAt);

/** Within hours of one rate each, from the start of an hour on: when so many minutes are earned. */
const within = (rateAt: (hour: number) => number, fromHour: number, minutes: number) => {
  let missing = minutes;
  for (let hour = fromHour; ; hour += 1) {
    const rate = rateAt(hour);
    // sums and differences of them may differ by their rounding
    if (60 * rate + 1e-9 >= missing) return hour * hourMs + (rate > 0 ? missing / rate : 0) * minuteMs;
    missing -= 60 * rate;
  }
};

/**
 * When so many minutes will be earned from an instant on, not rounded.
 *
 * @param minutes more than 0
 * @returns nothing if the pattern of a day earns nothing
 */
export const reachedAhead = (ahead: HoursAhead, fromAt: InstantMs, minutes: number): number | undefined => {
  const { firstHour, sums, rateByHour, minutesPerDay, minutesToHour } = ahead;
  const stored = sums.length - 1;
  const patternHour = firstHour + stored;
  const storedRate = (hour: number) =>
    ((sums[hour - firstHour + 1] as number) - (sums[hour - firstHour] as number)) / 60;
  // counted from the start of the hour in which it begins
  const target = earnedTo(ahead, fromAt) + minutes;
  if (hourOf(fromAt) < patternHour && (sums[stored] as number) >= target) return within(storedRate, firstHour, target);
  if (minutesPerDay <= 0) return undefined;
  const fromDay = Math.floor(patternHour / hoursOfDay);
  const sinceDay = target - (sums[stored] as number) + (minutesToHour[patternHour % hoursOfDay] as number);
  // what is left of a whole number of days is earned within one day, not at the start of the next
  const days = Math.max(0, Math.ceil(sinceDay / minutesPerDay) - 1);
  const hourOfDay = (hour: number) => rateByHour[hour % hoursOfDay] as number;
  return within(hourOfDay, (fromDay + days) * hoursOfDay, sinceDay - days * minutesPerDay);
};
