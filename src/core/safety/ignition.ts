import type { Family } from "../shop/entities/products";
import { type SolventId, solvents } from "../tables/solvents";
import { flammableCategory } from "./ventilation";

/** Products whose vapour burns: borne by solvent or alcohol. Common practice; the data sheet decides. */
const flammableFamilies: readonly Family[] = [
  "oil-varnish",
  "alkyd-enamel",
  "shellac",
  "shellac-blocker",
  "lacquer",
  "two-component",
  "wax",
  "oil-stain",
  "stripper",
  "thinner",
];

/**
 * Whether vapour of a product burns, by its generic type or by the solvent on its sheet. Categories 1 to 3 count: they
 * flash at 60 °C or below, within reach of a lamp or a heater.
 */
export const isFlammable = (family: Family, solvent?: SolventId): boolean => {
  if (flammableFamilies.includes(family)) return true;
  if (solvent === undefined) return false;
  const { flashCelsius, boilingCelsius } = solvents[solvent];
  return (flammableCategory(flashCelsius, boilingCelsius) ?? 4) <= 3;
};
