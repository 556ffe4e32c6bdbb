import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { hourAhead } from "~/core/climate/forecast";
import type { ForecastHour, HourAhead } from "~/core/climate/forecast-hours";
import { roomAir } from "~/core/climate/history";
import { earnedAhead, hoursAhead, rateAhead, reachedAhead } from "~/core/cure/hours-ahead";
import { hourMs, minuteMs } from "~/core/units";
import { at, loft, reading } from "./week";

const eight = at("10-29 08:00 EDT");
/** A minute is worth a share of itself: 20 °C all of it, 5 °C a quarter. */
const byLow = ({ lowCelsius }: HourAhead) => Math.max(0, Math.min(1, lowCelsius / 20));

const hourOf = (hour: number, lowCelsius: number): ForecastHour => ({
  fromAt: eight + hour * hourMs,
  lowCelsius,
  likelyCelsius: lowCelsius + 2,
  likelyHumidityPercent: 45,
  highHumidityPercent: 50,
});
/** Read every hour for a week at 10 °C, last at 08:00, so that the pattern of its days is 10 °C throughout. */
const loftWith = (hours: ForecastHour[], celsius = 10) =>
  roomAir(
    Array.from({ length: 169 }, (_, index) => reading(loft, eight - (168 - index) * hourMs, celsius)),
    loft,
    { setAt: eight, hours },
  );

describe("a forecast of 20, 5 and 0 °C for the next hours, and 10 °C as every day after", () => {
  const ahead = hoursAhead(loftWith([hourOf(0, 20), hourOf(1, 5), hourOf(2, 0)]), byLow);
  if (!ahead) throw new Error("the loft was read");
  const minuteAt = (minutes: number) => eight + minutes * minuteMs;

  // by hand: 1, a quarter, nothing, and then a half of every minute
  test.each([
    { from: 0, to: 60, earned: 60 },
    { from: 0, to: 90, earned: 60 + 30 / 4 },
    { from: 30, to: 150, earned: 30 + 15 },
    { from: 0, to: 240, earned: 60 + 15 + 0 + 30 },
    { from: 170, to: 200, earned: 10 },
    { from: 0, to: 3 * 1440, earned: 60 + 15 + (3 * 1440 - 180) / 2 },
    { from: 90, to: 30, earned: 0 },
  ])("earns $earned min between minute $from and minute $to", ({ from, to, earned }) => {
    expect(earnedAhead(ahead, minuteAt(from), minuteAt(to))).toBeCloseTo(earned, 6);
  });

  test.each([
    { from: 0, minutes: 30, reached: 30 },
    { from: 0, minutes: 67.5, reached: 90 },
    { from: 30, minutes: 45, reached: 120 },
    // the third hour is worth nothing: what is missing then comes at half speed from 11:00
    { from: 0, minutes: 80, reached: 190 },
    { from: 0, minutes: 75 + 720, reached: 180 + 1440 },
  ])("has $minutes min from minute $from on at minute $reached", ({ from, minutes, reached }) => {
    expect((reachedAhead(ahead, minuteAt(from), minutes) ?? 0) / minuteMs).toBeCloseTo(minuteAt(reached) / minuteMs, 6);
  });

  test("is worth at each instant what its own hour says", () => {
    expect([30, 90, 150, 210].map((minute) => rateAhead(ahead, minuteAt(minute)))).toEqual([1, 0.25, 0, 0.5]);
  });
});

test("a room too cold by its own pattern is done within the stored hours or never", () => {
  const ahead = hoursAhead(loftWith([hourOf(0, 20), hourOf(1, 20)], -2), byLow);
  if (!ahead) throw new Error("the loft was read");
  expect(reachedAhead(ahead, eight, 120)).toBeCloseTo(eight + 2 * hourMs, 0);
  expect(reachedAhead(ahead, eight, 121)).toBeUndefined();
});

test("what is earned ahead is the plain sum of its minutes, and is reached when that sum is, holes in the forecast or not", () => {
  const lows = fc.array(fc.option(fc.integer({ min: -3, max: 25 }), { nil: undefined }), {
    minLength: 1,
    maxLength: 30,
  });
  const minute = fc.integer({ min: 0, max: 3 * 1440 });
  fc.assert(
    fc.property(lows, fc.integer({ min: 2, max: 20 }), minute, minute, (stored, usual, one, other) => {
      const hours = stored.flatMap((low, hour) => (low === undefined ? [] : [hourOf(hour, low)]));
      const air = loftWith(hours, usual);
      const ahead = hoursAhead(air, byLow);
      if (!ahead) throw new Error("the loft was read");
      const [from, to] = [Math.min(one, other), Math.max(one, other)];
      let sum = 0;
      for (let now = from; now < to; now += 1) sum += byLow(hourAhead(air, eight + now * minuteMs) as HourAhead);
      expect(earnedAhead(ahead, eight + from * minuteMs, eight + to * minuteMs)).toBeCloseTo(sum, 6);
      if (sum === 0) return;
      const reachedAt = reachedAhead(ahead, eight + from * minuteMs, sum) ?? Number.NaN;
      // earlier only by minutes that earn nothing
      expect(reachedAt).toBeLessThanOrEqual(eight + to * minuteMs + 1);
      expect(earnedAhead(ahead, eight + from * minuteMs, reachedAt)).toBeCloseTo(sum, 4);
    }),
  );
});
