export type CupLoads = { fullCups: number; restMillilitres: number };

/** Less than this in the last cup is what sticks to its wall. */
const nothingMillilitres = 1e-6;

/**
 * A mix in cups of the gun: so many full ones, and what is left for a last one. Together they are the mix.
 *
 * @param cupMillilitres above 0
 * @example cupLoads(942, 600).restMillilitres // 342
 */
export const cupLoads = (mixMillilitres: number, cupMillilitres: number): CupLoads => {
  const fullCups = Math.floor((mixMillilitres + nothingMillilitres) / cupMillilitres);
  return { fullCups, restMillilitres: Math.max(0, mixMillilitres - fullCups * cupMillilitres) };
};
