/**
 * Shop days, weeks and wall times: the one place that knows what a time zone does. Durations elsewhere are differences
 * of instants; only what people call "Tuesday" or "half past one" comes through here. Zone rules: IANA time zone data,
 * as the platform carries them.
 */
import { Temporal } from "temporal-polyfill";
import { accept, type Result, refuse } from "./result";
import type { RefusalOf } from "./shop/refusal";
import { dayMs, hourMs, type InstantMs, minuteMs, type ShopDay } from "./units";

/** Is this the name of an IANA time zone? Bare offsets ("+02:00") are not: they know no summer time. */
export function isZone(text: string): boolean {
  if (!/^[A-Za-z]/.test(text)) return false;
  try {
    new Temporal.ZonedDateTime(0n, text);
    return true;
  } catch {
    return false;
  }
}

/** Is this a date that exists, written as in ISO 8601? 2026-02-30 is not. */
export const isShopDay = (text: string): boolean => midnightOf(text) !== undefined;

function midnightOf(text: string): WallMs | undefined {
  const parts = /^(\d{4})-(\d\d)-(\d\d)$/.exec(text);
  return parts === null ? undefined : wallDay(Number(parts[1]), Number(parts[2]), Number(parts[3]));
}

const zonedAt = (at: InstantMs, zone: string) => Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);

/**
 * The day that the shop's calendar shows at an instant.
 *
 * @example shopDayAt(1793505600000, "America/New_York") // "2026-11-01"
 */
export const shopDayAt = (at: InstantMs, zone: string): ShopDay => zonedAt(at, zone).toPlainDate().toString();

/** The first instant of a day; in zones that change at midnight that need not read 00:00. */
export const dayStartAt = (day: ShopDay, zone: string): InstantMs =>
  Temporal.PlainDate.from(day).toZonedDateTime(zone).epochMilliseconds;

/** The first instant that is no longer this day. A day may have 23, 24 or 25 hours. */
export const dayEndAt = (day: ShopDay, zone: string): InstantMs => dayStartAt(addDays(day, 1), zone);

/**
 * The day so many days later, or earlier when negative.
 *
 * @example addDays("2026-10-31", 1) // "2026-11-01"
 */
export const addDays = (day: ShopDay, days: number): ShopDay => Temporal.PlainDate.from(day).add({ days }).toString();

/**
 * 1 Monday to 7 Sunday.
 *
 * @source ISO 8601
 * @example isoWeekday("2026-10-26") // 1
 */
export const isoWeekday = (day: ShopDay): number => Temporal.PlainDate.from(day).dayOfWeek;

/**
 * The name of the Monday-to-Sunday week that holds a day; week 01 holds the year's first Thursday, so the year in the
 * name can differ from the day's.
 *
 * @source ISO 8601
 * @example isoWeekLabel("2026-10-26") // "2026-W44"
 */
export function isoWeekLabel(day: ShopDay): string {
  const { yearOfWeek, weekOfYear } = Temporal.PlainDate.from(day);
  return `${yearOfWeek}-W${String(weekOfYear).padStart(2, "0")}`;
}

export type ShopWeek = {
  startsOn: ShopDay;
  fromAt: InstantMs;
  /** The first instant of the next week. */
  toAt: InstantMs;
  /** 168, or 167 and 169 when the clocks change by an hour. */
  hours: number;
  /** Only for weeks that start on Monday: ISO 8601 has no name for others. */
  label?: string;
};

/** The week that starts on a day. */
export function weekFrom(startsOn: ShopDay, zone: string): ShopWeek {
  const fromAt = dayStartAt(startsOn, zone);
  const toAt = dayStartAt(addDays(startsOn, 7), zone);
  const week = { startsOn, fromAt, toAt, hours: (toAt - fromAt) / hourMs };
  return isoWeekday(startsOn) === 1 ? { ...week, label: isoWeekLabel(startsOn) } : week;
}

/**
 * The week in which an instant lies.
 *
 * @param weekStartsOn ISO 8601 weekday, 1 Monday to 7 Sunday
 */
