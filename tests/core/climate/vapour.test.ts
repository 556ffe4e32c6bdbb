import fc from "fast-check";
import { expect, test } from "vitest";
import { dewPointCelsius, saturationPressureHectopascal } from "~/core/climate/dew-point";
import {
  absoluteHumidityGramsPerCubicMetre,
  surfaceDeficitKilopascal,
  vapourDeficitKilopascal,
} from "~/core/climate/vapour";
import { woodEquilibriumPercent } from "~/core/climate/wood-moisture";

// the example's own formula (Tetens) has other constants than WMO's: 0.35 % is how far the two may lie apart
const fao = "FAO Irrigation and Drainage Paper 56 (1998), example 3";
test.each([
  { celsius: 15, kilopascal: 1.705, source: fao },
  { celsius: 24.5, kilopascal: 3.075, source: fao },
])("air of $celsius °C is full at $kilopascal kPa ($source)", ({ celsius, kilopascal }) => {
  expect(Math.abs(saturationPressureHectopascal(celsius) / 10 / kilopascal - 1)).toBeLessThan(0.0035);
});

test("a day between 15 and 24.5 °C is full at 2.39 kPa: the mean of the two pressures (FAO-56, example 3)", () => {
  const mean = (saturationPressureHectopascal(15) + saturationPressureHectopascal(24.5)) / 20;
  expect(Math.abs(mean - 2.39)).toBeLessThan(0.01);
  expect(saturationPressureHectopascal((15 + 24.5) / 2) / 10).toBeLessThan(2.39 - 0.05);
});

// source: the published 2.1674 · es · RH / Tk with Bolton's constants, stated to 0.1 %; WMO's es lies up to 0.35 % below
test.each([
  { celsius: 10, percent: 50, grams: 4.697 },
  { celsius: 20, percent: 50, grams: 8.639 },
  { celsius: 23, percent: 50, grams: 10.277 },
  { celsius: 30, percent: 80, grams: 24.283 },
])("a cubic metre of air at $celsius °C and $percent % holds $grams g of water", ({ celsius, percent, grams }) => {
  const found = absoluteHumidityGramsPerCubicMetre(celsius, percent);
  expect(Math.abs(found / grams - 1)).toBeLessThan(0.0035);
});

// worked by hand: WMO's saturation pressure times the share that is missing, in kPa
test.each([
  { celsius: 23, percent: 50, kilopascal: 1.4013 },
  { celsius: 15, percent: 70, kilopascal: 0.5105 },
  { celsius: 10, percent: 80, kilopascal: 0.2452 },
  { celsius: 30, percent: 40, kilopascal: 2.5402 },
])("air of $celsius °C and $percent % would take $kilopascal kPa more", ({ celsius, percent, kilopascal }) => {
  expect(vapourDeficitKilopascal(celsius, percent)).toBeCloseTo(kilopascal, 3);
});

test("a board of 10 °C in air of 23 °C and 50 % gets wet instead of dry; one of 18 °C dries at half the pull", () => {
  expect(surfaceDeficitKilopascal(10, 23, 50)).toBeCloseTo(-0.1752, 3);
  expect(surfaceDeficitKilopascal(18, 23, 50)).toBeCloseTo(0.6579, 3);
});

test("the reference air of drying times, 23 °C and 50 % (ISO 3270, ASTM D1640), dews at 12 °C and keeps wood at 9.2 %", () => {
  expect(dewPointCelsius(23, 50)).toBeCloseTo(12.0, 1);
  const wood = woodEquilibriumPercent(23, 50);
  expect(wood.ok && wood.value).toBeCloseTo(9.2, 1);
});

test("full air takes nothing more, dry air has no dew point at all", () => {
  expect(vapourDeficitKilopascal(20, 100)).toBe(0);
  expect(absoluteHumidityGramsPerCubicMetre(20, 0)).toBe(0);
  expect(dewPointCelsius(20, 100)).toBe(20);
  expect(dewPointCelsius(20, 0)).toBe(Number.NEGATIVE_INFINITY);
});

test("a surface draws water from the air exactly when it is colder than the dew point", () => {
  const celsius = fc.double({ min: -20, max: 50, noNaN: true });
  fc.assert(
    fc.property(celsius, celsius, fc.double({ min: 1, max: 99, noNaN: true }), (surface, air, percent) => {
      const spread = surface - dewPointCelsius(air, percent);
      fc.pre(Math.abs(spread) > 1e-6);
      return surfaceDeficitKilopascal(surface, air, percent) > 0 === spread > 0;
    }),
  );
});
