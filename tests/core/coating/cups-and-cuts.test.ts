import { expect, test } from "vitest";
import { cutAlcoholGramsPerLitre, cutSolidsPercent, flakesGramsPerLitre } from "~/core/coating/shellac-cut";
import { openingByMesh, strainerFor, strainerGrades, widestMesh } from "~/core/coating/strainer";
import { type Cup, cupReading, millipascalSeconds } from "~/core/coating/viscosity";
import { volatileLessWater, volatileOfMaterial, volatileThinned } from "~/core/coating/volatile";

// sources: Zahn, ASTM D4212; Ford, ASTM D1200; ISO 2431
test.each<{ cup: Cup; seconds: number; centistokes: number }>([
  { cup: "zahn-1", seconds: 45, centistokes: 17.6 },
  { cup: "zahn-2", seconds: 25, centistokes: 38.5 },
  { cup: "zahn-2", seconds: 40, centistokes: 91 },
  { cup: "zahn-3", seconds: 25, centistokes: 204.75 },
  { cup: "zahn-4", seconds: 30, centistokes: 370 },
  { cup: "zahn-5", seconds: 30, centistokes: 690 },
  { cup: "ford-2", seconds: 50, centistokes: 46.08 },
  { cup: "ford-3", seconds: 58, centistokes: 118.78 },
  { cup: "ford-4", seconds: 30, centistokes: 98.213 },
  { cup: "ford-4", seconds: 36, centistokes: 121.313 },
  { cup: "ford-4", seconds: 64, centistokes: 229.113 },
  { cup: "iso-4", seconds: 30, centistokes: 34.433 },
  { cup: "iso-4", seconds: 50, centistokes: 64.5 },
  { cup: "iso-4", seconds: 100, centistokes: 135 },
  { cup: "iso-5", seconds: 60, centistokes: 193.133 },
  { cup: "iso-6", seconds: 60, centistokes: 404.5 },
])("$seconds s in $cup are $centistokes mm²/s", ({ cup, seconds, centistokes }) => {
  const reading = cupReading(cup, seconds);
  expect(reading.kind).toBe("in-range");
  if (reading.kind === "in-range") expect(reading.centistokes).toBeCloseTo(centistokes, 2);
});

// source: a calibration oil of 120 cSt runs 58 s in Ford 3 and 36 s in Ford 4, instrument maker's table, within 1.5 %
test("two Ford cups agree about one oil", () => {
  const found = [cupReading("ford-3", 58), cupReading("ford-4", 36)];
  for (const reading of found)
    expect(reading.kind === "in-range" && Math.abs(reading.centistokes / 120 - 1)).toBeLessThan(0.015);
});

test.each<{ cup: Cup; seconds: number; take: string }>([
  { cup: "zahn-2", seconds: 14, take: "finer-cup" },
  { cup: "zahn-2", seconds: 81, take: "coarser-cup" },
  { cup: "zahn-1", seconds: 34.9, take: "finer-cup" },
  { cup: "ford-2", seconds: 39, take: "finer-cup" },
  { cup: "iso-4", seconds: 101, take: "coarser-cup" },
])("$seconds s in $cup are no figure but a reason for a $take", ({ cup, seconds, take }) => {
  expect(cupReading(cup, seconds)).toMatchObject({ kind: "outside", take });
});

test("100 mm²/s of a paint of 1.25 kg/L are 125 mPa·s", () => {
  expect(millipascalSeconds(100, 1.25)).toBe(125);
});

// source: definition of the pound cut; 1.14 kg/L of shellac and 789 g/L of ethanol, from memory
test.each([
  { cut: 1, flakes: 119.8, solids: 9.51, alcohol: 714 },
  { cut: 2, flakes: 239.7, solids: 17.37, alcohol: 652 },
  { cut: 3, flakes: 359.5, solids: 23.97, alcohol: 600 },
])("a $cut lb cut is $flakes g of flakes to the litre and $solids % solids", ({ cut, flakes, solids, alcohol }) => {
  expect(flakesGramsPerLitre(cut)).toBeCloseTo(flakes, 1);
  expect(cutSolidsPercent(cut)).toBeCloseTo(solids, 2);
  expect(cutAlcoholGramsPerLitre(cut)).toBeCloseTo(alcohol, 0);
});

test("volatile compounds less water are more than in the coating as it is", () => {
  // source: definition in US regional wood-coating rules; by hand 80 / (1 − 0.45)
  expect(volatileLessWater({ volatileGrams: 80, litres: 1, waterLitres: 0.45, exemptLitres: 0 })).toBeCloseTo(
    145.455,
    3,
  );
  expect(volatileOfMaterial({ volatileGrams: 80, litres: 1 })).toBe(80);
});

test("alcohol adds to what a coating gives off, water only makes it less per litre", () => {
  // by hand: (550 + 0.1 × 789) / 1.1
  expect(volatileThinned(550, 0.1, 789)).toBeCloseTo(571.727, 3);
  expect(volatileThinned(50, 1 / 3, 0)).toBeCloseTo(37.5, 9);
});

// source: ASTM E11 openings, from memory
test.each([
  [40, 425],
  [60, 250],
  [80, 180],
  [100, 150],
  [120, 125],
  [200, 75],
] as const)("mesh %i lets %i µm through", (mesh, micrometres) => {
  expect(openingByMesh[mesh]).toBe(micrometres);
});

test("paint through a 1.8 mm nozzle takes the medium cone, clear coats the fine one", () => {
  // source: common practice; at most half the bore
  expect(strainerFor("water-borne-paint", 1800)).toMatchObject({ grade: "medium", passesNozzle: true });
  expect(strainerFor("water-borne-clear", 1300)).toMatchObject({ grade: "fine", passesNozzle: true });
});

test("a nozzle too fine for the medium cone asks for the fine one, and says where even that is too wide", () => {
  expect(strainerFor("water-borne-paint", 400)).toMatchObject({ grade: "fine", passesNozzle: true });
  expect(strainerFor("water-borne-paint", 200)).toMatchObject({ grade: "fine", passesNozzle: false });
});

test("no sieve or cone that is offered lets through more than half the bore", () => {
  for (let nozzle = 150; nozzle <= 2500; nozzle += 50) {
    const mesh = widestMesh(nozzle);
    expect(mesh === undefined || openingByMesh[mesh] <= nozzle / 2).toBe(true);
    const cone = strainerFor("chalk-paint", nozzle);
    expect(cone.passesNozzle).toBe(strainerGrades[cone.grade] <= nozzle / 2);
  }
});
