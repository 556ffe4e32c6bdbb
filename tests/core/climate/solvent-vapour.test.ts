import { expect, test } from "vitest";
import { solventVapourKilopascal } from "~/core/climate/solvent-vapour";
import type { AntoineSolvent } from "~/core/tables/antoine";

const kilopascal = (solvent: AntoineSolvent, celsius: number) => {
  const found = solventVapourKilopascal(solvent, celsius);
  return found.ok ? found.value : Number.NaN;
};

// source: NIOSH pocket guide, mmHg at 68 °F, from memory; it rounds to two figures (1 mmHg = 0.133322 kPa)
test.each([
  { solvent: "ethanol", mmHg: 44 },
  { solvent: "acetone", mmHg: 180 },
  { solvent: "toluene", mmHg: 21 },
  { solvent: "isopropanol", mmHg: 33 },
  { solvent: "water", mmHg: 17.5 },
] as const)("$solvent at 20 °C fills the air above it up to $mmHg mmHg", ({ solvent, mmHg }) => {
  expect(Math.abs(kilopascal(solvent, 20) / 0.133322 / mmHg - 1)).toBeLessThan(0.05);
});

// normal boiling points, NIST Chemistry WebBook: there the pressure is that of the air, 101.325 kPa
test.each([
  { solvent: "ethanol", celsius: 78.3 },
  { solvent: "acetone", celsius: 56.1 },
  { solvent: "isopropanol", celsius: 82.2 },
] as const)("$solvent boils at $celsius °C", ({ solvent, celsius }) => {
  expect(Math.abs(kilopascal(solvent, celsius) / 101.325 - 1)).toBeLessThan(0.01);
});

test("acetone leaves a film faster than ethanol, ethanol than isopropanol, that than toluene, all than xylene", () => {
  const found = (["acetone", "ethanol", "isopropanol", "toluene", "o-xylene"] as const).map((solvent) =>
    kilopascal(solvent, 23),
  );
  expect(found).toEqual([...found].sort((one, other) => other - one));
});

test("says how far its constants reach instead of going on beyond", () => {
  expect(solventVapourKilopascal("ethanol", 10)).toMatchObject({
    ok: false,
    refusal: { kind: "outside-range", label: "temperature", unit: "°C", found: 10 },
  });
  expect(solventVapourKilopascal("toluene", 60).ok).toBe(false);
  expect(solventVapourKilopascal("toluene", Number.NaN).ok).toBe(false);
});
