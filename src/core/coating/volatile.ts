/** Volatile organic compounds, in grams per litre, as US rules write them. The sheet and the local rule outrank this. */
import type { Solvent } from "../shop/entities/products";

/** What a litre of thinner weighs, all of it volatile: g/L at 20 °C. Source: the usual handbook densities, from memory. */
export const solventGramsPerLitre: Record<Solvent, number> = {
  ethanol: 789,
  isopropanol: 785,
  acetone: 791,
  toluene: 867,
  xylene: 864,
  "n-butyl-acetate": 882,
  "mineral-spirits": 780,
};

/**
 * Grams per litre of the coating as it is, water and exempt solvents counted in.
 *
 * @example volatileOfMaterial({ volatileGrams: 80, litres: 1 }) // 80
 */
export const volatileOfMaterial = (coating: { volatileGrams: number; litres: number }) =>
  coating.volatileGrams / coating.litres;

/**
 * Grams per litre less water and exempt solvents: what most US limits for coatings are written against.
 *
 * @source definition in US regional wood-coating rules, (Ws − Ww − Wes) / (Vm − Vw − Ves)
 * @example volatileLessWater({ volatileGrams: 80, litres: 1, waterLitres: 0.45, exemptLitres: 0 }) // 145.455
 */
export const volatileLessWater = (coating: {
  volatileGrams: number;
  litres: number;
  waterLitres: number;
  exemptLitres: number;
}) => coating.volatileGrams / (coating.litres - coating.waterLitres - coating.exemptLitres);

/**
 * What thinner makes of it. Water is thinner without volatile compounds; every solvent is one.
 *
 * @param thinnerShare thinner per volume of product
 * @param thinnerGramsPerLitre volatile grams in a litre of the thinner: 0 for water, 789 for ethanol
 * @returns g/L of the mix as it is sprayed
 * @source mass over volume, no shrinking on mixing assumed
 * @example volatileThinned(550, 0.1, 789) // 571.727
 */
export const volatileThinned = (gramsPerLitre: number, thinnerShare: number, thinnerGramsPerLitre: number) =>
  (gramsPerLitre + thinnerShare * thinnerGramsPerLitre) / (1 + thinnerShare);