export function weekContaining(at: InstantMs, zone: string, weekStartsOn: number): ShopWeek {
  const day = shopDayAt(at, zone);
  return weekFrom(addDays(day, -((isoWeekday(day) - weekStartsOn + 7) % 7)), zone);
}

/** A wall time written as if its zone were UTC, in milliseconds: two of them can be compared and subtracted. */
export type WallMs = number;

/** Midnight of a date as a wall time, or nothing when there is no such date. */
export function wallDay(year: number, month: number, dayOfMonth: number): WallMs | undefined {
  if (month < 1 || month > 12 || dayOfMonth < 1) return undefined;
  const midnight = Date.UTC(year, month - 1, dayOfMonth);
  // a day that the month does not have rolls over into the next one
  return midnight < Date.UTC(year, month, 1) && year >= 1000 ? midnight : undefined;
}

export type WallMoment = {
  at: InstantMs;
  /** The clock shows this twice that day (autumn); `at` is the first, `secondAt` the other. */
  secondAt?: InstantMs;
  /** The clock never shows this (spring); `at` is as far past the change as the time was meant to be. */
  isSkipped: boolean;
};

type DayOffsets = { beforeMs: number; afterMs: number; changesAt: InstantMs };

/** No zone is further from UTC than this, with an hour to spare. Source: IANA data, UTC+14 Kiritimati. */
const furthestOffsetMs = 15 * hourMs;

/**
 * Turns many wall times of one zone into instants. The zone is asked once per day, because a logger's file has hundreds
 * of readings a day and asking is slow.
 */
export function wallClock(zone: string): (wall: WallMs) => WallMoment {
  const offsetMsAt = (at: InstantMs) => zonedAt(at, zone).offsetNanoseconds / 1e6;
  const offsetsByDay = new Map<number, DayOffsets>();
  const offsetsOn = (day: number): DayOffsets => {
    const opensAt = day * dayMs - furthestOffsetMs;
    const closesAt = (day + 1) * dayMs + furthestOffsetMs;
    const beforeMs = offsetMsAt(opensAt);
    const afterMs = offsetMsAt(closesAt);
    if (beforeMs === afterMs) return { beforeMs, afterMs, changesAt: closesAt };
    const change = zonedAt(opensAt, zone).getTimeZoneTransition("next");
    return { beforeMs, afterMs, changesAt: change?.epochMilliseconds ?? closesAt };
  };
  return (wall) => {
    const day = Math.floor(wall / dayMs);
    const known = offsetsByDay.get(day) ?? offsetsOn(day);
    offsetsByDay.set(day, known);
    const oldClockAt = wall - known.beforeMs;
    const newClockAt = wall - known.afterMs;
    if (known.beforeMs === known.afterMs) return { at: oldClockAt, isSkipped: false };
    const isOnOldClock = oldClockAt < known.changesAt;
    const isOnNewClock = newClockAt >= known.changesAt;
    if (isOnOldClock && isOnNewClock) return { at: oldClockAt, secondAt: newClockAt, isSkipped: false };
    return { at: isOnNewClock ? newClockAt : oldClockAt, isSkipped: !isOnOldClock && !isOnNewClock };
  };
}

export type TypedMoment = { at: InstantMs; isTwice: boolean; isSkipped: boolean };

/**
 * The instant of a typed wall time. In the repeated hour of autumn the choice decides; in the missing hour of spring it
 * is the instant an hour on, and says so.
 *
 * @param time HH:MM, 00:00 to 23:59
 */
export function wallTimeAt(
  day: ShopDay,
  time: string,
  zone: string,
  choice: "first" | "second" = "first",
): Result<TypedMoment, RefusalOf<"malformed">> {
  const midnight = midnightOf(day);
  if (midnight === undefined) return refuse({ kind: "malformed", field: "day", expected: "YYYY-MM-DD" });
  const parts = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(time);
  if (parts === null) return refuse({ kind: "malformed", field: "time", expected: "HH:MM" });
  const found = wallClock(zone)(midnight + Number(parts[1]) * hourMs + Number(parts[2]) * minuteMs);
  const at = choice === "second" && found.secondAt !== undefined ? found.secondAt : found.at;
  return accept({ at, isTwice: found.secondAt !== undefined, isSkipped: found.isSkipped });
}
