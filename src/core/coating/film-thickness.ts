/**
 * How thick a film is while it is wet and once it has dried. A flat, closed surface is meant: bare wood drinks a part of
 * the first coat, and matt paints read thicker than computed.
 */

/**
 * The dry film that a wet one leaves.
 *
 * @param wetFilmMicrometres µm of the mix as laid
 * @param volumeSolidsPercent of the product before thinning, 1…100
 * @param thinnerShare thinner per volume of product, 0 for none, 0.1 for "10 %"
 * @returns µm
 * @source ISO 23811 (film from volume solids); volume solids by ISO 3233 or ASTM D2697
 * @example dryFilmMicrometres(120, 38, 1 / 3) // 34.2
 */
export const dryFilmMicrometres = (wetFilmMicrometres: number, volumeSolidsPercent: number, thinnerShare = 0) =>
  (wetFilmMicrometres * volumeSolidsPercent) / 100 / (1 + thinnerShare);

/**
 * The wet film to lay, and to look for with the gauge, for a dry film that is wanted.
 *
 * @param dryFilm µm
 * @param volumeSolidsPercent of the product before thinning, 1…100
 * @param thinnerShare thinner per volume of product
 * @returns µm
 * @source ISO 23811
 * @example wetFilmMicrometres(40, 40, 0.1) // 110
 */
export const wetFilmMicrometres = (dryFilm: number, volumeSolidsPercent: number, thinnerShare = 0) =>
  (dryFilm * (1 + thinnerShare) * 100) / volumeSolidsPercent;

/**
 * Between which notches a wet film lies: the deepest that was wetted and the next one that stayed dry. Read within seconds
 * of spraying; of no use on very fast lacquers.
 *
 * @returns µm from and to; nothing where the comb says nothing, because every notch is wet or none is
 * @source ASTM D4414
 */
export const notchGaugeMicrometres = (
  wetted: readonly number[],
  dry: readonly number[],
): { from: number; to: number } | undefined =>
  wetted.length === 0 || dry.length === 0 ? undefined : { from: Math.max(...wetted), to: Math.min(...dry) };

/**
 * How long several thin coats dry together, against one coat as thick as all of them: what leaves a film must cross it, so
 * the time goes with the square of the thickness. Two coats of half the film need half the time of one.
 *
 * @source diffusion time, thickness squared; that thin coats dry sooner is common practice
 * @example thinCoatsTimeRatio([0.5, 0.5]) // 0.5
 */
export const thinCoatsTimeRatio = (partsOfFilm: readonly number[]) =>
  partsOfFilm.reduce((sum, part) => sum + part ** 2, 0);
