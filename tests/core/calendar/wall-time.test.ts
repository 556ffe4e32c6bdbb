import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type TypedMoment, wallClock, wallTimeAt } from "~/core/calendar";
import { spanSeconds } from "~/core/labour/entry";
import { hourMs } from "~/core/units";

const newYork = "America/New_York";

function typed(day: string, time: string, zone = newYork, choice: "first" | "second" = "first"): TypedMoment {
  const result = wallTimeAt(day, time, zone, choice);
  if (!result.ok) throw new Error(`${day} ${time} was refused`);
  return result.value;
}

// Source: IANA time zone data for 2026: New York changes on 8 March at 07:00Z and on 1 November at 06:00Z.
test.each([
  {
    what: "the first half past one of autumn is still summer time",
    day: "2026-11-01",
    time: "01:30",
    choice: "first",
    at: "2026-11-01T05:30Z",
    isTwice: true,
    isSkipped: false,
  },
  {
    what: "the second half past one is an hour later",
    day: "2026-11-01",
    time: "01:30",
    choice: "second",
    at: "2026-11-01T06:30Z",
    isTwice: true,
    isSkipped: false,
  },
  {
    what: "the last minute before the repetition comes once",
    day: "2026-11-01",
    time: "00:59",
    choice: "second",
    at: "2026-11-01T04:59Z",
    isTwice: false,
    isSkipped: false,
  },
  {
    what: "two o'clock comes once",
    day: "2026-11-01",
    time: "02:00",
    choice: "first",
    at: "2026-11-01T07:00Z",
    isTwice: false,
    isSkipped: false,
  },
  {
    what: "half past two of spring never comes and is read an hour on",
    day: "2026-03-08",
    time: "02:30",
    choice: "first",
    at: "2026-03-08T07:30Z",
    isTwice: false,
    isSkipped: true,
  },
  {
    what: "three o'clock of spring comes",
    day: "2026-03-08",
    time: "03:00",
    choice: "first",
    at: "2026-03-08T07:00Z",
    isTwice: false,
    isSkipped: false,
  },
] as const)("$what ($day $time, $choice)", ({ day, time, choice, at, isTwice, isSkipped }) => {
  expect(typed(day, time, newYork, choice)).toEqual({ at: Date.parse(at), isTwice, isSkipped });
});

// Source: IANA data, Lord Howe 2026: 5 April 02:00 back to 01:30, UTC+11 to UTC+10:30.
test("on Lord Howe Island only half an hour is repeated", () => {
  const zone = "Australia/Lord_Howe";
  expect(typed("2026-04-05", "01:45", zone, "second").at - typed("2026-04-05", "01:45", zone).at).toBe(hourMs / 2);
  expect(typed("2026-04-05", "01:15", zone).isTwice).toBe(false);
});

// Hours by the clock of the wall would be 8.5, 8.5 and 08:00. Elapsed time is between instants.
describe("the night the clock repeats", () => {
  test.each([
    { from: ["2026-10-31", "23:00"], to: ["2026-11-01", "07:30"], hours: 9 },
    { from: ["2026-03-07", "23:00"], to: ["2026-03-08", "07:30"], hours: 7 },
  ] as const)("a night shift from $from to $to with half an hour's rest is $hours h", ({ from, to, hours }) => {
    const span = { startedAt: typed(from[0], from[1]).at, endedAt: typed(to[0], to[1]).at, restMin: 30 };
    expect(spanSeconds(span)).toBe(hours * 3600);
  });

  test("twelve hours after eight in the evening it is seven", () => {
    expect(typed("2026-10-31", "20:00").at + 12 * hourMs).toBe(typed("2026-11-01", "07:00").at);
  });
});

test.each([
  ["2026-02-30", "12:00", "day"],
  ["30.10.2026", "12:00", "day"],
  ["2026-10-30", "24:00", "time"],
  ["2026-10-30", "9:30", "time"],
  ["2026-10-30", "12:60", "time"],
])("%s %s is refused for its %s", (day, time, field) => {
  const result = wallTimeAt(day, time, newYork);
  expect(result.ok === false && result.refusal.kind === "malformed" && result.refusal.field).toBe(field);
});

describe("every wall time", () => {
  const zones = [
    newYork,
    "Europe/Berlin",
    "Australia/Lord_Howe",
    "America/Santiago",
    "Asia/Kolkata",
    "Africa/Casablanca",
  ];
  const clocks = zones.map((zone) => ({ turn: wallClock(zone), shows: clockFaceOf(zone) }));
  const seconds = fc.integer({ min: Date.UTC(2001, 0) / 1000, max: Date.UTC(2036, 0) / 1000 });

  test("shows on its zone's clock at its instant, or later when it is skipped", () => {
    fc.assert(
      fc.property(fc.constantFrom(...clocks), seconds, ({ turn, shows }, second) => {
        const wall = second * 1000;
        const { at, secondAt, isSkipped } = turn(wall);
        if (isSkipped) expect(shows(at)).toBeGreaterThan(wall);
        else expect(shows(at)).toBe(wall);
        if (secondAt !== undefined) expect(shows(secondAt)).toBe(wall);
      }),
      { numRuns: 500 },
    );
  });
});

/** What the platform's own formatter shows: an independent way to the same answer. */
function clockFaceOf(zone: string): (at: number) => number {
  const format = new Intl.DateTimeFormat("en-US", {
    timeZone: zone,
    hourCycle: "h23",
    year: "numeric",
    month: "numeric",
    day: "numeric",
    hour: "numeric",
    minute: "numeric",
    second: "numeric",
  });
  return (at) => {
    const part = new Map(format.formatToParts(at).map(({ type, value }) => [type, Number(value)]));
    const [year, month, day] = [part.get("year") ?? 0, part.get("month") ?? 0, part.get("day") ?? 0];
    return Date.UTC(year, month - 1, day, part.get("hour"), part.get("minute"), part.get("second"));
  };
}
