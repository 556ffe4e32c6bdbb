/**
 * How far a product goes: by the film alone (theoretical), and with what misses the piece (practical). One square metre
 * under one micrometre is one millilitre.
 */

/** Litres in a US gallon, exact: 231 in³ of 2.54 cm. */
export const litresPerGallon = 3.785411784;
/** Micrometres in a mil, a thousandth of an inch; exact. */
export const micrometresPerMil = 25.4;
/** Square feet that one US gallon covers one mil thick: 231 in³ / 0.001 in / 144 in² a square foot. */
export const exactSquareFeetMils = 231 / 0.001 / 144;
/** The same as US data sheets round it. */
export const usualSquareFeetMils = 1604;

/**
 * Theoretical spreading rate.
 *
 * @param volumeSolidsPercent 1…100
 * @param dryFilmMicrometres µm, above 0
 * @returns m²/L
 * @source ISO 23811
 * @example spreadSquareMetresPerLitre(65, 125) // 5.2
 */
export const spreadSquareMetresPerLitre = (volumeSolidsPercent: number, dryFilmMicrometres: number) =>
  (10 * volumeSolidsPercent) / dryFilmMicrometres;

/**
 * Theoretical spreading rate as US data sheets write it.
 *
 * @param squareFeetMils the constant: 1604 as printed, or the exact one
 * @returns ft² per US gallon
 * @source convention of US data sheets
 * @example spreadSquareFeetPerGallon(65, 5) // 208.52
 */
export const spreadSquareFeetPerGallon = (
  volumeSolidsPercent: number,
  dryFilmMils: number,
  squareFeetMils = usualSquareFeetMils,
) => (squareFeetMils * volumeSolidsPercent) / 100 / dryFilmMils;

/**
 * Practical spreading rate, in the unit of the theoretical one.
 *
 * @param transferPercent how much of what leaves the gun or brush stays on the piece
 * @source convention of data sheets
 * @example practicalSpread(10, 65) // 6.5
 */
export const practicalSpread = (theoreticalSpread: number, transferPercent: number) =>
  (theoreticalSpread * transferPercent) / 100;

/** "30 % loss" leaves 70 % on the piece. */
export const transferPercentOfLoss = (lossPercent: number) => 100 - lossPercent;
/** "Loss factor 1.43" is the same loss, written as what one must buy for each unit that stays. */
export const transferPercentOfLossFactor = (lossFactor: number) => 100 / lossFactor;

/** How a coat is laid, as far as it decides how much of it stays on the piece. */
export const layingMethods = [
  "brush",
  "roller",
  "hvlp",
  "hvlp-small",
  "air-assisted-airless",
  "airless",
  "air-spray",
  "aerosol",
] as const;
export type LayingMethod = (typeof layingMethods)[number];

/**
 * The usual range in per cent, and the figure from its careful end that a shop starts with. Sources: HVLP 50 to 65 %, EPA
 * pollution-prevention literature, and 65 % as the criterion of US regional spray rules; all else common practice.
 */
export const transferByMethod: Record<LayingMethod, { from: number; to: number; usual: number }> = {
  brush: { from: 90, to: 98, usual: 90 },
  roller: { from: 85, to: 95, usual: 85 },
  hvlp: { from: 50, to: 65, usual: 55 },
  // chairs, spindles, frames: most of the fan goes past
  "hvlp-small": { from: 30, to: 45, usual: 35 },
  "air-assisted-airless": { from: 40, to: 65, usual: 50 },
  airless: { from: 40, to: 60, usual: 45 },
  "air-spray": { from: 20, to: 40, usual: 30 },
  aerosol: { from: 20, to: 60, usual: 30 },
};

/**
 * What to have in the cup for an area, by the wet film: the mix as it is laid, thinner and all.
 *
 * @param area m²
 * @param wetFilmMicrometres µm of each coat
 * @param transferPercent above 0…100
 * @param coats 1…
 * @returns mL
 * @source practical spreading rate, ISO 23811 with the loss of the method
 * @example mixMillilitres({ squareMetres: 2.9, wetFilmMicrometres: 25 / 0.28, transferPercent: 55, coats: 2 }) // 941.6
 */
export const mixMillilitres = (coat: {
  squareMetres: number;
  wetFilmMicrometres: number;
  transferPercent: number;
  coats: number;
}) => (coat.squareMetres * coat.wetFilmMicrometres * coat.coats * 100) / coat.transferPercent;

/**
 * Gallons for an area, as US data sheets reckon.
 *
 * @returns US gallons
 * @example gallonsNeeded({ squareFeet: 45, dryFilmMils: 1.5, volumeSolidsPercent: 35, transferPercent: 50, coats: 2 }) // 0.4809
 */
export const gallonsNeeded = (coat: {
  squareFeet: number;
  dryFilmMils: number;
  volumeSolidsPercent: number;
  transferPercent: number;
  coats: number;
}) =>
  (coat.squareFeet * coat.coats) /
  practicalSpread(spreadSquareFeetPerGallon(coat.volumeSolidsPercent, coat.dryFilmMils), coat.transferPercent);
