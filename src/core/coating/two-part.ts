/**
 * Base and hardener. The ratio is hardener per thousand parts of base by volume, so that "1.5 fl oz to the gallon" and
 * "1 to 1" are the same sort of number. The ratio on the can outranks anything here.
 */

/** How far a pour may be off before a remark: 5 % of the hardener. Common practice of two-part finishes. */
export const ratioTolerancePercent = 5;

/**
 * @returns hardener in the unit in which the base was given
 * @example hardenerFor(950, 100) // 95
 */
export const hardenerFor = (base: number, hardenerPartsPerMille: number) => (base * hardenerPartsPerMille) / 1000;

/**
 * @returns base in the unit in which the hardener was given
 * @example baseFor(95, 100) // 950
 */
export const baseFor = (hardener: number, hardenerPartsPerMille: number) => (hardener * 1000) / hardenerPartsPerMille;

/**
 * A product taken apart into base and hardener; the two parts are the whole.
 *
 * @returns mL
 * @example splitProduct(1100, 100).baseMillilitres // 1000
 */
export const splitProduct = (millilitres: number, hardenerPartsPerMille: number) => {
  const baseMillilitres = (millilitres * 1000) / (1000 + hardenerPartsPerMille);
  return { baseMillilitres, hardenerMillilitres: millilitres - baseMillilitres };
};

export type Pour = { base: number; hardener: number };

/**
 * What to add so that a pour is right again. Nothing can be taken out of a pot: too much hardener asks for base, too much
 * base for hardener, and one of the two is always nothing.
 *
 * @param poured base and hardener, both in one unit
 * @source arithmetic; 1.5 fl oz to a US gallon and 2 fl oz poured ask for 0.333 gallon (42.7 fl oz) of base
 * @example correctedPour({ base: 128, hardener: 2 }, (1.5 / 128) * 1000).base // 42.67
 */
export const correctedPour = (poured: Pour, hardenerPartsPerMille: number): Pour => ({
  base: Math.max(0, baseFor(poured.hardener, hardenerPartsPerMille) - poured.base),
  hardener: Math.max(0, hardenerFor(poured.base, hardenerPartsPerMille) - poured.hardener),
});

/**
 * How much more or less hardener than the ratio asks for.
 *
 * @returns % of the hardener that the base needs, above 0 for too much
 * @example hardenerOffPercent({ base: 1000, hardener: 110 }, 100) // 10.0
 */
export const hardenerOffPercent = (poured: Pour, hardenerPartsPerMille: number) =>
  (poured.hardener / hardenerFor(poured.base, hardenerPartsPerMille) - 1) * 100;
