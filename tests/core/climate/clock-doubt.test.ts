import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { clockDoubt, withClockSet } from "~/core/climate/logger-csv/clock-doubt";
import type { LoggerReading } from "~/core/climate/logger-csv/read";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import { logger } from "../support/logger-file";

const zone = "America/New_York";
/** Monday 26 October 2026, 00:00 in the shop, UTC−4. */
const monday = Date.UTC(2026, 9, 26, 4);
const now = monday + 8 * dayMs;

/** A barn: warmest at 15:00, and each day another weather. */
const barn =
  (swingCelsius = 10, weather = [12, 15, 9, 14, 11, 16, 10, 13]) =>
  (at: number) => {
    const days = (at - monday) / dayMs;
    const [day, next] = [Math.floor(days), Math.floor(days) + 1].map((count) => weather[((count % 8) + 8) % 8] ?? 0);
    const mean = (day ?? 0) + (days - Math.floor(days)) * ((next ?? 0) - (day ?? 0));
    return mean + (swingCelsius / 2) * Math.cos(2 * Math.PI * (days - 15 / 24));
  };

/** What the thermometer on the wall says, every half hour from Tuesday to Friday night. */
const onTheWall = (celsiusAt: (at: number) => number, everyMin = 30) =>
  series(monday + dayMs, monday + 5 * dayMs, everyMin, celsiusAt);

/** Rows at the logger's own minute, read off a clock that was so many hours behind. */
const logged = (
  celsiusAt: (at: number) => number,
  hoursBehind = 0,
  fromAt = monday + dayMs,
  toAt = monday + 5 * dayMs,
) => series(fromAt + 7 * minuteMs, toAt, 20, celsiusAt).map((row) => ({ ...row, at: row.at - hoursBehind * hourMs }));

function series(fromAt: number, toAt: number, everyMin: number, celsiusAt: (at: number) => number): LoggerReading[] {
  const rows: LoggerReading[] = [];
  for (let at = fromAt; at < toAt; at += everyMin * minuteMs)
    rows.push({ at, airCelsius: Math.round(celsiusAt(at) * 10) / 10, humidityPercent: 50 });
  return rows;
}

describe("a logger beside the thermometer on the wall", () => {
  test("that was five hours behind is found so, and agrees once it is set on", () => {
    const doubt = clockDoubt(logged(barn(), 5), onTheWall(barn()), zone, now);
    expect(doubt).toMatchObject({ why: "agrees-shifted", shiftMin: 300 });
    if (doubt?.why !== "agrees-shifted") throw new Error("it was not compared");
    expect(doubt.scatterShiftedCelsius).toBeLessThan(0.1);
    // by hand: two waves of ±5 °C five hours apart differ by 10 sin(75°/2) at the most, and scatter by that over √2
    expect(doubt.scatterCelsius).toBeGreaterThan(4);
    expect(doubt.scatterCelsius).toBeLessThan(5);
  });

  test("is found behind or ahead by the very hours that it was, up to a day", () => {
    const otherThanNow = fc.integer({ min: -24, max: 24 }).filter((hours) => hours !== 0);
    fc.assert(
      fc.property(
        otherThanNow,
        fc.integer({ min: 8, max: 16 }),
        fc.integer({ min: -20, max: 20 }),
        (hours, swing, offTenths) => {
          const offCelsius = offTenths / 10;
          const rows = logged((at) => barn(swing)(at) + offCelsius, hours);
          expect(clockDoubt(rows, onTheWall(barn(swing)), zone, now)?.shiftMin).toBe(hours * 60);
        },
      ),
    );
  });

  test("that shows every day alike is five hours behind, not nineteen ahead", () => {
    const alike = barn(
      10,
      Array.from({ length: 8 }, () => 14),
    );
    expect(clockDoubt(logged(alike, 5), onTheWall(alike), zone, now)?.shiftMin).toBe(300);
    expect(clockDoubt(logged(alike, -5), onTheWall(alike), zone, now)?.shiftMin).toBe(-300);
  });

  test("is never set into what is still to come", () => {
    const early = monday + 5 * dayMs;
    const rows = logged(barn(), -6, monday + dayMs, early - 6 * hourMs);
    expect(clockDoubt(rows, onTheWall(barn()), zone, early)?.shiftMin).toBe(-360);
    fc.assert(
      fc.property(fc.integer({ min: -24, max: 24 }), (hours) => {
        const doubt = clockDoubt(logged(barn(), hours), onTheWall(barn()), zone, early);
        const lastAt = logged(barn(), hours).at(-1)?.at ?? 0;
        expect(lastAt + (doubt?.shiftMin ?? 0) * minuteMs).toBeLessThanOrEqual(early + 2 * minuteMs);
      }),
    );
  });

  test.each([
    { name: "says the same", rows: logged(barn()) },
    { name: "hangs in a warmer corner", rows: logged((at) => barn()(at) + 3) },
    { name: "was taken in before", rows: onTheWall(barn()) },
    {
      name: "strays by half a degree to and fro",
      rows: logged((at) => barn()(at) + ((at / (20 * minuteMs)) % 2 < 1 ? 0.5 : -0.5)),
    },
  ])("is not doubted where it $name", ({ rows }) => {
    expect(clockDoubt(rows, onTheWall(barn()), zone, now)).toBeUndefined();
  });

  test("is not doubted in a room that hardly swings, however its clock stood", () => {
    const heated = barn(
      0.9,
      Array.from({ length: 8 }, () => 18),
    );
    for (const hours of [0, 5, 12, -24])
      expect(clockDoubt(logged(heated, hours), onTheWall(heated), zone, now)).toBeUndefined();
  });

  test("is not doubted beside readings that agree with it at no hour", () => {
    const otherRoom = onTheWall((at) => 15 + (((at / hourMs) * 7919) % 10));
    expect(clockDoubt(logged(barn()), otherRoom, zone, now)).toBeUndefined();
  });

  test("is found by three looks a day with the eye, from Monday to Sunday", () => {
    const looks = [8, 13, 18].flatMap((hour) =>
      Array.from({ length: 7 }, (_, day) => monday + day * dayMs + hour * hourMs).map((at) => ({
        at,
        airCelsius: Math.round(barn()(at)),
      })),
    );
    const known = looks.sort((one, other) => one.at - other.at);
    const rows = (hours: number) => logged(barn(), hours, monday - dayMs, monday + 7 * dayMs);
    expect(clockDoubt(rows(0), known, zone, now)).toBeUndefined();
    expect(clockDoubt(rows(4), known, zone, now)?.shiftMin).toBe(240);
  });
});

