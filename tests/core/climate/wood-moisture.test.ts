import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  acrossGrainMillimetres,
  dryBasisPercent,
  humidityPercentForWood,
  moisturePercentByWeight,
  wetBasisPercent,
  woodEquilibriumPercent,
} from "~/core/climate/wood-moisture";

const percentOf = (found: ReturnType<typeof woodEquilibriumPercent>) => (found.ok ? found.value : Number.NaN);
const fahrenheit = (degrees: number) => ((degrees - 32) * 5) / 9;

describe("wood in air for long", () => {
  // tolerance: the table is rounded to a tenth, and the Celsius and Fahrenheit sets of the equation differ by 0.01
  const table = "Wood Handbook (FPL-GTR-282), table 4-2";
  const memory = `${table}, from memory`;
  test.each([
    { degrees: 30, percent: 75, moisture: 14.9, source: table },
    { degrees: 30, percent: 95, moisture: 24.3, source: table },
    { degrees: 70, percent: 5, moisture: 1.3, source: memory },
    { degrees: 70, percent: 30, moisture: 6.2, source: table },
    { degrees: 70, percent: 50, moisture: 9.2, source: table },
    { degrees: 70, percent: 75, moisture: 14.4, source: table },
    { degrees: 70, percent: 85, moisture: 17.9, source: table },
    { degrees: 70, percent: 95, moisture: 23.9, source: table },
    { degrees: 100, percent: 50, moisture: 8.7, source: table },
    { degrees: 100, percent: 90, moisture: 19.5, source: table },
    { degrees: 50, percent: 65, moisture: 12.3, source: memory },
    { degrees: 60, percent: 40, moisture: 7.8, source: memory },
    { degrees: 80, percent: 80, moisture: 15.7, source: memory },
    { degrees: 90, percent: 20, moisture: 4.3, source: memory },
  ])("comes to $moisture % at $degrees °F and $percent % RH ($source)", ({ degrees, percent, moisture }) => {
    const celsius = Math.max(-1.1, fahrenheit(degrees));
    expect(Math.abs(percentOf(woodEquilibriumPercent(celsius, percent)) - moisture)).toBeLessThan(0.065);
  });

  // two trade pages give the same steps as a rule of thumb
  test.each([
    { percent: 30, moisture: 6 },
    { percent: 50, moisture: 9 },
    { percent: 65, moisture: 12 },
    { percent: 80, moisture: 16 },
  ])("follows the trade's rule of thumb: $percent % makes $moisture %", ({ percent, moisture }) => {
    expect(Math.round(percentOf(woodEquilibriumPercent(21.1, percent)))).toBe(moisture);
  });

  test("holds nothing in dry air, has no figure above 95 %, and none outside of the table", () => {
    expect(woodEquilibriumPercent(20, 0)).toEqual({ ok: true, value: 0 });
    expect(woodEquilibriumPercent(20, 95).ok).toBe(true);
    expect(woodEquilibriumPercent(20, 95.1)).toEqual({
      ok: false,
      refusal: { kind: "near-fibre-saturation", humidityPercent: 95.1 },
    });
    for (const [celsius, percent, label] of [
      [-1.2, 50, "air temperature"],
      [133, 50, "air temperature"],
      [20, -0.1, "relative humidity"],
      [20, 100.1, "relative humidity"],
      [20, Number.NaN, "relative humidity"],
    ] as const)
      expect(woodEquilibriumPercent(celsius, percent)).toMatchObject({
        ok: false,
        refusal: { kind: "outside-range", label },
      });
  });

  test("is wetter in damper air, and drier in warmer", () => {
    const celsius = fc.double({ min: 0, max: 59, noNaN: true });
    const percent = fc.double({ min: 0, max: 94, noNaN: true });
    fc.assert(
      fc.property(celsius, percent, (air, humidity) => {
        const here = percentOf(woodEquilibriumPercent(air, humidity));
        expect(percentOf(woodEquilibriumPercent(air, humidity + 1))).toBeGreaterThan(here);
      }),
    );
  });

  test("tells the air back that keeps it as it is", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 95, noNaN: true }),
        (air, humidity) => {
          const back = humidityPercentForWood(air, percentOf(woodEquilibriumPercent(air, humidity)));
          expect(back.ok && back.value).toBeCloseTo(humidity, 6);
        },
      ),
    );
    expect(humidityPercentForWood(20, 30)).toMatchObject({ ok: false, refusal: { label: "wood moisture", found: 30 } });
  });

  // the inverse of table 4-2's own cells: 12.0 % at 70 °F stands under 65 %, 9.2 % under 50 %
  test.each([
    { moisture: 12.0, percent: 65 },
    { moisture: 9.2, percent: 50 },
  ])("stays at $moisture % in air of 70 °F and $percent % (Wood Handbook, table 4-2)", ({ moisture, percent }) => {
    const found = humidityPercentForWood(fahrenheit(70), moisture);
    expect(Math.abs((found.ok ? found.value : 0) - percent)).toBeLessThan(0.5);
  });
});

describe("water by weight", () => {
  // source: 100 · (wet − dry) / dry, Wood Handbook eq. 4-2, worked by hand; the pairs of bases as a firewood page prints them
  test.each([
    { wet: 1100, dry: 1000, moisture: 10 },
    { wet: 543, dry: 500, moisture: 8.6 },
    { wet: 2000, dry: 1000, moisture: 100 },
  ])("$wet g that dry to $dry g held $moisture % of the dry weight", ({ wet, dry, moisture }) => {
    expect(moisturePercentByWeight(wet, dry)).toBeCloseTo(moisture, 6);
  });

  test("is less when counted over the wet weight: 20 % is 17 %, 100 % is 50 %", () => {
    expect(Math.round(wetBasisPercent(20))).toBe(17);
    expect(wetBasisPercent(100)).toBe(50);
    expect(dryBasisPercent(50)).toBe(100);
  });

  test("comes back to the same figure through the other basis", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 250, noNaN: true }), (moisture) => {
        expect(dryBasisPercent(wetBasisPercent(moisture))).toBeCloseTo(moisture, 6);
      }),
    );
  });
});

test("a 4 inch maple drawer front grows by 0.128 inch when summer takes 70 °F from 35 to 80 %", () => {
  // source: Wood Handbook (FPL-GTR-282), table 13-5: sugar maple, flat-grained, 0.00353 per %, moisture from table 4-2
  const [dry, damp] = [35, 80].map((percent) => percentOf(woodEquilibriumPercent(fahrenheit(70), percent)));
  const grown = acrossGrainMillimetres(4 * 25.4, 0.00353, dry as number, damp as number);
  expect(Math.abs(grown / 25.4 - 0.128)).toBeLessThan(0.002);
});
