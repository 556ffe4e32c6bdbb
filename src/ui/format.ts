/** Instants, durations and quantities in words, in the shop's zone. Rounds once, here, and nowhere else. */
import { dayMs, hourMs, type InstantMs, minuteMs } from "~/core/units";

const formatters = new Map<string, Intl.DateTimeFormat>();
const partsOf = (at: InstantMs, zone: string, options: Intl.DateTimeFormatOptions): Record<string, string> => {
  const key = `${zone} ${JSON.stringify(options)}`;
  const formatter =
    formatters.get(key) ?? new Intl.DateTimeFormat("en-GB", { timeZone: zone, hourCycle: "h23", ...options });
  formatters.set(key, formatter);
  return Object.fromEntries(formatter.formatToParts(at).map((part) => [part.type, part.value]));
};

export const clockTime = (at: InstantMs, zone: string): string => {
  const { hour, minute } = partsOf(at, zone, { hour: "2-digit", minute: "2-digit" });
  return `${hour}:${minute}`;
};

const dayKey = (at: InstantMs, zone: string): string => {
  const { year, month, day } = partsOf(at, zone, { year: "numeric", month: "2-digit", day: "2-digit" });
  return `${year}-${month}-${day}`;
};

export const isSameDay = (one: InstantMs, other: InstantMs, zone: string): boolean =>
  dayKey(one, zone) === dayKey(other, zone);

/** "Wed 28 Oct" */
export const dayName = (at: InstantMs, zone: string): string => {
  const { weekday, day, month } = partsOf(at, zone, { weekday: "short", day: "numeric", month: "short" });
  return `${weekday} ${day} ${month}`;
};

/** The letters of the zone, where the same clock time comes twice that night. */
const zoneLetters = (at: InstantMs, zone: string): string => {
  const name = partsOf(at, zone, { timeZoneName: "short", hour: "2-digit" }).timeZoneName ?? "";
  const isAmbiguous =
    clockTime(at, zone) === clockTime(at - hourMs, zone) || clockTime(at, zone) === clockTime(at + hourMs, zone);
  return isAmbiguous ? ` ${name}` : "";
};

/** "17:05" today, "Fri 05:15" within a week, "Fri 6 Nov 04:20" beyond. */
export function moment(at: InstantMs, now: InstantMs, zone: string): string {
  const time = `${clockTime(at, zone)}${zoneLetters(at, zone)}`;
  if (isSameDay(at, now, zone)) return time;
  const { weekday } = partsOf(at, zone, { weekday: "short" });
  return Math.abs(at - now) < 6.5 * dayMs ? `${weekday} ${time}` : `${dayName(at, zone)} ${time}`;
}

/** "6 h 30", "45 min" */
export function duration(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  const hours = Math.floor(minutes / 60);
  if (hours === 0) return `${minutes} min`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${String(minutes % 60).padStart(2, "0")}`;
}

/** Hours of a ledger, always in the same form: "3:05". */
export const hoursAndMinutes = (minutes: number): string =>
  `${Math.floor(minutes / 60)}:${String(Math.round(minutes) % 60).padStart(2, "0")}`;

/** "40.8 h" of cure earned. */
export const curedHours = (minutes: number): string => `${(minutes / 60).toFixed(1)} h`;

export const celsius = (value: number): string => `${Number.isInteger(value) ? value : value.toFixed(1)} °C`;
export const humidity = (value: number): string => `${Math.round(value)} %`;

/** "3.1 m²" */
export const squareMetres = (squareDecimetres: number): string => `${(squareDecimetres / 100).toFixed(1)} m²`;

/** How far off, for a wait: "in 6 h 30"; exact times are shown beside it. */
export const untilWords = (at: InstantMs, now: InstantMs): string => duration(Math.max(0, at - now) / 1000);

export const minutesAgo = (at: InstantMs, now: InstantMs): number => Math.floor((now - at) / minuteMs);
