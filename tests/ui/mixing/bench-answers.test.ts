import { expect, test } from "vitest";
import { area, film, volume } from "~/ui/mixing/amount-words";
import { combAnswer } from "~/ui/mixing/comb-sheet";
import { cupAnswer } from "~/ui/mixing/cup-sheet";
import { gunFrom, usualGun } from "~/ui/mixing/gun-setup";
import { pourOrder } from "~/ui/mixing/pour-sheet";
import { cutAnswer } from "~/ui/mixing/shellac-sheet";

test("2 fl oz poured for 1.5 to the gallon ask for 42.7 fl oz of base, said as an order", () => {
  // by hand: 2 / 1.5 × 128 fl oz − 128 fl oz
  const perMille = (1.5 / 128) * 1000;
  expect(pourOrder(128, 2, perMille, "fl oz")).toBe("Add 42.7 fl oz of base.");
  expect(pourOrder(1000, 50, 100, "ml")).toBe("Add 50 ml of hardener.");
  expect(pourOrder(1000, 100, 100, "ml")).toBe("The pour is right. Add nothing.");
  expect(pourOrder(Number.NaN, 2, perMille, "ml")).toBe("Write down both amounts.");
});

test("a flow cup gives a figure only in its own range, and says which cup to take", () => {
  // source: ASTM D4212, Zahn No. 2, 3.5 (t − 14) from 20 to 80 s
  expect(cupAnswer("zahn-2", 40, Number.NaN)).toBe("91 mm²/s");
  expect(cupAnswer("zahn-2", 40, 1.2)).toBe("91 mm²/s, 109 mPa·s");
  expect(cupAnswer("zahn-2", 15, 1.2)).toBe("This cup tells from 20 to 80 s only. Take a finer cup.");
});

test("the comb says the film between two notches, what stays of it, and how much longer a thick one takes", () => {
  // by hand: 100 to 125 µm at 40 % are 40 to 50 µm; (125 / 100)² = 1.5625
  expect(combAnswer({ wetted: 100, dry: 125, solidsPercent: 40, sheetMicrometres: 100 })).toEqual([
    "Wet: 100 to 125 µm.",
    "Dry: 40 to 50 µm.",
    "Thicker than the sheet’s: count on up to 1.6 times its hours.",
  ]);
  expect(combAnswer({ wetted: 125, dry: 100, solidsPercent: Number.NaN, sheetMicrometres: Number.NaN })).toEqual([
    "The dry notch is the next deeper one.",
  ]);
});

test("half a litre of alcohol takes 120 g of flakes for a two pound cut", () => {
  // source: definition of the cut, 239.7 g to the litre
  expect(cutAnswer(2, 500)?.[0]).toBe("Weigh 120 g of flakes.");
});

test("amounts are rounded as finely as they can be poured", () => {
  expect([942.3, 1240, 3.52, 0].map(volume)).toEqual(["942 ml", "1.24 L", "3.5 ml", "0 ml"]);
  expect(film([89, 89.2])).toBe("89 µm");
  expect(film([80, 100])).toBe("80 to 100 µm");
  expect([2.9, 0.35].map(area)).toEqual(["2.9 m²", "0.35 m²"]);
});

test("a gun that this device kept in a form that makes no sense is the usual one again", () => {
  expect(gunFrom(null)).toEqual(usualGun);
  expect(gunFrom("{")).toEqual(usualGun);
  expect(gunFrom(JSON.stringify({ ...usualGun, cupMillilitres: 0 }))).toEqual(usualGun);
  expect(gunFrom(JSON.stringify({ ...usualGun, cupMillilitres: 1000 }))).toEqual({ ...usualGun, cupMillilitres: 1000 });
});
