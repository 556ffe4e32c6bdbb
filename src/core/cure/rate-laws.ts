/**
 * How much a minute of some air is worth against a minute of the sheet's own air, by what the film hardens by. A sheet
 * that names no rule, or "doubling", counts by the shop's simple rule; "mechanism" asks for the law of the process that
 * holds a film of that kind back, and glue always has its own. Each law is a ratio to the sheet's reference, so that it is 1 there by construction.
 */
import { saturationPressureHectopascal } from "../climate/dew-point";
import type { Mechanism } from "../shop/entities/products";
import type { Sheet } from "../shop/tables";
import { type Antoine, antoineBySolvent } from "../tables/antoine";

/** The part of a data sheet that says how fast its film hardens. */
export type CureReference = Pick<
  Sheet,
  | "mechanism"
  | "referenceCelsius"
  | "referenceHumidityPercent"
  | "minimumCelsius"
  | "rateRule"
  | "activationKilojoules"
  | "solvent"
  | "chalkCelsius"
>;

/** Water that leaves a film: as the air's deficit of water vapour over that of the reference air. */
export type Drying = {
  referenceHectopascal: number;
  /** Below this share of the reference deficit nothing dries. */
  leastShare: number;
};

export type RateLaw = {
  /** What a minute at this temperature (°C) is worth; never falling as it gets warmer. */
  byWarmth: (celsius: number) => number;
  /** Where water must leave as well, the slower of the two counts. */
  drying?: Drying;
  /** Below it nothing happens at all. */
  nothingBelowCelsius: number;
};

/** 50 kJ/mol for a mixed shop. Source: common practice for coatings; 30 to 80 are in print for single systems. */
const usualActivationKilojoules = 50;
/** Air with less room for water dries nothing. Source: common practice, 0.15 kPa. */
const leastDeficitHectopascal = 1.5;
/** What holds water is ice below. */
const freezingCelsius = 0;
const zeroCelsiusKelvin = 273.15;
/** Molar gas constant, kJ/(mol·K). Source: CODATA 2018, exact. */
const gasKilojoules = 8.314_462_618e-3;

/**
 * Twice as fast for every 10 °C. Source of the factor 2 per 10 °C is ASTM F1980, where it is the customary value for
 * ageing tests; that it suits films is common practice, not a maker's promise.
 *
 * @example doublingFactor(15, 25) // 0.5
 */
export const doublingFactor = (celsius: number, referenceCelsius: number) => 2 ** ((celsius - referenceCelsius) / 10);

/**
 * How much faster a reaction runs than at a reference temperature.
 *
 * @param celsius °C
 * @param referenceCelsius °C
 * @param activationKilojoules kJ/mol
 * @returns 1 at the reference, below 1 in the cold
 * @source Arrhenius, in the form of ASTM C1074, equation 2
 * @example arrheniusFactor(10, 23, 50) // 0.3937
 */
export const arrheniusFactor = (celsius: number, referenceCelsius: number, activationKilojoules: number) =>
  Math.exp(
    (-activationKilojoules / gasKilojoules) *
      (1 / (celsius + zeroCelsiusKelvin) - 1 / (referenceCelsius + zeroCelsiusKelvin)),
  );

/** From here down the trade's rule for glue counts, 70 °F; a sheet may be written for warmer air, not for colder. */
const glueReferenceFahrenheit = 70;
const fahrenheit = (celsius: number) => 1.8 * celsius + 32;

/**
 * White and yellow glue: half as fast for every 15 °F below 70 °F, and no faster above it. Source: the trade's rule for
 * clamps; common practice.
 *
 * @example glueFactor(12.8, 21) // 0.50
 */
export const glueFactor = (celsius: number, referenceCelsius: number) => {
  const reference = Math.max(glueReferenceFahrenheit, fahrenheit(referenceCelsius));
  return Math.min(1, 2 ** ((fahrenheit(celsius) - reference) / 15));
};

/** The constants are also used some degrees below the range to which they were fitted, where they run on smoothly. */
const vapourBar = ({ a, b, c }: Antoine, celsius: number) => 10 ** (a - b / (celsius + zeroCelsiusKelvin + c));

