import * as z from "zod/mini";
import { text } from "../../text";
import { count, instant, quantity } from "../../units";
import { productId, sheetId } from "./ids";
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

export const productRow = z.object({
  id: productId,
  name: text(80),
  family: z.enum(families),
  colour: z.optional(text(40)),
  retiredAt: z.optional(instant),
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
  /** This product over another family: its own minimum, or a barrier instead. */
  over: z.array(
    z.object({
      underFamily: z.enum(families),
      waitMin: z.optional(quantity("durationMin")),
      barrierFamily: z.optional(z.enum(families)),
      isNever: z.boolean(),
    }),
  ),
});
