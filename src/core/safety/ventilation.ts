/**
 * How much air keeps solvent vapour below a share of what can burn. These are fire minima, and no more: the limits for
 * breathing are far lower. The data sheet, the local code and those who are licensed for it decide; and where a flame or
 * a spark is near, no amount of air makes it right.
 */
import { litresPerGallon } from "../coating/spreading";
import { type Solvent, smallestLimitPercent } from "../tables/solvents";

/** Exact by definition. */
const litresPerCubicFoot = 28.316846592;
/** One mole of gas at 20 °C and one atmosphere, in litres. */
const molarLitres = 24.055;

/**
 * The share of the lower explosive limit under which a room is kept: a quarter by OSHA 1910.94 and most codes in the
 * United States, a fifth in California (Title 8 section 5153).
 */
export const keptUnder = { quarter: 0.25, fifth: 0.2 } as const;

/** Air does not mix evenly: 1 where it would, 10 at worst; 4 for a garage with a fan. Common practice. */
export const garageMixing = 4;

/**
 * Air that thins the vapour of one US gallon of solvent to a share of its lower explosive limit, in cubic feet.
 *
 * @param share of the lower explosive limit, 0 to 1
 * @source 29 CFR 1910.94(c)(6)(ii): 4 × (100 − LEL) × C / LEL for a quarter
 * @example dilutionCubicFeetPerGallon({ vapourCubicFeetPerGallon: 30.4, lowerLimitPercent: 1.4 }) // 8564.1
 */
export const dilutionCubicFeetPerGallon = (
  { vapourCubicFeetPerGallon, lowerLimitPercent }: Pick<Solvent, "vapourCubicFeetPerGallon" | "lowerLimitPercent">,
  share: number = keptUnder.quarter,
): number => ((100 - lowerLimitPercent) * vapourCubicFeetPerGallon) / (lowerLimitPercent * share);

/** The same for one litre, in cubic metres. */
export const dilutionCubicMetresPerLitre = (
  solvent: Pick<Solvent, "vapourCubicFeetPerGallon" | "lowerLimitPercent">,
  share: number = keptUnder.quarter,
): number => (dilutionCubicFeetPerGallon(solvent, share) * litresPerCubicFoot) / 1000 / litresPerGallon;

export type JobAir = {
  /** Pure vapour that the job gives off. */
  vapourCubicMetresPerHour: number;
  /** Air and vapour together that must leave the room. */
  airCubicMetresPerHour: number;
};

/**
 * The air that must go through while a job gives off its solvent evenly, so that what leaves holds no more than a share
 * of the lower explosive limit. All of the solvent counts, whether it lands on the piece or not.
 *
 * @param job litres laid, in how many minutes, and the share of solvent in them by volume
 * For instance a quart in 10 min, 75 % solvent of 23 ft³ a gallon with a limit of 1 %: 0.43 ft³/min of vapour, 172.5 of air.
 */
export const jobAir = (
  job: { litres: number; minutes: number; solventPercent: number },
  { vapourCubicFeetPerGallon, lowerLimitPercent }: Pick<Solvent, "vapourCubicFeetPerGallon" | "lowerLimitPercent">,
  share: number = keptUnder.quarter,
): JobAir => {
  const gallonsPerHour = ((job.litres / litresPerGallon) * (job.solventPercent / 100) * 60) / job.minutes;
  const vapourCubicMetresPerHour = (gallonsPerHour * vapourCubicFeetPerGallon * litresPerCubicFoot) / 1000;
  return {
    vapourCubicMetresPerHour,
    airCubicMetresPerHour: (vapourCubicMetresPerHour * 100) / (lowerLimitPercent * share),
  };
};

/**
 * The lower explosive limit as mass, in grams per cubic metre at 20 °C.
 *
 * @example lowerLimitGramsPerCubicMetre(3.3, 46.07) // 63.20
 */
