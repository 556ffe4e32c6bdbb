import { expect, test } from "vitest";
import { maskWords } from "~/ui/piece/caution-words";
import { airWords, coatCautions } from "~/ui/piece/coat-cautions";
import { aProduct, aSheet, paintSheet, shopWith } from "../../core/support/shop";

const shellac = shopWith({
  product: [aProduct({ family: "shellac" })],
  sheet: [aSheet({ solvent: "ethanol", vocGramsPerLitre: 700, wetFilmMicrometres: 75 })],
});
const coat = { sheetId: paintSheet, squareDecimetres: 200 };

test("a coat of shellac asks for so much air, and says that it is no breathing limit", () => {
  // 2 m² × 75 µm = 150 mL × 700 g/L = 105 g in 15 min = 420 g/h; a quarter of 63.2 g/m³; four times for a garage: 106
  const words = airWords(shellac, { coats: [coat], minutes: 15 }) ?? "";
  expect(words).toContain("110 m³ an hour (63 cubic feet a minute)");
  expect(words).toContain("a fire minimum, not a breathing limit");
});

test("until the time is known it is told for a litre: 55.2 ft³ of vapour a gallon at 3.3 %", () => {
  // 4 × (100 − 3.3) × 55.2 ÷ 3.3 = 6470 ft³ a gallon = 48.4 m³ a litre. Source: 29 CFR 1910.94(c)(6)(ii)
  expect(airWords(shellac, { coats: [coat] })).toContain("48 m³ for every litre of solvent");
});

test("nothing is said of a solvent that the sheet does not name", () => {
  const unnamed = shopWith({ product: [aProduct({ family: "shellac" })], sheet: [aSheet()] });
  expect(airWords(unnamed, { coats: [coat], minutes: 15 })).toBeUndefined();
});

test("a sprayed two-component coat wants supplied air, whatever else is worn", () => {
  const facts = shopWith({ product: [aProduct({ family: "two-component" })], sheet: [aSheet()] });
  const cautions = coatCautions(facts, { coats: [coat], isSprayed: true });
  expect(cautions.map(({ id }) => id)).toEqual([
    "isocyanate-air",
    "flame-near-vapour",
    "flammables-apart",
    "overspray",
  ]);
  expect(maskWords(cautions)).toBe("Mask that fits your face: supplied air, not a cartridge.");
});
