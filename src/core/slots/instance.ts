/**
 * The written form of a week to plan (docs/slots.md). All times are whole grains of elapsed time from `origin`, a local
 * midnight; intervals are half open, so that one may begin where another ends.
 */
import * as z from "zod/mini";

/** More coats than this are refused: a plan of that size would no longer come at once. */
export const mostCoats = 10_000;
/** Ten years of five-minute grains; the rack is kept grain by grain, so that the horizon bounds the memory. */
export const mostGrains = 1_100_000;

const id = z.string().check(z.minLength(1), z.maxLength(200));
const grain = z.int().check(z.gte(0), z.lte(mostGrains));
const grams = z.int().check(z.gte(0), z.lte(1_000_000_000));
const interval = z.tuple([grain, grain]);
const intervals = z.array(interval).check(z.maxLength(20_000));

const coat = z.strictObject({
  id,
  product: id,
  work: z.int().check(z.gte(1), z.lte(mostGrains)),
  flash: z.optional(grain),
  skill: z.optional(z.nullable(z.string())),
  booths: z.optional(z.array(id).check(z.minLength(1))),
  minLag: z.optional(grain),
  maxLag: z.optional(z.nullable(grain)),
  overMax: z.optional(z.enum(["hard", "sand"])),
  sandTime: z.optional(grain),
  voc: z.optional(grams),
});
const surface = z.strictObject({
  id,
  cure: grain,
  handle: z.optional(grain),
  coats: z.array(coat).check(z.minLength(1)),
});
const masking = z.strictObject({ before: id, after: id, lag: z.optional(grain) });
const piece = z.strictObject({
  id,
  ready: grain,
  due: z.int().check(z.gte(-mostGrains), z.lte(mostGrains)),
  weight: z.int().check(z.gte(0), z.lte(1_000_000)),
  rackArea: z.optional(grain),
  booths: z.optional(z.array(id).check(z.minLength(1))),
  surfaces: z.array(surface).check(z.minLength(1)),
  masking: z.optional(z.array(masking)),
});
const lock = z.strictObject({
  coat: id,
  booth: z.optional(id),
  person: z.optional(id),
  start: z.optional(grain),
});

export const instanceSchema = z.object({
  format: z.literal("spray-slots/1"),
  name: id,
  grainMinutes: z.int().check(z.gte(1), z.lte(1440)),
  dayLength: z.int().check(z.gte(1), z.lte(mostGrains)),
  origin: z.optional(z.string()),
  now: z.optional(grain),
  horizon: z.int().check(z.gte(1), z.lte(mostGrains)),
  booths: z.array(z.strictObject({ id, open: intervals })).check(z.minLength(1), z.maxLength(500)),
  people: z
    .array(z.strictObject({ id, skills: z.array(z.string()), available: intervals }))
    .check(z.minLength(1), z.maxLength(500)),
  products: z.array(z.object({ id })).check(z.maxLength(2000)),
  changeover: z.strictObject({
    fromClean: z.optional(z.record(z.string(), grain)),
    between: z.record(z.string(), z.record(z.string(), grain)),
  }),
  rack: z.optional(z.nullable(z.object({ capacity: grain }))),
  voc: z.optional(z.nullable(z.object({ dailyLimit: grams }))),
  pieces: z.array(piece),
  locks: z.optional(z.array(lock)),
});

export type SlotInstance = z.infer<typeof instanceSchema>;
export type PieceLine = SlotInstance["pieces"][number];
export type CoatLine = PieceLine["surfaces"][number]["coats"][number];
export type LockLine = NonNullable<SlotInstance["locks"]>[number];

/** One coat in its place: who sprays it where, from which grain on. */
export type Slot = { coat: string; booth: string; person: string; start: number };

/** What is wrong with an instance, in words that name the line to mend. */
export type Unusable = { kind: "slots-unusable"; ids: string[]; why: string };