export const lowerLimitGramsPerCubicMetre = (lowerLimitPercent: number, gramsPerMole: number): number =>
  ((lowerLimitPercent / 100) * gramsPerMole * 1000) / molarLitres;

/**
 * The steady flow through a room in which so much solvent evaporates every hour, in cubic metres an hour.
 *
 * @param allowedGramsPerCubicMetre what the room may hold: a share of the limit as mass
 * @param mixingFactor 1 for perfect mixing to 10; see `garageMixing`
 */
export const steadyAirCubicMetresPerHour = (
  gramsPerHour: number,
  allowedGramsPerCubicMetre: number,
  mixingFactor: number = garageMixing,
): number => (mixingFactor * gramsPerHour) / allowedGramsPerCubicMetre;

/** Solvent that leaves a coat, in grams: all of it, whether the spray lands on the piece or not. */
export const vapourGrams = (coat: { millilitres: number; vocGramsPerLitre: number }): number =>
  (coat.millilitres / 1000) * coat.vocGramsPerLitre;

/**
 * Wet product that misses the piece in a spray session, in grams.
 *
 * @param session.transferPercent what lands of what leaves the gun; see `transferByMethod`
 */
export const oversprayGrams = (session: {
  millilitres: number;
  densityGramsPerLitre: number;
  transferPercent: number;
}): number => (session.millilitres / 1000) * session.densityGramsPerLitre * (1 - session.transferPercent / 100);

/** Grams in a cubic metre of air at the lower explosive limit; for mixtures of petroleum by what a gallon gives off. */
const gramsAtLimit = (solvent: Solvent): number => {
  const limitPercent = smallestLimitPercent(solvent);
  if (solvent.gramsPerMole !== undefined) return lowerLimitGramsPerCubicMetre(limitPercent, solvent.gramsPerMole);
  const vapourLitres = (solvent.vapourCubicFeetPerGallon * litresPerCubicFoot) / litresPerGallon;
  return ((limitPercent / 100) * solvent.gramsPerMillilitre * 1_000_000) / vapourLitres;
};

/**
 * The air to move while a coat is laid and its solvent leaves, by what its sheet says: a quarter of the smallest limit in
 * print, mixed as in a garage. Without a figure for solvent on the sheet all that is not solids counts as solvent.
 *
 * @param coat what is laid, and over how many minutes its solvent leaves
 * @returns cubic metres an hour; nothing where the sheet says too little
 */
export const coatAirCubicMetresPerHour = (
  coat: { millilitres: number; minutes: number },
  sheet: { solvent: Solvent; vocGramsPerLitre?: number; volumeSolidsPercent?: number },
): number | undefined => {
  const { solvent, vocGramsPerLitre, volumeSolidsPercent } = sheet;
  if (vocGramsPerLitre !== undefined) {
    const gramsPerHour = (vapourGrams({ ...coat, vocGramsPerLitre }) * 60) / coat.minutes;
    return steadyAirCubicMetresPerHour(gramsPerHour, gramsAtLimit(solvent) * keptUnder.quarter);
  }
  if (volumeSolidsPercent === undefined) return undefined;
  const job = { litres: coat.millilitres / 1000, minutes: coat.minutes, solventPercent: 100 - volumeSolidsPercent };
  const air = jobAir(job, { ...solvent, lowerLimitPercent: smallestLimitPercent(solvent) });
  return air.airCubicMetresPerHour * garageMixing;
};

/**
 * The category of a flammable liquid, 1 to 4; nothing above 93 °C.
 *
 * @source GHS and 29 CFR 1910.1200 Appendix B, from memory
 */
export const flammableCategory = (flashCelsius: number, boilingCelsius: number): 1 | 2 | 3 | 4 | undefined => {
  if (flashCelsius < 23) return boilingCelsius <= 35 ? 1 : 2;
  if (flashCelsius <= 60) return 3;
  return flashCelsius <= 93 ? 4 : undefined;
};
