import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  exactSquareFeetMils,
  gallonsNeeded,
  layingMethods,
  litresPerGallon,
  mixMillilitres,
  practicalSpread,
  spreadSquareFeetPerGallon,
  spreadSquareMetresPerLitre,
  transferByMethod,
  transferPercentOfLoss,
  transferPercentOfLossFactor,
} from "~/core/coating/spreading";

// source: printed tables of US data sheets by the constant 1604; a cell printed as 527 for 72 % at 2 mil is a misprint
test.each([
  { solids: 65, mils: 5, printed: 208.52, within: 0.005 },
  { solids: 35, mils: 2, printed: 281, within: 0.5 },
  { solids: 35, mils: 1, printed: 561, within: 0.5 },
  { solids: 30, mils: 1, printed: 481, within: 0.5 },
  { solids: 50, mils: 1, printed: 802, within: 0.5 },
  { solids: 70, mils: 1, printed: 1123, within: 0.5 },
  { solids: 35, mils: 3, printed: 187, within: 0.5 },
  { solids: 100, mils: 1, printed: 1604, within: 0.005 },
])(
  "$solids % solids at $mils mil covers the $printed ft² of the printed table",
  ({ solids, mils, printed, within }) => {
    expect(Math.abs(spreadSquareFeetPerGallon(solids, mils) - printed)).toBeLessThanOrEqual(within);
  },
);

// source: 231 in³ to the US gallon; 10 mil wet over 160.417 ft² is a published worked example
test("with the exact gallon, ten mil of wet film cover 160.417 square feet", () => {
  expect(spreadSquareFeetPerGallon(100, 10, exactSquareFeetMils)).toBeCloseTo(160.417, 3);
});

// source: ISO 23811; 65 % at 125 µm → 5.2 is a published worked example
test.each([
  { solids: 65, dry: 125, spread: 5.2 },
  { solids: 40, dry: 40, spread: 10 },
  { solids: 35, dry: 30, spread: 11.6667 },
  { solids: 50, dry: 50, spread: 10 },
  { solids: 38, dry: 36, spread: 10.5556 },
  { solids: 100, dry: 25, spread: 40 },
])("$solids % solids at $dry µm dry covers $spread m² a litre", ({ solids, dry, spread }) => {
  expect(spreadSquareMetresPerLitre(solids, dry)).toBeCloseTo(spread, 4);
});

test("the metric and the US way of reckoning are as far apart as 1604 is rounded", () => {
  // source: 0.3048² m² to the square foot, 3.785411784 L to the gallon, both exact
  const metric = spreadSquareMetresPerLitre(65, 127);
  const squareMetresPerLitre = 0.3048 ** 2 / litresPerGallon;
  expect(spreadSquareFeetPerGallon(65, 5) * squareMetresPerLitre).toBeCloseTo(5.1176, 4);
  expect(metric).toBeCloseTo(5.1181, 4);
  expect(spreadSquareFeetPerGallon(65, 5, exactSquareFeetMils) * squareMetresPerLitre).toBeCloseTo(metric, 9);
});

test("a loss of 30 % and a loss factor of 1.43 are the same loss, and never each other's number", () => {
  // source: convention of data sheets
  expect(transferPercentOfLoss(30)).toBe(70);
  expect(transferPercentOfLossFactor(1.43)).toBeCloseTo(69.93, 2);
});

describe("what misses the piece is mixed as well", () => {
  // source: practical spreading rate = theoretical rate × transfer, convention of data sheets
  test.each([
    { transfer: 30, litres: 1.4 },
    { transfer: 50, litres: 0.84 },
    { transfer: 65, litres: 0.6462 },
    { transfer: 90, litres: 0.4667 },
  ])("4.2 m² at 40 µm dry and 40 % solids take $litres L at $transfer % transfer", ({ transfer, litres }) => {
    const needed = { squareMetres: 4.2, wetFilmMicrometres: 100, transferPercent: transfer, coats: 1 };
    expect(mixMillilitres(needed) / 1000).toBeCloseTo(litres, 4);
    expect(practicalSpread(spreadSquareMetresPerLitre(40, 40), transfer)).toBeCloseTo(4.2 / litres, 2);
  });

  test("two coats of 25 µm dry on 2.9 m² at 28 % solids and 55 % transfer are 0.94 L", () => {
    // by hand: 2 × 2.9 × 25 = 145 mL dry, / 0.28 = 518 mL wet, / 0.55 = 942 mL
    const wetFilmMicrometres = 25 / 0.28;
    expect(mixMillilitres({ squareMetres: 2.9, wetFilmMicrometres, transferPercent: 55, coats: 2 }) / 1000).toBeCloseTo(
      0.94,
      2,
    );
  });

  test("62 square feet twice at 1.5 mil, 52 % solids and 30 % transfer are 2.81 L", () => {
    // by hand: 1604 × 0.52 / 1.5 × 0.30 = 166.8 ft²/gal; 124 / 166.8 = 0.743 gal
    expect(practicalSpread(spreadSquareFeetPerGallon(52, 1.5), 30)).toBeCloseTo(166.8, 1);
    const gallons = gallonsNeeded({
      squareFeet: 62,
      dryFilmMils: 1.5,
      volumeSolidsPercent: 52,
      transferPercent: 30,
      coats: 2,
    });
    expect(gallons * litresPerGallon).toBeCloseTo(2.81, 2);
  });

  test("45 square feet twice at 1.5 mil, 35 % solids and half lost are 0.4809 gallons", () => {
    // by hand: 90 × 1.5 / (1604 × 0.35 × 0.5)
    const asked = { squareFeet: 45, dryFilmMils: 1.5, volumeSolidsPercent: 35, transferPercent: 50, coats: 2 };
    expect(gallonsNeeded(asked)).toBeCloseTo(0.4809, 4);
  });

  test("litres grow straight with area and with coats", () => {
    fc.assert(
      fc.property(
        fc.record({
          squareMetres: fc.double({ min: 0.01, max: 100, noNaN: true }),
          wetFilmMicrometres: fc.double({ min: 1, max: 3000, noNaN: true }),
          transferPercent: fc.double({ min: 1, max: 100, noNaN: true }),
          coats: fc.integer({ min: 1, max: 6 }),
        }),
        fc.integer({ min: 2, max: 9 }),
        (asked, times) => {
          const once = mixMillilitres(asked);
          expect(mixMillilitres({ ...asked, squareMetres: asked.squareMetres * times }) / once).toBeCloseTo(times, 9);
          expect(mixMillilitres({ ...asked, coats: asked.coats * times }) / once).toBeCloseTo(times, 9);
        },
      ),
    );
  });
});

test("every way of laying a coat starts within its own range, and no gun keeps more on the piece than a brush", () => {
  for (const method of layingMethods) {
    const { from, to, usual } = transferByMethod[method];
    expect([method, from <= usual && usual <= to]).toEqual([method, true]);
    expect(usual).toBeLessThanOrEqual(transferByMethod.brush.usual);
  }
  // source: EPA pollution-prevention literature, HVLP 50 to 65 %
  expect(transferByMethod.hvlp).toMatchObject({ from: 50, to: 65 });
});
