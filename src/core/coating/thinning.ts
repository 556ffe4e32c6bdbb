/**
 * Thinner in a mix. "3 to 1" and "10 %" are two ways of writing it, and each is only ever read as what it says: parts are
 * parts of paint to parts of thinner, a per cent is of the paint and never of the mix.
 */
export type Thinning = { by: "parts"; paint: number; thinner: number } | { by: "percent"; ofPaint: number };

/**
 * Thinner for each volume of paint.
 *
 * @returns 0 for none; 0.3333 for 3 to 1; 0.1 for 10 %
 * @source arithmetic; that a thinning per cent is of the paint by volume is common practice
 * @example thinnerShare({ by: "parts", paint: 3, thinner: 1 }) // 0.3333
 */
export const thinnerShare = (thinning: Thinning) =>
  thinning.by === "parts" ? thinning.thinner / thinning.paint : thinning.ofPaint / 100;

/**
 * How much of the whole mix is thinner: never the same number as the per cent on the can.
 *
 * @returns %
 * @example thinnerPercentOfMix({ by: "parts", paint: 3, thinner: 1 }) // 25.0
 */
export const thinnerPercentOfMix = (thinning: Thinning) => {
  const share = thinnerShare(thinning);
  return (100 * share) / (1 + share);
};

/**
 * Volume solids of the thinned mix: all that is solid still comes from the paint.
 *
 * @returns %
 * @source volume solids of a mixture, ISO 3233
 * @example thinnedSolidsPercent(40, { by: "parts", paint: 4, thinner: 1 }) // 32
 */
export const thinnedSolidsPercent = (volumeSolidsPercent: number, thinning: Thinning) =>
  volumeSolidsPercent / (1 + thinnerShare(thinning));

/**
 * A mix taken apart again; the two parts are the whole.
 *
 * @returns mL
 * @example splitMix(600, { by: "parts", paint: 3, thinner: 1 }).paintMillilitres // 450
 */
export const splitMix = (millilitres: number, thinning: Thinning) => {
  const paintMillilitres = millilitres / (1 + thinnerShare(thinning));
  return { paintMillilitres, thinnerMillilitres: millilitres - paintMillilitres };
};

/** No thinner at all. */
export const unthinned: Thinning = { by: "percent", ofPaint: 0 };
