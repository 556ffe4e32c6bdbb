import * as z from "zod/mini";
import { text } from "../../text";
import { instant, quantity, shopDay } from "../../units";
import { claimId, coatId, entryId, idOf, jointId, memberId, pieceId, surfaceId, taskId } from "./ids";
import { skills } from "./people";
import { methods, stages } from "./pieces";

export const taskSorts = ["repair", "prep", "inspect", "carry", "close-out", "other"] as const;

export const taskRow = z.object({
  id: taskId,
  pieceId: z.optional(pieceId),
  title: text(120),
  sort: z.enum(taskSorts),
  methods: z.array(z.enum(methods)),
  surfaceIds: z.array(surfaceId),
  coatId: z.optional(coatId),
  jointId: z.optional(jointId),
  needsSkills: z.array(z.enum(skills)),
  needsMembers: quantity("needsMembers"),
  after: z.array(taskId),
  waitsMin: z.optional(quantity("durationMin")),
  estimateMin: z.optional(quantity("durationMin")),
  dueAt: z.optional(instant),
  state: z.enum(["open", "held", "finished", "set-aside"]),
  finished: z.optional(
    z.object({ at: instant, by: memberId, leftUndone: z.optional(text(300)), how: z.optional(z.string()) }),
  ),
  setAsideWhy: z.optional(text(300)),
  reworkCause: z.optional(text(120)),
});

export const claimEndings = [
  "released",
  "finished",
  "handed-over",
  "lapsed",
  "ended-by-owner",
  "membership-ended",
] as const;

export const claimRow = z.object({
  id: claimId,
  taskId,
  pieceId: z.optional(pieceId),
  memberIds: z.array(memberId).check(z.minLength(1), z.maxLength(2)),
  claimedAt: instant,
  claimedSeq: z.number(),
  lastSignAt: instant,
  endedAt: z.optional(instant),
  ending: z.optional(z.enum(claimEndings)),
  note: z.optional(text(300)),
});

export const workKinds = [
  "bench",
  "spray",
  "set-up",
  "clean-up",
  "van",
  "buying",
  "photo",
  "selling",
  "overhead",
] as const;

export const splitRules = ["one", "equal", "area", "coats", "typed"] as const;

export const entrySubject = z.object({
  pieceId,
  taskId: z.optional(taskId),
  stage: z.enum(stages),
  weight: z.optional(quantity("weight")),
});

export const entryRow = z.object({
  id: entryId,
  memberId,
  startedAt: instant,
  endedAt: z.optional(instant),
  restMin: quantity("restMin"),
  workKind: z.enum(workKinds),
  subjects: z.array(entrySubject).check(z.maxLength(24)),
  splitRule: z.enum(splitRules),
  sessionId: z.optional(idOf<"session">()),
  source: z.enum(["timer", "typed"]),
  /** Counted only after a word of the owner, and why. */
  needsWord: z.optional(z.enum(["over-sixteen-hours", "after-the-end", "delivered-after-the-end"])),
  note: z.optional(text(300)),
  struckAt: z.optional(instant),
  versions: z.array(
    z.object({
      by: memberId,
      at: instant,
      was: z.record(z.string(), z.unknown()),
      why: z.optional(text(300)),
    }),
  ),
});

/** What the last one out looks at. */
export const closingPoints = ["rags", "flames", "heater", "wipes", "cold-glue", "timers", "unsent"] as const;

/** The shop closed for the night: one a day, a later one of that day stands in its place. */
export const closingRow = z.object({
  id: idOf<"closing">(),
  day: shopDay,
  closedBy: memberId,
  at: instant,
  answers: z.array(
    z.object({ point: z.enum(closingPoints), answer: z.enum(["clear", "left"]), why: z.optional(text(300)) }),
  ),
});
