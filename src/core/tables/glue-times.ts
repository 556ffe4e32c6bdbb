/**
 * How glues of the bench hold, by kind, at 23 °C. Source: common practice; the lowest temperatures of white and yellow
 * glue (55 °F and 50 °F) are the cautious ends of what glue makers print. The bottle in hand outranks every figure here.
 */
export type GlueTimes = {
  mechanism: "glue" | "reactive";
  /** Least air, wood and glue may have; for white and yellow glue the temperature below which the line turns to chalk. */
  minimumCelsius: number;
  chalkCelsius?: number;
  /** Until a skin forms or the glue gels: the short end. */
  openTimeMin?: number;
  clampMin: number;
  fullStrengthMin: number;
  potLifeMin?: number;
  /** Millilitres of hardener to a litre of resin. */
  hardenerPartsPerMille?: number;
};

export const glueKinds = ["white-glue", "yellow-glue", "hide-glue", "epoxy"] as const;
export type GlueKind = (typeof glueKinds)[number];

const pva = { mechanism: "glue", openTimeMin: 5, clampMin: 60, fullStrengthMin: 24 * 60 } as const;

export const glueTimesByKind: Record<GlueKind, GlueTimes> = {
  // 55 °F is 12.8 °C
  "white-glue": { ...pva, minimumCelsius: 13, chalkCelsius: 13 },
  // 40 to 50 °F in print; the warm end
  "yellow-glue": { ...pva, minimumCelsius: 10, chalkCelsius: 10 },
  // hot hide glue gels in about a minute, sooner on cold wood; overnight before stress. Lowest temperature from memory
  "hide-glue": { mechanism: "glue", minimumCelsius: 18, openTimeMin: 1, clampMin: 12 * 60, fullStrengthMin: 24 * 60 },
  // the long ends of 4 to 24 h and 3 to 7 days; two to one, as many sold for wood are, but the label decides
  epoxy: {
    mechanism: "reactive",
    minimumCelsius: 10,
    clampMin: 24 * 60,
    fullStrengthMin: 7 * 24 * 60,
    potLifeMin: 30,
    hardenerPartsPerMille: 500,
  },
};
