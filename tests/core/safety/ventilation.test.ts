import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { isFlammable } from "~/core/safety/ignition";
import {
  coatAirCubicMetresPerHour,
  dilutionCubicFeetPerGallon,
  dilutionCubicMetresPerLitre,
  flammableCategory,
  jobAir,
  keptUnder,
  lowerLimitGramsPerCubicMetre,
  oversprayGrams,
  steadyAirCubicMetresPerHour,
  vapourGrams,
} from "~/core/safety/ventilation";
import { type SolventId, smallestLimitPercent, solventIds, solvents } from "~/core/tables/solvents";

/** Cubic feet in a cubic metre, and litres in a US gallon. Source: definition of the inch and of the gallon. */
const cubicFeetPerCubicMetre = 35.3146667;
const litresPerGallon = 3.785411784;

describe("the air that thins a gallon of solvent to a quarter of its lower explosive limit", () => {
  // 29 CFR 1910.94(c)(6)(ii), rows of Table G-11 from memory; toluene is the example that the rule itself works out
  test.each<[SolventId, number]>([
    ["acetone", 6593.2],
    ["n-butyl-acetate", 5736.1],
    ["n-butyl-alcohol", 9916.3],
    ["ethyl-acetate", 5116.8],
    ["ethanol", 4914.1],
    ["methanol", 4104.2],
    ["methyl-ethyl-ketone", 7856.0],
    ["naphtha", 9866.0],
    ["mineral-spirits", 9187.2],
    ["n-propyl-alcohol", 8354.1],
    ["isopropanol", 8624.0],
    ["toluene", 8564.1],
    ["turpentine", 10316.8],
    ["xylene", 10454.4],
  ])("%s asks for %f cubic feet", (id, cubicFeet) => {
    expect(Math.abs(dilutionCubicFeetPerGallon(solvents[id]) - cubicFeet)).toBeLessThan(0.1);
  });

  test("is a quarter more where a fifth of the limit is the rule", () => {
    // California Title 8 section 5153(d); for toluene 10705 cubic feet
    expect(dilutionCubicFeetPerGallon(solvents.toluene, keptUnder.fifth)).toBeCloseTo(10705, -1);
    expect(dilutionCubicMetresPerLitre(solvents.toluene)).toBeCloseTo(64.06, 2);
  });

  test("rests on volumes of vapour that an ideal gas at 70 °F would nearly fill", () => {
    // molar volume at 70 °F and one atmosphere: 24.15 L; both propyl alcohols of the table lie 4 to 5 % above it
    for (const id of solventIds) {
      const { gramsPerMole, gramsPerMillilitre, vapourCubicFeetPerGallon } = solvents[id];
      if (gramsPerMole === undefined) continue;
      const litres = ((gramsPerMillilitre * 1000 * litresPerGallon) / gramsPerMole) * 24.15;
      const cubicFeet = (litres / 1000) * cubicFeetPerCubicMetre;
      expect(Math.abs(vapourCubicFeetPerGallon / cubicFeet - 1), id).toBeLessThan(0.055);
    }
  });
});

describe("the air for a job", () => {
  const perMinute = (cubicMetresPerHour: number) => (cubicMetresPerHour * cubicFeetPerCubicMetre) / 60;

  test("a quarter gallon of lacquer in ten minutes asks for 172.5 cubic feet a minute at the very least", () => {
    // 0.25 gal × 75 % × 23 ft³/gal ÷ 10 min = 0.431; × 100 ÷ (1 % × ¼). Rule of thumb of the spray-booth trade
    const air = jobAir(
      { litres: 0.25 * litresPerGallon, minutes: 10, solventPercent: 75 },
      { vapourCubicFeetPerGallon: 23, lowerLimitPercent: 1.0 },
    );
    expect(perMinute(air.vapourCubicMetresPerHour)).toBeCloseTo(0.431, 3);
    expect(perMinute(air.airCubicMetresPerHour)).toBeCloseTo(172.5, 1);
  });

  test("flow and volume agree: a quart of toluene in half an hour asks for 71.4 cubic feet a minute of clean air", () => {
    // 29 CFR 1910.94: volume per gallon × gallons a minute
    expect((dilutionCubicFeetPerGallon(solvents.toluene) * 0.25) / 30).toBeCloseTo(71.368, 2);
    expect((dilutionCubicFeetPerGallon(solvents.ethanol) * 0.5) / litresPerGallon / 60).toBeCloseTo(10.818, 2);
    const air = jobAir({ litres: 0.25 * litresPerGallon, minutes: 30, solventPercent: 100 }, solvents.toluene);
    // the regulation counts what comes in: at 1.4 % of vapour that is 98.6 % of what goes out
    expect(perMinute(air.airCubicMetresPerHour) * 0.986).toBeCloseTo(71.368, 2);
  });

  test("doubles with the product and halves with the time", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 20, noNaN: true }),
        fc.double({ min: 1, max: 600, noNaN: true }),
        fc.constantFrom(...solventIds),
        (litres, minutes, id) => {
          const once = jobAir({ litres, minutes, solventPercent: 60 }, solvents[id]).airCubicMetresPerHour;
          const twice = jobAir({ litres: 2 * litres, minutes, solventPercent: 60 }, solvents[id]).airCubicMetresPerHour;
          const slow = jobAir({ litres, minutes: 2 * minutes, solventPercent: 60 }, solvents[id]).airCubicMetresPerHour;
          expect(twice / once).toBeCloseTo(2, 9);
          expect(once / slow).toBeCloseTo(2, 9);
        },
      ),
    );
  });
});

