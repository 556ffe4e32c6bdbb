/**
 * Named quantities and their bounds, once. Every number that a person or a device may send is parsed by one of these
 * rows, and its refusal is worded from the same row.
 */
import * as z from "zod/mini";

/** A primitive that carries the name of what it stands for: mixing two flavours up does not compile. */
export type Flavour<Primitive, Name extends string> = Primitive & { readonly flavour?: Name };

/** Whole milliseconds since 1970-01-01T00:00Z. */
export type InstantMs = Flavour<number, "instant">;
/** A calendar date in the shop's zone, `2026-10-26`. */
export type ShopDay = Flavour<string, "shop-day">;

export const secondMs = 1000;
export const minuteMs = 60 * secondMs;
export const hourMs = 60 * minuteMs;
export const dayMs = 24 * hourMs;

export type Bounds = { label: string; unit: string; min: number; max: number; decimals: 0 | 1 };

/** What may be written down, in the unit that the shop uses. Source of the limits: common practice, generous on purpose. */
export const bounds = {
  airCelsius: { label: "air temperature", unit: "°C", min: -40, max: 60, decimals: 1 },
  humidityPercent: { label: "relative humidity", unit: "% RH", min: 1, max: 100, decimals: 1 },
  surfaceCelsius: { label: "surface temperature", unit: "°C", min: -40, max: 60, decimals: 1 },
  dewSpreadCelsius: { label: "spread over the dew point", unit: "°C", min: 0, max: 30, decimals: 1 },
  gapLimitMin: { label: "longest gap between readings", unit: "min", min: 30, max: 1440, decimals: 0 },
  squareDecimetres: { label: "area", unit: "dm²", min: 1, max: 10_000, decimals: 0 },
  rackSquareDecimetres: { label: "rack area", unit: "dm²", min: 1, max: 100_000, decimals: 0 },
  lengthMillimetres: { label: "length", unit: "mm", min: 1, max: 6000, decimals: 0 },
  partCount: { label: "number of parts", unit: "parts", min: 1, max: 24, decimals: 0 },
  madeYear: { label: "year it was made", unit: "", min: 1500, max: 2200, decimals: 0 },
  position: { label: "position in the schedule", unit: "", min: 1, max: 40, decimals: 0 },
  wetFilmMicrometres: { label: "wet film", unit: "µm", min: 1, max: 3000, decimals: 0 },
  volumeSolidsPercent: { label: "volume solids", unit: "%", min: 1, max: 100, decimals: 1 },
  durationMin: { label: "time", unit: "min", min: 1, max: 527_040, decimals: 0 },
  restMin: { label: "rest", unit: "min", min: 0, max: 480, decimals: 0 },
  weight: { label: "share", unit: "", min: 0, max: 1_000_000, decimals: 0 },
  needsMembers: { label: "people needed", unit: "people", min: 1, max: 2, decimals: 0 },
  likelyCap: { label: "how far warmth may hurry the likely time", unit: "×", min: 1, max: 2, decimals: 1 },
  activationKilojoules: { label: "activation energy", unit: "kJ/mol", min: 10, max: 150, decimals: 1 },
  spreadSquareMetresPerLitre: { label: "spreading rate", unit: "m²/L", min: 0.1, max: 100, decimals: 1 },
  densityGramsPerLitre: { label: "density", unit: "g/L", min: 500, max: 3000, decimals: 0 },
  vocGramsPerLitre: { label: "volatile organic compounds", unit: "g/L", min: 0, max: 1000, decimals: 0 },
  parts: { label: "parts", unit: "parts", min: 1, max: 1000, decimals: 0 },
  thinLimitPercent: { label: "thinning limit", unit: "%", min: 0, max: 300, decimals: 0 },
  hardenerPartsPerMille: { label: "hardener", unit: "‰ by volume", min: 1, max: 2000, decimals: 0 },
  inductionMin: { label: "stand after mixing", unit: "min", min: 1, max: 1440, decimals: 0 },
  potLifeMin: { label: "pot life", unit: "min", min: 1, max: 43_200, decimals: 0 },
  openTimeMin: { label: "open time", unit: "min", min: 1, max: 1440, decimals: 0 },
  clampMin: { label: "time in clamps", unit: "min", min: 1, max: 43_200, decimals: 0 },
  fullStrengthMin: { label: "time to full strength", unit: "min", min: 1, max: 43_200, decimals: 0 },
  chalkCelsius: { label: "chalk temperature", unit: "°C", min: -10, max: 40, decimals: 1 },
  shelfDays: { label: "shelf life", unit: "days", min: 1, max: 36_500, decimals: 0 },
  millilitres: { label: "volume", unit: "ml", min: 1, max: 100_000, decimals: 0 },
  veneerMicrometres: { label: "veneer thickness", unit: "µm", min: 1, max: 10_000, decimals: 0 },
} as const satisfies Record<string, Bounds>;

export type QuantityName = keyof typeof bounds;

/** The instants that this product can write: 2000 to 2200. Outside, a clock is broken rather than early or late. */
export const instantBounds = { min: 946_684_800_000, max: 7_258_118_400_000 } as const;

export const instant = z.number().check(z.int(), z.gte(instantBounds.min), z.lte(instantBounds.max)) as z.ZodMiniType<
  InstantMs,
  InstantMs
>;

const daysInMonth = (year: number, month: number): number => {
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return month === 2 ? (isLeap ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;
};

export const shopDay = z.string().check(
  z.regex(/^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/),
  z.refine((found) => Number(found.slice(8)) <= daysInMonth(Number(found.slice(0, 4)), Number(found.slice(5, 7))), {
    error: "a day that exists",
  }),
) as z.ZodMiniType<ShopDay, ShopDay>;

/** A number of this quantity: whole, or to a tenth where the quantity carries one decimal. */
export const quantity = (name: QuantityName) => {
  const row: Bounds = bounds[name];
  const perUnit = row.decimals === 0 ? 1 : 10;
  const isOnStep = (found: number) => Math.round(found * perUnit) / perUnit === found;
  // the name goes along with the issue, so that a refusal can be worded from the row whatever the field is called
  return z.number().check(z.gte(row.min, name), z.lte(row.max, name), z.refine(isOnStep, name));
};

export const count = (min: number, max: number) => z.number().check(z.int(), z.gte(min), z.lte(max));
