import { describe, expect, test } from "vitest";
import { genericSheet } from "~/core/coating/generic-sheets";
import { type Clock, cureRate, dryingShare, lineMinutes, rateIn, slowClock } from "~/core/cure/rate";
import {
  arrheniusFactor,
  type CureReference,
  doublingFactor,
  glueFactor,
  type RateLaw,
  rateLaw,
} from "~/core/cure/rate-laws";
import { minutesBy, rateTable } from "~/core/cure/rate-table";
import { families, mechanisms } from "~/core/shop/entities/products";
import { hourMs } from "~/core/units";

const gasJoules = 8.314_462_618;

const reference = (of: Partial<CureReference>): CureReference => ({
  mechanism: "oxidative",
  referenceCelsius: 23,
  referenceHumidityPercent: 50,
  minimumCelsius: 10,
  rateRule: "mechanism",
  ...of,
});

type Spell = readonly [hours: number, celsius: number];
/** Hours at one temperature after another, added up by the same two integrators that films are. */
const equivalentHours = (spells: readonly Spell[], law: RateLaw, clock: Clock) => {
  const table = rateTable(law, clock);
  const lines = spells.map(([hours, celsius]) => {
    const air = { celsius, humidityPercent: 50 };
    return { fromAt: 0, toAt: hours * hourMs, from: air, to: air };
  });
  const exact = lines.reduce((sum, line) => sum + lineMinutes(line, law, clock), 0) / 60;
  const lookedUp = lines.reduce((sum, line) => sum + minutesBy(table, line), 0) / 60;
  expect(lookedUp).toBeCloseTo(exact, 9);
  return exact;
};
const trace: Spell[] = [
  [2, 12],
  [3, 16],
  [3, 22],
  [4, 26],
  [12, 14],
];
const uncapped: Clock = { kind: "slow", cap: 100 };

describe("a reaction in the cold", () => {
  // source: ASTM C1074, equation 2, with its usual Q = 5000 K (from memory) and 20 or 23 °C as the specified temperature
  test.each([
    [0, 0.2868, 0.2413],
    [5, 0.3986, 0.3354],
    [10, 0.5475, 0.4606],
    [15, 0.7438, 0.6258],
    [20, 1, 0.8413],
    [23, 1.1886, 1],
    [25, 1.3311, 1.1199],
    [30, 1.7553, 1.4768],
    [35, 2.2939, 1.9299],
    [40, 2.9723, 2.5006],
  ])("at %d °C runs %d times as fast as at 20 °C and %d times as at 23 °C (ASTM C1074)", (celsius, to20, to23) => {
    const kilojoules = 5 * gasJoules;
    expect(Math.abs(arrheniusFactor(celsius, 20, kilojoules) - to20)).toBeLessThan(0.0002);
    expect(Math.abs(arrheniusFactor(celsius, 23, kilojoules) - to23)).toBeLessThan(0.0002);
  });

  // source: the same equation with 8.314 J/(mol·K), tabulated for 23 °C; abs. tolerance 0.0002
  test.each([
    { kilojoules: 30, at: [0.4546, 0.5716, 0.6533, 0.713, 0.8112, 0.8828, 1, 1.0852, 1.3249] },
    { kilojoules: 40, at: [0.3495, 0.4743, 0.5668, 0.637, 0.7566, 0.8468, 1, 1.1151, 1.4551] },
    { kilojoules: 50, at: [0.2687, 0.3937, 0.4918, 0.5691, 0.7056, 0.8124, 1, 1.1459, 1.5982] },
    { kilojoules: 60, at: [0.2066, 0.3267, 0.4268, 0.5084, 0.6581, 0.7793, 1, 1.1776, 1.7553] },
    { kilojoules: 70, at: [0.1589, 0.2711, 0.3703, 0.4542, 0.6137, 0.7476, 1, 1.2101, 1.9279] },
  ])("of $kilojoules kJ/mol has these factors at 5, 10, 13, 15, 18, 20, 23, 25, 30 °C", ({ kilojoules, at }) => {
    const found = [5, 10, 13, 15, 18, 20, 23, 25, 30].map((celsius) => arrheniusFactor(celsius, 23, kilojoules));
    for (const [index, factor] of found.entries())
      expect(Math.abs(factor - (at[index] as number))).toBeLessThan(0.0002);
  });

  test.each([
    [40, 17.8524],
    [50, 16.8028],
    [60, 15.905],
  ])("of %d kJ/mol makes %d h at 23 °C of a day of five temperatures, each by its own factor", (kilojoules, hours) => {
    const law = { byWarmth: (celsius: number) => arrheniusFactor(celsius, 23, kilojoules), nothingBelowCelsius: -40 };
    expect(Math.abs(equivalentHours(trace, law, uncapped) - hours)).toBeLessThan(0.001);
  });

  test("of 50 kJ/mol would lose 5.6 % of that day if its temperatures were averaged first", () => {
    const mean = trace.reduce((sum, [hours, celsius]) => sum + (hours * celsius) / 24, 0);
    expect(24 * arrheniusFactor(mean, 23, 50)).toBeCloseTo(15.8647, 3);
  });

  test("of Eurocode 2 makes 21.3787 h at 20 °C of the same day", () => {
    // source: EN 1992-1-1, annex B, equation B.10: exp(13.65 − 4000 / (273 + T))
    const law = { byWarmth: (celsius: number) => Math.exp(13.65 - 4000 / (273 + celsius)), nothingBelowCelsius: -40 };
    expect(Math.abs(equivalentHours(trace, law, uncapped) - 21.3787)).toBeLessThan(0.001);
  });

  // source: the same equation solved for the energy, from two label times each
  test.each([
    { slow: [24, 10], quick: [8, 23], kilojoules: 58.92 },
    { slow: [8, 23], quick: [3, 35], kilojoules: 62.018 },
    { slow: [16, 15], quick: [8, 23], kilojoules: 61.475 },
  ])("makes $slow of $quick (hours, °C) with $kilojoules kJ/mol", ({ slow, quick, kilojoules }) => {
    const [slowHours, slowCelsius] = slow as [number, number];
    const [quickHours, quickCelsius] = quick as [number, number];
    expect(quickHours / arrheniusFactor(slowCelsius, quickCelsius, kilojoules)).toBeCloseTo(slowHours, 2);
  });

  // source: 24 h over the factor at 50 kJ/mol; abs. tolerance 0.003 h
  test.each([
    [10, 60.97],
    [13, 48.8],
    [15, 42.17],
    [18, 34.01],
    [20, 29.54],
  ])("makes at %d °C of a day on the label %d hours", (celsius, hours) => {
    const rate = cureRate({ celsius, humidityPercent: 50 }, reference({}));
    expect(Math.abs(24 / rate - hours)).toBeLessThan(0.006);
  });
});

