import * as z from "zod/mini";
import { text } from "../../text";
import { count, instant, quantity, shopDay } from "../../units";
import { canId, memberId, mixId, productId, roomId, sheetId, testId } from "./ids";
import { wraps } from "./pieces";

/** Generic types of finish, from the run of data sheets (common practice); a shop's product copies one and edits it. */
export const families = [
  "water-borne-paint",
  "chalk-paint",
  "milk-paint",
  "water-borne-clear",
  "water-borne-blocker",
  "oil-varnish",
  "alkyd-enamel",
  "shellac",
  "shellac-blocker",
  "lacquer",
  "two-component",
  "drying-oil",
  "oil-wax",
  "wax",
  "oil-stain",
  "glue",
  "filler",
  "clay",
  "stripper",
  "thinner",
] as const;
export type Family = (typeof families)[number];

/** How a film hardens. The rate law of each is in `cure/rate.ts`. */
export const mechanisms = ["water-borne", "solvent", "oxidative", "reactive", "wax", "glue", "filler"] as const;
export type Mechanism = (typeof mechanisms)[number];

/** The simple doubling for every 10 °C, or the law of the film's own mechanism. */
export const rateRules = ["doubling", "mechanism"] as const;

/** Solvents whose vapour pressure is tabulated. */
export const solvents = [
  "ethanol",
  "isopropanol",
  "acetone",
  "toluene",
  "xylene",
  "n-butyl-acetate",
  "mineral-spirits",
] as const;
export type Solvent = (typeof solvents)[number];

export const productRow = z.object({
  id: productId,
  name: text(80),
  family: z.enum(families),
  colour: z.optional(text(40)),
  retiredAt: z.optional(instant),
  /** Whether what hand tests taught counts. Absent: yes. */
  isFactorOn: z.optional(z.boolean()),
  /** What hand tests on its films found, against the estimate that stood then. */
  observations: z.optional(
    z.array(
      z.object({
        testId,
        at: instant,
        result: z.enum(["pass", "fail"]),
        /** Credit at the test over the typical minutes needed for what it speaks of. */
        ratio: z.number().check(z.gte(0), z.lte(100)),
      }),
    ),
  ),
});

/** A time on the sheet: what the safe track needs, and optionally a typical shorter one for the likely track alone. */
export const sheetTime = z.object({ min: quantity("durationMin"), typicalMin: z.optional(quantity("durationMin")) });
export type SheetTime = z.infer<typeof sheetTime>;

export const sheetRow = z.object({
  id: sheetId,
  productId,
  version: count(1, 10_000),
  origin: z.enum(["generic", "from-can"]),
  mechanism: z.enum(mechanisms),
  /** By which law the air counts. Absent: doubling. */
  rateRule: z.optional(z.enum(rateRules)),
  /** Of hardening by reaction or oxygen; absent: 50 kJ/mol. */
  activationKilojoules: z.optional(quantity("activationKilojoules")),
  /** Whose vapour pressure paces a film that dries by losing solvent. */
  solvent: z.optional(z.enum(solvents)),
  referenceCelsius: quantity("airCelsius"),
  referenceHumidityPercent: quantity("humidityPercent"),
  minimumCelsius: quantity("airCelsius"),
  maximumCelsius: quantity("airCelsius"),
  humidityLimitPercent: z.optional(quantity("humidityPercent")),
  /** How far the surface must be above the dew point. */
  dewSpreadCelsius: quantity("dewSpreadCelsius"),
  setToTouch: z.optional(sheetTime),
  tackFree: z.optional(sheetTime),
  recoatOpens: z.optional(sheetTime),
  recoatClosesMin: z.optional(quantity("durationMin")),
  recoatReopensMin: z.optional(quantity("durationMin")),
  handle: z.optional(sheetTime),
  lightUse: z.optional(sheetTime),
  /** Faces in contact; "never" for films that stay soft to pressure for good. */
  pressTogether: z.optional(z.union([sheetTime, z.literal("never")])),
  stackWith: z.array(z.object({ material: z.enum(["felt", "paper", "foam"]), time: sheetTime })),
  wrap: z.array(z.object({ wrap: z.enum(wraps), time: z.union([sheetTime, z.literal("never")]) })),
  fullCure: z.optional(sheetTime),
  wipeFromMin: z.optional(quantity("durationMin")),
  wipeLatestMin: z.optional(quantity("durationMin")),
  scuffAlways: z.boolean(),
  isOilBearing: z.enum(["yes", "no", "unknown"]),
  volumeSolidsPercent: z.optional(quantity("volumeSolidsPercent")),
  wetFilmMicrometres: z.optional(quantity("wetFilmMicrometres")),
  /** The volume on a surface per litre as the can states it; the film and the solids rule where they are known. */
  spreadSquareMetresPerLitre: z.optional(quantity("spreadSquareMetresPerLitre")),
  densityGramsPerLitre: z.optional(quantity("densityGramsPerLitre")),
  vocGramsPerLitre: z.optional(quantity("vocGramsPerLitre")),
  /** What it is thinned with, and how: parts as the shop mixes it, and the limit as the sheet has it. */
  thinner: z.optional(text(60)),
  thinParts: z.optional(z.object({ product: quantity("parts"), thinner: quantity("parts") })),
  thinLimitPercent: z.optional(quantity("thinLimitPercent")),
  /** Hardener by volume for a thousand parts of the product. */
  hardenerPartsPerMille: z.optional(quantity("hardenerPartsPerMille")),
  /** Wait after mixing before use, and from mixing until it must be used up, at the reference. */
  inductionMin: z.optional(quantity("inductionMin")),
  potLifeMin: z.optional(quantity("potLifeMin")),
  /** Until when glued faces must be closed. */
  openTimeMin: z.optional(quantity("openTimeMin")),
  clampMin: z.optional(quantity("clampMin")),
  fullStrengthMin: z.optional(quantity("fullStrengthMin")),
  /** Below it a water-borne glue dries to chalk. */
  chalkCelsius: z.optional(quantity("chalkCelsius")),
  shelfUnopenedDays: z.optional(quantity("shelfDays")),
  shelfOpenedDays: z.optional(quantity("shelfDays")),
  /** This product over another family: its own minimum, or a barrier instead. */
  over: z.array(
    z.object({
      underFamily: z.enum(families),
      waitMin: z.optional(quantity("durationMin")),
      barrierFamily: z.optional(z.enum(families)),
      isNever: z.boolean(),
      /** As the can says; absent: the trade's table. */
      rule: z.optional(z.enum(["Y", "S", "D", "B", "T"])),
    }),
  ),
});

/** One can on the shelf. What is left of it follows from its last count and its uses since. */
export const canRow = z.object({
  id: canId,
  productId,
  label: text(20),
  filledMillilitres: quantity("millilitres"),
  openedOn: z.optional(shopDay),
  isLabelled: z.boolean(),
  counted: z.optional(z.object({ at: instant, millilitres: count(0, 100_000) })),
  /** The last drop on glass: hard by the morning or not. */
  dropTest: z.optional(z.object({ testId, at: instant, result: z.enum(["pass", "fail"]) })),
  emptiedAt: z.optional(instant),
});

/** One batch mixed for spraying or brushing. */
export const mixRow = z.object({
  id: mixId,
  sheetId,
  canIds: z.array(canId).check(z.maxLength(12)),
  /** All that is in the pot. */
  millilitres: quantity("millilitres"),
  hardenerMillilitres: z.optional(count(0, 100_000)),
  thinnerMillilitres: z.optional(count(0, 100_000)),
  mixedAt: instant,
  by: memberId,
  roomId,
});
