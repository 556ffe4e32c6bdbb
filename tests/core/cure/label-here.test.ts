import { describe, expect, test } from "vitest";
import { roomAir } from "~/core/climate/history";
import { labelHere } from "~/core/cure/label-here";
import { laidInRoom } from "~/core/cure/progress";
import { roomCredit } from "~/core/cure/room-credit";
import type { Reading, Sheet } from "~/core/shop/tables";
import { dayMs, hourMs } from "~/core/units";
import { at, everyTenMinutes, l1, loft, made, w1 } from "./week";

const now = at("10-29 08:00 EDT");

const laidIn = (readings: Reading[], sheet: Sheet) => laidInRoom(roomCredit(roomAir(readings, loft), sheet), now);

/** A coat as if laid now, in a loft that has been at one temperature for a week. */
const laidNow = (celsius: number | undefined, sheet: Sheet) => {
  const readings = celsius === undefined ? [] : everyTenMinutes(loft, now - 7 * dayMs, now, () => celsius);
  return laidIn(readings, sheet);
};

describe("four hours to the next coat on a can written for 25 °C", () => {
  // by hand: twice as long for every 10 °C below, and no quicker above; the shop's rule, ASTM F1980's customary factor
  test.each([
    { celsius: 15, hours: 8 },
    { celsius: 20, hours: 5.657 },
    { celsius: 25, hours: 4 },
    { celsius: 31, hours: 4 },
  ])("are $hours h in a room at $celsius °C", ({ celsius, hours }) => {
    const found = labelHere(laidNow(celsius, w1.sheet), w1.sheet, "water-borne-paint", "recoat-opens");
    expect(found?.labelMin).toBe(240);
    expect(Math.abs((found?.safeMin ?? 0) / 60 - hours)).toBeLessThan(0.002);
    expect(Math.abs((found?.likelyMin ?? 0) / 60 - hours)).toBeLessThan(0.002);
  });

  test("have no end at 8 °C, below the 10 °C that the can wants", () => {
    const found = labelHere(laidNow(8, w1.sheet), w1.sheet, "water-borne-paint", "recoat-opens");
    expect(found).toEqual({ labelMin: 240 });
  });

  test("have no honest end in a room that was never read", () => {
    const found = labelHere(laidNow(undefined, w1.sheet), w1.sheet, "water-borne-paint", "recoat-opens");
    expect(found?.safeMin).toBeUndefined();
  });
});

test("a can that says two to three hours is safe after three and likely after two", () => {
  const clear = made("water-borne-clear", {
    mechanism: "water-borne",
    minimumCelsius: 10,
    recoatOpens: { min: 180, typicalMin: 120 },
  });
  const found = labelHere(laidNow(25, clear.sheet), clear.sheet, "water-borne-clear", "recoat-opens");
  expect(found?.safeMin).toBeCloseTo(180, 3);
  expect(found?.likelyMin).toBeCloseTo(120, 3);
});

test("lacquer that its can never presses together has no time for it here either", () => {
  expect(labelHere(laidNow(25, l1.sheet), l1.sheet, "lacquer", "press-together")).toBeUndefined();
});

test("a day on the can that runs into a cold night takes the night as well", () => {
  // by hand: 19 °C by day, 9 °C from 20:00 to 08:00 and nothing earned then; 12 h · 2^(−0.6) = 7.917 h a day
  const isNight = (when: number) => (((when / hourMs - 4) % 24) + 24) % 24 >= 20 || (when / hourMs - 4) % 24 < 8;
  const readings = everyTenMinutes(loft, now - 7 * dayMs, now, (when) => (isNight(when) ? 9 : 19));
  const found = labelHere(laidIn(readings, w1.sheet), w1.sheet, "water-borne-paint", "handle");
  // three days of 7.917 h are 23.75 h, and 0.25 h more take 0.379 h: 72.38 h
  expect(Math.abs((found?.safeMin ?? 0) / 60 - 72.38)).toBeLessThan(0.1);
});
