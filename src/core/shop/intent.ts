/** What a member asks to do, and the envelope in which it travels. */
import * as z from "zod/mini";
import { isStorable } from "../text";
import { instant } from "../units";
import { idOf, intentId, memberId } from "./entities/ids";

/**
 * Reports say what happened; takings want what only one can have; words use a power; plans arrange what may still
 * change. The sort decides by whose role, at which time and against which state an intent is judged.
 */
export type IntentSort = "report" | "taking" | "word" | "plan";

export const schemaVersion = 1;

export const envelope = z.object({
  intentId,
  kind: z.string().check(z.regex(/^[a-z-]{1,60}$/)),
  body: z.unknown().check(z.refine(isStorable, "text that can be stored")),
  memberId,
  deviceId: idOf<"device">(),
  /** 1, 2, 3… per device and member. */
  deviceSeq: z.number().check(z.int(), z.gte(1)),
  /** The device's own clock, raw. */
  deviceAt: instant,
  /** Server time less device time, as last measured; absent when never measured since the last step of the clock. */
  offsetMs: z.optional(z.number().check(z.int())),
  offsetUncertainMs: z.optional(z.number().check(z.int(), z.gte(0))),
  /** The shop's ledger number that this device had seen. */
  seenSeq: z.number().check(z.int(), z.gte(0)),
  schemaVersion: z.literal(schemaVersion),
  /** When it was done, in true time, when a person said so; absent = when it was made. */
  happenedAt: z.optional(instant),
});
export type Intent = z.infer<typeof envelope>;
