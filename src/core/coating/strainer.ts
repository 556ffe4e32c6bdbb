import type { Family } from "../shop/entities/products";

/** Openings of wire cloth by its number, µm. Source: ASTM E11, from memory. */
export const openingByMesh = { 40: 425, 60: 250, 80: 180, 100: 150, 120: 125, 200: 75 } as const;
export type Mesh = keyof typeof openingByMesh;

/** Paper cones as they are sold: the widest opening of each grade, µm. Source: common practice. */
export const strainerGrades = { coarse: 400, medium: 230, fine: 150 } as const;
export type StrainerGrade = keyof typeof strainerGrades;

/** Clear coats show every speck; thick paint would not go through a fine cone. Source: common practice. */
const clearFamilies: readonly Family[] = [
  "water-borne-clear",
  "oil-varnish",
  "shellac",
  "lacquer",
  "two-component",
  "drying-oil",
];

/**
 * @param nozzleMicrometres the bore of the gun's nozzle
 * @source common practice: an opening of at most half the bore
 * @example widestOpeningMicrometres(1400) // 700
 */
export const widestOpeningMicrometres = (nozzleMicrometres: number) => nozzleMicrometres / 2;

export type StrainerChoice = { grade: StrainerGrade; openingMicrometres: number; passesNozzle: boolean };

/**
 * The cone for a product: fine for clear coats, medium for the rest, and finer where the nozzle asks for it.
 *
 * @returns `passesNozzle` false where even the fine cone lets through more than half the bore
 */
export const strainerFor = (family: Family, nozzleMicrometres: number): StrainerChoice => {
  const widest = widestOpeningMicrometres(nozzleMicrometres);
  const usual: StrainerGrade = clearFamilies.includes(family) ? "fine" : "medium";
  const grade = strainerGrades[usual] <= widest ? usual : "fine";
  return { grade, openingMicrometres: strainerGrades[grade], passesNozzle: strainerGrades[grade] <= widest };
};

/**
 * The widest sieve that still keeps back what would block the nozzle.
 *
 * @returns mesh number, or nothing where none of them is fine enough
 * @source ASTM E11 openings, half-bore rule of common practice
 * @example widestMesh(500) // 60
 */
export const widestMesh = (nozzleMicrometres: number): Mesh | undefined =>
  (Object.keys(openingByMesh).map(Number) as Mesh[])
    .sort((one, other) => one - other)
    .find((mesh) => openingByMesh[mesh] <= widestOpeningMicrometres(nozzleMicrometres));