describe("a logger with nothing to hold it against", () => {
  test("is believed where its days are warmest in the afternoon, and where they hardly swing", () => {
    expect(clockDoubt(logged(barn()), [], zone, now)).toBeUndefined();
    expect(clockDoubt(logged(barn(1.5), 12), [], zone, now)).toBeUndefined();
  });

  test("is asked about where its days are warmest at three in the night: the wrong half of the day", () => {
    const doubt = clockDoubt(logged(barn(), 12), [], zone, now);
    expect(doubt).toMatchObject({ why: "warm-at-night", shiftMin: 720 });
    expect(doubt?.why === "warm-at-night" && Math.round(doubt.warmestHour)).toBe(3);
    const justRead = clockDoubt(logged(barn(), 12), [], zone, monday + 4.6 * dayMs);
    expect(justRead).toMatchObject({ why: "warm-at-night", shiftMin: -720 });
  });

  test("is not asked about for one cold noon, when the heater was off, in a week at 18 °C", () => {
    const coldFrom = monday + 3 * dayMs + 9 * hourMs;
    const heaterOff = (at: number) => (at >= coldFrom && at < coldFrom + 8 * hourMs ? 4 : 18);
    expect(clockDoubt(logged(heaterOff, 0, monday, monday + 7 * dayMs), [], zone, now)).toBeUndefined();
  });

  test("is not asked about by a few hours of one day", () => {
    expect(clockDoubt(logged(barn(), 12, monday + dayMs, monday + dayMs + 20 * hourMs), [], zone, now)).toBeUndefined();
  });

  test("that tells of hours still to come is ahead by at least so many whole hours", () => {
    const rows = logged(barn(), -3, now - 2 * dayMs, now - 10 * minuteMs);
    const doubt = clockDoubt(rows, [], zone, now);
    // the last row is of 23:47 on the true clock, 2 h 47 min ahead of now on the logger's
    expect(doubt).toMatchObject({ why: "still-to-come", shiftMin: -180, lastAt: now + 167 * minuteMs });
    const set = withClockSet(logger(rows), doubt?.shiftMin ?? 0, now);
    expect(set.rowsToCome).toBe(0);
    expect(set.readings.toAt).toBe(now - 13 * minuteMs);
  });

  test("whose clock is said to be right loses the rows that are still to come, and no others", () => {
    const rows = logged(barn(), -3, now - 2 * dayMs, now - 10 * minuteMs);
    const kept = withClockSet(logger(rows), 0, now);
    expect(kept.readings.rows.every(({ at }) => at <= now + 2 * minuteMs)).toBe(true);
    expect(kept.readings.rows.length + kept.rowsToCome).toBe(rows.length);
    // 20-minute rows from 00:07 to 02:47 ahead
    expect(kept.rowsToCome).toBe(9);
  });
});
