import { litresPerGallon } from "./spreading";

/** Kilograms in a pound, exact. */
const kilogramsPerPound = 0.45359237;
/** kg/L of dry shellac. From memory. */
const shellacKilogramsPerLitre = 1.14;
/** g/L of ethanol at 20 °C. Source: the usual handbook figure, 0.789 kg/L. */
const ethanolGramsPerLitre = 789;

/**
 * What a "cut" means by the litre: pounds of dry flakes to a US gallon of alcohol.
 *
 * @param cutPounds 0.5…5
 * @returns g of flakes to each litre of alcohol
 * @source common practice; the pound and the gallon exact
 * @example flakesGramsPerLitre(2) // 239.7
 */
export const flakesGramsPerLitre = (cutPounds: number) => (cutPounds * kilogramsPerPound * 1000) / litresPerGallon;

/** Litres that the flakes of one litre of alcohol take up: no shrinking on mixing is assumed. */
const flakesLitres = (cutPounds: number) => flakesGramsPerLitre(cutPounds) / 1000 / shellacKilogramsPerLitre;

/**
 * Volume solids of a cut.
 *
 * @returns %
 * @source arithmetic with 1.14 kg/L for dry shellac (from memory)
 * @example cutSolidsPercent(2) // 17.37
 */
export const cutSolidsPercent = (cutPounds: number) => (100 * flakesLitres(cutPounds)) / (1 + flakesLitres(cutPounds));

/**
 * Alcohol in each litre of the cut, which is all of its solvent.
 *
 * @returns g/L
 * @example cutAlcoholGramsPerLitre(2) // 651.9
 */
export const cutAlcoholGramsPerLitre = (cutPounds: number) => ethanolGramsPerLitre / (1 + flakesLitres(cutPounds));
