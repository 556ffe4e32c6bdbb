import fc from "fast-check";
import { expect, test } from "vitest";
import { baseFor, correctedPour, hardenerFor, hardenerOffPercent, splitProduct } from "~/core/coating/two-part";

/** Fluid ounces in a US gallon: 128, by definition. */
const ouncesPerGallon = 128;

test("2 fl oz of hardener poured where 1.5 belong to the gallon ask for a third of a gallon more base", () => {
  // by hand: 2 / 1.5 = 1.333 gal of base, of which one is in the pot; 0.333 gal = 42.7 fl oz
  const perMille = (1.5 / ouncesPerGallon) * 1000;
  const more = correctedPour({ base: ouncesPerGallon, hardener: 2 }, perMille);
  expect(more.hardener).toBe(0);
  expect(more.base).toBeCloseTo(42.7, 1);
  expect(more.base / ouncesPerGallon).toBeCloseTo(0.333, 3);
});

test("too much base asks for hardener and for nothing else", () => {
  // by hand: 1 to 1, 500 and 300
  expect(correctedPour({ base: 500, hardener: 300 }, 1000)).toEqual({ base: 0, hardener: 200 });
});

test("one part of hardener to ten of base is 100 per thousand, both ways round", () => {
  expect(hardenerFor(950, 100)).toBe(95);
  expect(baseFor(95, 100)).toBe(950);
});

test("hardener that is a tenth over is said to be 10 % off", () => {
  expect(hardenerOffPercent({ base: 1000, hardener: 110 }, 100)).toBeCloseTo(10, 9);
  expect(hardenerOffPercent({ base: 1000, hardener: 95 }, 100)).toBeCloseTo(-5, 9);
});

const volumes = fc.double({ min: 0.1, max: 100_000, noNaN: true });
const ratios = fc.double({ min: 1, max: 2000, noNaN: true });

test("correcting a pour always restores the ratio and never asks to take anything out", () => {
  fc.assert(
    fc.property(volumes, volumes, ratios, (base, hardener, perMille) => {
      const more = correctedPour({ base, hardener }, perMille);
      expect(Math.min(more.base, more.hardener)).toBe(0);
      expect(Math.max(more.base, more.hardener)).toBeGreaterThanOrEqual(0);
      const after = { base: base + more.base, hardener: hardener + more.hardener };
      expect(hardenerOffPercent(after, perMille)).toBeCloseTo(0, 6);
    }),
  );
});

test("base and hardener are always the whole product, in the ratio of the can", () => {
  fc.assert(
    fc.property(volumes, ratios, (millilitres, perMille) => {
      const { baseMillilitres, hardenerMillilitres } = splitProduct(millilitres, perMille);
      expect((baseMillilitres + hardenerMillilitres) / millilitres).toBeCloseTo(1, 9);
      const off = hardenerOffPercent({ base: baseMillilitres, hardener: hardenerMillilitres }, perMille);
      expect(off).toBeCloseTo(0, 6);
    }),
  );
});