const antoineOf = (solvent: CureReference["solvent"]): Antoine | undefined => {
  switch (solvent) {
    case "ethanol":
    case "isopropanol":
    case "acetone":
    case "toluene":
      return antoineBySolvent[solvent];
    case "xylene":
      return antoineBySolvent["o-xylene"];
    default:
      return undefined;
  }
};

type LawOf = (reference: CureReference) => RateLaw;

const byDoubling: LawOf = ({ referenceCelsius, minimumCelsius }) => ({
  byWarmth: (celsius) => doublingFactor(celsius, referenceCelsius),
  nothingBelowCelsius: minimumCelsius,
});

/**
 * A solvent leaves as its vapour pressure drives it. Where the sheet names none, or one without constants in the table,
 * doubling stands in: it falls faster in the cold than any of them, so it may only delay.
 */
const bySolvent: LawOf = (reference) => {
  const antoine = antoineOf(reference.solvent);
  if (!antoine) return byDoubling(reference);
  const atReference = vapourBar(antoine, reference.referenceCelsius);
  return {
    byWarmth: (celsius) => vapourBar(antoine, celsius) / atReference,
    nothingBelowCelsius: reference.minimumCelsius,
  };
};

/** Source: ASTM C1074 gives the form, for cement; that it suits films, and the energy, are conventions. */
const byReaction: LawOf = ({ activationKilojoules, referenceCelsius, minimumCelsius }) => ({
  byWarmth: (celsius) => arrheniusFactor(celsius, referenceCelsius, activationKilojoules ?? usualActivationKilojoules),
  nothingBelowCelsius: minimumCelsius,
});

/** Water leaves as the air has room for it. Source: Dalton's law; the plain ratio for a paint is common practice. */
const dryingOf = ({ referenceCelsius, referenceHumidityPercent }: CureReference): { drying?: Drying } => {
  const referenceHectopascal = saturationPressureHectopascal(referenceCelsius) * (1 - referenceHumidityPercent / 100);
  // a sheet written for air that is full would divide by nothing: there only warmth can count
  if (referenceHectopascal <= 0) return {};
  return { drying: { referenceHectopascal, leastShare: Math.min(1, leastDeficitHectopascal / referenceHectopascal) } };
};

const lawByMechanism: Record<Mechanism, LawOf> = {
  // what is left of the water's film must flow together, which takes warmth: the slower of the two
  "water-borne": (reference) => ({
    ...byReaction({ ...reference, activationKilojoules: usualActivationKilojoules }),
    ...dryingOf(reference),
  }),
  solvent: bySolvent,
  wax: bySolvent,
  oxidative: byReaction,
  reactive: byReaction,
  glue: ({ referenceCelsius, chalkCelsius, minimumCelsius }) => ({
    byWarmth: (celsius) => glueFactor(celsius, referenceCelsius),
    nothingBelowCelsius: chalkCelsius ?? minimumCelsius,
  }),
  // nothing has to flow together: it dries, or it is frozen
  filler: (reference) => {
    const { drying } = dryingOf(reference);
    const warmth = drying ? Number.POSITIVE_INFINITY : 1;
    return { byWarmth: () => warmth, ...(drying && { drying }), nothingBelowCelsius: freezingCelsius };
  },
};

/** Glue knows no simple rule: below its chalk temperature nothing that doubles would stop. */
const goesByMechanism = ({ rateRule, mechanism }: CureReference) => rateRule === "mechanism" || mechanism === "glue";

/** The law by which the film of a sheet hardens. */
export const rateLaw = (reference: CureReference): RateLaw =>
  goesByMechanism(reference) ? lawByMechanism[reference.mechanism](reference) : byDoubling(reference);

/** Two sheets with the same key harden by the same law. */
export const rateLawKey = (reference: CureReference): string =>
  [
    goesByMechanism(reference) ? reference.mechanism : "doubling",
    reference.referenceCelsius,
    reference.minimumCelsius,
    ...(goesByMechanism(reference)
      ? [reference.referenceHumidityPercent, reference.activationKilojoules, reference.solvent, reference.chalkCelsius]
      : []),
  ].join(" ");