describe("the guards", () => {
  // source: common practice for films: no credit below the product's minimum, none above the label's minutes
  test.each([
    [10, 15.8993],
    [15, 8.6355],
  ])("leave of that day, with a minimum of %d °C and no hurry, %d hours", (minimumCelsius, hours) => {
    const law = rateLaw(reference({ minimumCelsius }));
    expect(Math.abs(equivalentHours(trace, law, slowClock) - hours)).toBeLessThan(0.001);
  });

  test("let a shop count warmth on the likely clock up to its own cap, and no further", () => {
    const law = rateLaw(reference({}));
    const at = (cap: number) => rateIn(law, { kind: "slow", cap }, { celsius: 30, humidityPercent: 50 });
    // 1.5982 by the table above
    expect([at(1), at(1.5), at(2).toFixed(3)]).toEqual([1, 1.5, "1.598"]);
  });
});

describe("doubling", () => {
  // source: ASTM F1980, factor 2 per 10 °C, and its published example of 55 against 25 °C
  test.each([
    [55, 25, 8],
    [55, 22, 9.8492],
    [13, 23, 0.5],
    [3, 23, 0.25],
  ])("from %d to %d °C is a factor of %d", (celsius, referenceCelsius, factor) => {
    expect(Math.abs(doublingFactor(celsius, referenceCelsius) - factor)).toBeLessThan(0.0002);
  });

  // a joint has had its own rule from the start: see glue below
  const films = mechanisms.filter((mechanism) => mechanism !== "glue");

  test.each(films)("is the law of a %s sheet that names no rule, or this one", (mechanism) => {
    for (const rateRule of [undefined, "doubling"] as const) {
      const sheet = reference({ mechanism, referenceCelsius: 25, rateRule });
      expect(cureRate({ celsius: 18, humidityPercent: 90 }, sheet)).toBe(2 ** -0.7);
      expect(cureRate({ celsius: 9.9, humidityPercent: 50 }, sheet)).toBe(0);
    }
  });
});

describe("water that leaves a film", () => {
  const paint = reference({ mechanism: "water-borne" });

  // source: Dalton's law over WMO-No. 8 pressures; rel. tolerance 0.0005
  test.each([
    [23, 50, 1],
    [20, 50, 1.2015],
    [23, 70, 1.6667],
    [23, 85, 3.3333],
    [15, 70, 2.7449],
    [10, 80, 5.7146],
    [30, 40, 0.5516],
    [18, 60, 1.7013],
    [25, 30, 0.6335],
  ])("takes at %d °C and %d %% RH %d times as long as at 23 °C and 50 %%", (celsius, humidityPercent, times) => {
    const found = 1 / dryingShare(rateLaw(paint), celsius, humidityPercent);
    expect(Math.abs(found / times - 1)).toBeLessThan(0.0005);
  });

  test("makes of a four-hour recoat at 15 °C and 70 % RH 10.98 hours: the damp holds it, not the cold", () => {
    // source: max(1, 2.745, 1.757) by the two tables above
    expect(240 / cureRate({ celsius: 15, humidityPercent: 70 }, paint) / 60).toBeCloseTo(10.979, 2);
  });

  test("makes of a four-hour recoat at 15 °C and 40 % RH 7.03 hours: there the cold holds it", () => {
    // 1 / 0.5691 by the table at 50 kJ/mol
    expect(240 / cureRate({ celsius: 15, humidityPercent: 40 }, paint) / 60).toBeCloseTo(7.03, 2);
  });

  test("stops where the air is all but full: under 0.15 kPa nothing dries", () => {
    // by hand: at 18 °C and 93 % RH the deficit is 2.064 kPa · 0.07 = 0.1445 kPa, at 92 % 0.165 kPa
    expect(cureRate({ celsius: 18, humidityPercent: 93 }, paint)).toBe(0);
    expect(cureRate({ celsius: 18, humidityPercent: 92 }, paint)).toBeGreaterThan(0);
  });

  test("leaves filler at any warmth above freezing; a paint forms no film below its minimum", () => {
    const filler = reference({ mechanism: "filler" });
    const cold = { celsius: 5, humidityPercent: 50 };
    // by hand: 8.72 hPa · 0.5 against 28.03 hPa · 0.5
    expect(cureRate(cold, filler)).toBeCloseTo(0.311, 3);
    expect(cureRate(cold, paint)).toBe(0);
    expect(cureRate({ celsius: -0.1, humidityPercent: 50 }, filler)).toBe(0);
  });
});

