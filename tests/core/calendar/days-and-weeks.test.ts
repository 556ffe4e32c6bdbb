import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  addDays,
  dayEndAt,
  dayStartAt,
  isoWeekday,
  isoWeekLabel,
  isShopDay,
  isZone,
  shopDayAt,
  weekContaining,
  weekFrom,
} from "~/core/calendar";
import { hourMs } from "~/core/units";

const newYork = "America/New_York";

// Source: ISO 8601 as reprinted at liquisearch.com/iso_week_date and docslib.org/doc/11249519, which give the first four
// of them; the rest by the rule that week 01 holds the year's first Thursday, each weekday from a printed calendar.
test.each([
  { day: "1995-01-21", weekday: 6, label: "1995-W03" },
  { day: "2006-12-31", weekday: 7, label: "2006-W52" },
  { day: "2012-12-31", weekday: 1, label: "2013-W01" },
  { day: "2015-12-31", weekday: 4, label: "2015-W53" },
  { day: "1996-12-30", weekday: 1, label: "1997-W01" },
  { day: "2005-01-01", weekday: 6, label: "2004-W53" },
  { day: "2008-12-29", weekday: 1, label: "2009-W01" },
  { day: "2010-01-03", weekday: 7, label: "2009-W53" },
  { day: "2014-12-29", weekday: 1, label: "2015-W01" },
  { day: "2016-01-03", weekday: 7, label: "2015-W53" },
  { day: "2020-12-31", weekday: 4, label: "2020-W53" },
  { day: "2021-01-03", weekday: 7, label: "2020-W53" },
  { day: "2022-12-31", weekday: 6, label: "2022-W52" },
  { day: "2024-12-30", weekday: 1, label: "2025-W01" },
  { day: "2026-12-31", weekday: 4, label: "2026-W53" },
  { day: "2027-01-01", weekday: 5, label: "2026-W53" },
])("$day is weekday $weekday of $label (ISO 8601)", ({ day, weekday, label }) => {
  expect(isoWeekday(day)).toBe(weekday);
  expect(isoWeekLabel(day)).toBe(label);
});

// Source: IANA time zone data. US: second Sunday of March, first of November, 02:00. EU: last Sundays of March and
// October, 01:00 UTC. Lord Howe moves by half an hour. India does not move.
test.each([
  { zone: newYork, startsOn: "2026-10-26", hours: 169 },
  { zone: newYork, startsOn: "2026-03-02", hours: 167 },
  { zone: newYork, startsOn: "2026-11-02", hours: 168 },
  { zone: "Europe/Berlin", startsOn: "2026-10-19", hours: 169 },
  { zone: "Europe/Berlin", startsOn: "2026-03-23", hours: 167 },
  { zone: "Australia/Lord_Howe", startsOn: "2026-03-30", hours: 168.5 },
  { zone: "Asia/Kolkata", startsOn: "2026-10-26", hours: 168 },
])("the week from $startsOn has $hours hours in $zone", ({ zone, startsOn, hours }) => {
  expect(weekFrom(startsOn, zone).hours).toBe(hours);
});

describe("weeks", () => {
  test("the demo week runs from Monday 04:00Z to Monday 05:00Z and is 2026-W44", () => {
    expect(weekContaining(Date.parse("2026-10-29T12:00Z"), newYork, 1)).toEqual({
      startsOn: "2026-10-26",
      fromAt: Date.parse("2026-10-26T04:00Z"),
      toAt: Date.parse("2026-11-02T05:00Z"),
      hours: 169,
      label: "2026-W44",
    });
  });

  test("a shop whose week starts on Saturday gets that week, without an ISO name", () => {
    const week = weekContaining(Date.parse("2026-10-29T12:00Z"), newYork, 6);
    expect(week.startsOn).toBe("2026-10-24");
    expect(week.label).toBeUndefined();
  });

  test("every moment lies in the week that contains it, and weeks leave no gap", () => {
    fc.assert(
      fc.property(anyInstant, anyZone, fc.integer({ min: 1, max: 7 }), (at, zone, weekStartsOn) => {
        const week = weekContaining(at, zone, weekStartsOn);
        expect(week.fromAt <= at && at < week.toAt).toBe(true);
        expect(isoWeekday(week.startsOn)).toBe(weekStartsOn);
        expect(weekContaining(week.toAt, zone, weekStartsOn).fromAt).toBe(week.toAt);
      }),
    );
  });

  test("the hours of a week are the hours of its seven days", () => {
    fc.assert(
      fc.property(anyInstant, anyZone, (at, zone) => {
        const week = weekContaining(at, zone, 1);
        const days = [0, 1, 2, 3, 4, 5, 6].map((day) => addDays(week.startsOn, day));
        const hours = days.map((day) => (dayEndAt(day, zone) - dayStartAt(day, zone)) / hourMs);
        expect(hours.reduce((sum, dayHours) => sum + dayHours, 0)).toBe(week.hours);
      }),
    );
  });
});

describe("days", () => {
  test("a day begins at midnight of the shop, not of UTC", () => {
    expect(shopDayAt(Date.parse("2026-11-01T03:59:59Z"), newYork)).toBe("2026-10-31");
    expect(shopDayAt(Date.parse("2026-11-01T04:00:00Z"), newYork)).toBe("2026-11-01");
  });

  // Source: IANA data, Chile: first Sunday on or after 2 September, 04:00 UTC, which is midnight there.
  test("a day whose midnight is skipped starts at one o'clock and has 23 hours", () => {
    expect(dayStartAt("2026-09-06", "America/Santiago")).toBe(Date.parse("2026-09-06T04:00Z"));
    expect(dayEndAt("2026-09-06", "America/Santiago")).toBe(Date.parse("2026-09-07T03:00Z"));
  });

  test("a day holds its first moment and its last, and not the next", () => {
    fc.assert(
      fc.property(anyInstant, anyZone, (at, zone) => {
        const day = shopDayAt(at, zone);
        expect(shopDayAt(dayStartAt(day, zone), zone)).toBe(day);
        expect(shopDayAt(dayEndAt(day, zone) - 1, zone)).toBe(day);
        expect(shopDayAt(dayEndAt(day, zone), zone)).toBe(addDays(day, 1));
      }),
    );
  });

  // Source: Gregorian calendar, leap years divisible by 4, centuries only by 400.
  test.each([
    ["2024-02-29", true],
    ["2026-02-29", false],
    ["2100-02-29", false],
    ["2000-02-29", true],
    ["2026-04-31", false],
    ["2026-13-01", false],
    ["2026-00-10", false],
    ["2026-1-1", false],
    ["", false],
  ])("%s is a date that exists: %s", (text, exists) => {
    expect(isShopDay(text)).toBe(exists);
  });
});

test.each([
  ["America/New_York", true],
  ["Europe/Berlin", true],
  ["UTC", true],
  ["America/Harrow_Bend", false],
  ["+02:00", false],
  ["", false],
])("the zone name %j is known to IANA: %s", (text, isKnown) => {
  expect(isZone(text)).toBe(isKnown);
});

const anyInstant = fc.integer({ min: Date.parse("2000-01-02"), max: Date.parse("2090-01-01") });
const anyZone = fc.constantFrom(
  newYork,
  "Europe/Berlin",
  "Australia/Lord_Howe",
  "America/Santiago",
  "Asia/Kolkata",
  "Pacific/Kiritimati",
);