describe("the limit as mass", () => {
  // LEL of the AARST chart of explosive limits, at 20 °C: percent ÷ 100 × M ÷ 24.055 L
  test.each([
    ["ethanol", 3.3, 46.07, 63.2],
    ["isopropanol", 2.0, 60.1, 49.97],
    ["acetone", 2.5, 58.08, 60.36],
    ["toluene", 1.1, 92.14, 42.13],
    ["xylene", 1.0, 106.17, 44.14],
  ])("%s at %f %% is so many grams in a cubic metre", (_, percent, gramsPerMole, grams) => {
    expect(Math.abs(lowerLimitGramsPerCubicMetre(percent, gramsPerMole) - grams)).toBeLessThan(0.01);
  });

  test("half a litre of alcohol an hour asks for 25 cubic metres if air mixed well, and for 100 in a garage", () => {
    // 500 mL ethanol = 394.65 g; Q = K × G ÷ C, the steady state of a mixed room
    expect(steadyAirCubicMetresPerHour(394.65, 15.8, 1)).toBeCloseTo(24.977, 2);
    expect(steadyAirCubicMetresPerHour(394.65, 15.8)).toBeCloseTo(99.909, 1);
  });
});

describe("a coat's own air", () => {
  const lacquer = { solvent: solvents["n-butyl-acetate"], vocGramsPerLitre: 550 };

  test("counts all of its solvent, whether it lands or not", () => {
    expect(vapourGrams({ millilitres: 400, vocGramsPerLitre: 550 })).toBe(220);
    // half lands: 0.4 L × 950 g/L × ½
    expect(oversprayGrams({ millilitres: 400, densityGramsPerLitre: 950, transferPercent: 50 })).toBe(190);
  });

  test("is never less than the smallest limit in print asks for", () => {
    for (const id of solventIds)
      expect(smallestLimitPercent(solvents[id])).toBeLessThanOrEqual(solvents[id].lowerLimitPercent);
    // 220 g in 20 min = 660 g/h; a quarter of 1.2 % of 116.16 g/mol = 14.487 g/m³; four times for a garage
    expect(coatAirCubicMetresPerHour({ millilitres: 400, minutes: 20 }, lacquer)).toBeCloseTo((4 * 660) / 14.487, 0);
  });

  test("takes everything but solids for solvent where the sheet names no grams, and stays silent without solids", () => {
    const coat = { millilitres: 400, minutes: 20 };
    const bySolids = coatAirCubicMetresPerHour(coat, { solvent: solvents.toluene, volumeSolidsPercent: 20 }) ?? 0;
    // 0.32 L of toluene in 20 min = 0.2536 gal/h × 30.4 ft³ = 7.71 ft³/h = 0.2183 m³/h; ÷ (1.1 % × ¼) × 4
    expect(bySolids).toBeCloseTo((0.2183 * 100 * 4) / (1.1 * 0.25), 0);
    expect(coatAirCubicMetresPerHour(coat, { solvent: solvents.toluene })).toBeUndefined();
  });

  test("of a petroleum mixture rests on what a gallon gives off", () => {
    // 0.8 % of mineral spirits: 780 g/L ÷ (23.2 ft³/gal = 173.5 L vapour per L) = 4.494 g/L vapour → 35.95 g/m³
    const air = coatAirCubicMetresPerHour(
      { millilitres: 1000, minutes: 60 },
      { solvent: solvents["mineral-spirits"], vocGramsPerLitre: 400 },
    );
    expect(air).toBeCloseTo((4 * 400) / (35.95 * 0.25), 0);
  });
});

describe("what burns", () => {
  // GHS and 29 CFR 1910.1200 Appendix B
  test.each([
    [12.8, 78.3, 2],
    [-17, 56, 2],
    [28.3, 126, 3],
    [40, 160, 3],
    [65, 200, 4],
    [-20, 30, 1],
    [94, 210, undefined],
  ])("a liquid that flashes at %f °C and boils at %f °C is of category %s", (flash, boiling, category) => {
    expect(flammableCategory(flash, boiling)).toBe(category);
  });

  test("shellac and lacquer burn, water-borne paint does not, unless its sheet names alcohol", () => {
    expect([isFlammable("shellac"), isFlammable("lacquer"), isFlammable("stripper")]).toEqual([true, true, true]);
    expect(isFlammable("water-borne-clear")).toBe(false);
    // half alcohol in water still flashes at about 24 °C
    expect(isFlammable("water-borne-clear", "ethanol")).toBe(true);
  });
});
