import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { roomAir } from "~/core/climate/history";
import { mixUse, potLifeInAir } from "~/core/coating/pot-life";
import { hourMs, minuteMs } from "~/core/units";
import { aReading, aRoom, aSheet, id, loft, monday8 } from "../support/shop";

const epoxy = aSheet({ referenceCelsius: 23, potLifeMin: 30 });
const room = aRoom({ id: loft });
/** Read every ten minutes from an hour before the mix. */
const air = (celsiusAt: (minutesFromMix: number) => number) =>
  roomAir(
    Array.from({ length: 60 }, (_, step) =>
      aReading({
        id: id(500 + step),
        at: monday8 - hourMs + step * 10 * minuteMs,
        airCelsius: celsiusAt(step * 10 - 60),
        humidityPercent: 50,
      }),
    ),
    room,
  );
const later = monday8 + 8 * hourMs;
const minutes = (celsiusAt: (minutesFromMix: number) => number) =>
  ((mixUse({ mixedAt: monday8 }, epoxy, air(celsiusAt), later).usableUntilAt as number) - monday8) / minuteMs;

// source: common practice, halves per 10 °C above the reference; never longer than the can says
test.each([
  { celsius: 13, potMin: 30 },
  { celsius: 23, potMin: 30 },
  { celsius: 28, potMin: 21.21 },
  { celsius: 33, potMin: 15 },
  { celsius: 43, potMin: 7.5 },
])("epoxy of 30 min at 23 °C lasts $potMin min at $celsius °C", ({ celsius, potMin }) => {
  expect(potLifeInAir({ potLifeMin: 30, referenceCelsius: 23 }, celsius)).toBeCloseTo(potMin, 2);
  expect(minutes(() => celsius)).toBeCloseTo(potMin, 2);
});

describe("in air that changes", () => {
  test("a mix uses itself up faster only while it is warm", () => {
    // by hand: 10 min at 23 °C leave 20, which 33 °C counts double
    expect(minutes((minute) => (minute < 10 ? 23 : 33))).toBeGreaterThan(15);
    expect(minutes((minute) => (minute < 10 ? 23 : 33))).toBeLessThan(25);
  });

  test("no air makes a pot life longer than the can’s, and a warmer room never a longer one", () => {
    const course = fc.array(fc.integer({ min: -5, max: 45 }), { minLength: 60, maxLength: 60 });
    fc.assert(
      fc.property(course, fc.integer({ min: 0, max: 15 }), (celsius, warmer) => {
        const at = (minute: number) => celsius[(minute + 60) / 10] as number;
        const found = minutes(at);
        expect(found).toBeLessThanOrEqual(30);
        expect(found).toBeGreaterThan(0);
        expect(minutes((minute) => at(minute) + warmer)).toBeLessThanOrEqual(found);
      }),
      { numRuns: 50 },
    );
  });
});

test("real minutes count in a room that nobody reads, and readings from after the question are not known yet", () => {
  const unread = mixUse({ mixedAt: monday8 }, epoxy, roomAir([], room), later);
  expect(unread.usableUntilAt).toBe(monday8 + 30 * minuteMs);
  expect(mixUse({ mixedAt: monday8 }, epoxy, undefined, later)).toEqual(unread);
  const turnsHot = air((minute) => (minute < 5 ? 23 : 43));
  const asked = mixUse({ mixedAt: monday8 }, epoxy, turnsHot, monday8);
  expect(asked.usableUntilAt).toBe(monday8 + 30 * minuteMs);
});

test("a product of one part has no end, and one that must stand has a beginning", () => {
  expect(mixUse({ mixedAt: monday8 }, aSheet(), undefined, later)).toEqual({ usableFromAt: monday8 });
  expect(mixUse({ mixedAt: monday8 }, { ...epoxy, inductionMin: 10 }, undefined, later).usableFromAt).toBe(
    monday8 + 10 * minuteMs,
  );
});