describe("solvent that leaves a film", () => {
  // source: NIST Chemistry WebBook (SRD 69), kPa at 20 and 25 °C; isopropanol by a published °C-and-bar set
  test.each([
    ["ethanol", 5.8509, 7.8691],
    ["acetone", 24.6038, 30.6],
    ["toluene", 2.9119, 3.7915],
    ["xylene", 0.6504, 0.8794],
    ["isopropanol", 4.4136, 6.0208],
  ] as const)("of %s goes as its vapour pressure: %d to %d kPa", (solvent, at20, at25) => {
    const lacquer = reference({ mechanism: "solvent", referenceCelsius: 25, solvent });
    const found = cureRate({ celsius: 20, humidityPercent: 50 }, lacquer);
    expect(Math.abs(found / (at20 / at25) - 1)).toBeLessThan(0.0005);
  });

  test.each(["ethanol", "acetone", "toluene", "xylene", "isopropanol"] as const)(
    "falls off more gently for %s than by doubling, which stands in where none is named",
    (solvent) => {
      const rate = (celsius: number, of?: typeof solvent) =>
        cureRate(
          { celsius, humidityPercent: 50 },
          reference({ mechanism: "wax", minimumCelsius: -40, ...(of && { solvent: of }) }),
        );
      for (const celsius of [0, 5, 10, 15, 20]) {
        expect(rate(celsius)).toBe(doublingFactor(celsius, 23));
        expect(rate(celsius, solvent)).toBeGreaterThan(rate(celsius));
      }
    },
  );
});

describe("glue", () => {
  // source: the trade's table 2^((70 − °F) / 15) up to 70 °F; 55 °F is 12.8 °C, 70 °F is 21.1 °C
  const yellow = reference({ mechanism: "glue", referenceCelsius: 21.1, minimumCelsius: 13, chalkCelsius: 10 });

  test("takes twice as long in clamps at 55 °F as at 70 °F: two hours for one, two days for one", () => {
    expect(1 / cureRate({ celsius: 12.8, humidityPercent: 50 }, yellow)).toBeCloseTo(2, 1);
    expect(24 / glueFactor(12.8, 21.1)).toBeCloseTo(48, 0);
  });

  test("takes four times as long at 40 °F, and is no quicker than its bottle says in the warm", () => {
    expect(1 / glueFactor((40 - 32) / 1.8, (70 - 32) / 1.8)).toBeCloseTo(4, 6);
    expect(glueFactor(30, 21.1)).toBe(1);
  });

  test("goes by this table whatever rule its sheet names", () => {
    const { rateRule: _rule, ...silent } = yellow;
    const air = { celsius: 15, humidityPercent: 50 };
    expect(cureRate(air, silent)).toBe(cureRate(air, yellow));
  });

  test("gains nothing below its chalk temperature, and goes on below what the sheet wants for gluing up", () => {
    expect(cureRate({ celsius: 9.9, humidityPercent: 50 }, yellow)).toBe(0);
    expect(cureRate({ celsius: 10, humidityPercent: 50 }, yellow)).toBeGreaterThan(0);
  });
});

test.each(families.filter((family) => family !== "stripper" && family !== "thinner"))(
  "a day in the reference air of generic %s is worth a day by every rule",
  (family) => {
    const sheet = genericSheet(family);
    if (!sheet) throw new Error(`${family} has a sheet`);
    const air = { celsius: sheet.referenceCelsius, humidityPercent: sheet.referenceHumidityPercent };
    const day = { fromAt: 0, toAt: 24 * hourMs, from: air, to: air };
    for (const rateRule of ["doubling", "mechanism"] as const) {
      const law = rateLaw({ ...sheet, rateRule });
      expect(lineMinutes(day, law, slowClock)).toBe(1440);
      expect(minutesBy(rateTable(law, slowClock), day)).toBe(1440);
    }
  },
);
