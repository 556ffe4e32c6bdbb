import * as z from "zod/mini";
import { text } from "../../text";
import { instant, quantity, shopDay } from "../../units";
import { boardId, idOf, intentId, memberId, pairId, pieceId, roomId, sheetId, surfaceId } from "./ids";

/** In the order in which work walks through them. */
export const stages = ["acquisition", "repair", "prep", "finish", "cure", "listed", "sold"] as const;
export type Stage = (typeof stages)[number];

export const pieceKinds = [
  "dresser",
  "wardrobe",
  "table",
  "chair",
  "desk",
  "chest",
  "bookcase",
  "nightstand",
  "sideboard",
  "mirror",
  "other",
] as const;

export const methods = ["dry-sand", "wet-sand", "heat", "strip", "glue", "wash", "fill", "mask", "clean"] as const;
export type Method = (typeof methods)[number];

export const wraps = ["loose-paper", "loose-blanket", "snug-paper", "snug-blanket", "foam", "foil", "plastic"] as const;
export type Wrap = (typeof wraps)[number];

export const pieceRow = z.object({
  id: pieceId,
  number: text(12),
  boardId,
  name: text(120),
  kind: z.enum(pieceKinds),
  partCount: quantity("partCount"),
  widthMillimetres: z.optional(quantity("lengthMillimetres")),
  depthMillimetres: z.optional(quantity("lengthMillimetres")),
  heightMillimetres: z.optional(quantity("lengthMillimetres")),
  wood: z.optional(text(60)),
  stage: z.enum(stages),
  stageSinceAt: instant,
  roomId,
  rackId: z.optional(idOf<"rack">()),
  acquiredOn: shopDay,
  isPainted: z.enum(["yes", "no", "unknown"]),
  madeYear: z.optional(quantity("madeYear")),
  treatAsLead: z.optional(z.object({ by: memberId, at: instant, why: text(300) })),
  estimateMin: z.optional(quantity("durationMin")),
  archivedAt: z.optional(instant),
});

export const substrates = ["bare", "old-finish", "veneer", "painted", "metal", "ornament"] as const;

export const surfaceRow = z.object({
  id: surfaceId,
  pieceId,
  name: text(40),
  squareDecimetres: quantity("squareDecimetres"),
  wood: z.optional(text(60)),
  substrate: z.enum(substrates),
  veneerMicrometres: z.optional(quantity("veneerMicrometres")),
  isPaleWanted: z.boolean(),
  bleedRisk: z.enum(["yes", "no", "unknown"]),
  /** When it was last washed, stripped or sanded wet: bare wood dries from here on. */
  lastWaterAt: z.optional(instant),
});

export const spacers = ["none", "felt", "paper", "foam"] as const;

export const pairRow = z.object({
  id: pairId,
  pieceId,
  surfaceA: surfaceId,
  surfaceB: surfaceId,
  sort: z.enum(["assembled", "leaf", "stacked"]),
  isApart: z.boolean(),
  spacer: z.enum(spacers),
  changedAt: instant,
});

export const promiseSorts = ["photos", "outlet", "collection", "delivery", "market"] as const;

export const promiseRow = z.object({
  id: idOf<"promise">(),
  pieceId,
  sort: z.enum(promiseSorts),
  /** When it is due; a promise on a day is due at the end of that day in the shop's zone. */
  dueAt: instant,
  isWholeDay: z.boolean(),
  toWhom: z.enum(["buyer", "outlet", "market", "ourselves"]),
  state: z.enum(["made", "kept", "moved", "dropped"]),
  movedTo: z.optional(idOf<"promise">()),
  why: z.optional(text(300)),
  isKnowinglyEarly: z.boolean(),
});

export const roomStayRow = z.object({
  id: idOf<"room-stay">(),
  pieceId,
  roomId,
  rackId: z.optional(idOf<"rack">()),
  fromAt: instant,
  toAt: z.optional(instant),
  how: z.enum(["bearers", "hands", "arrived"]),
  /** Delivered after the end of its maker's membership: the owner has not said yet whether it is so. */
  needsWord: z.optional(z.literal("delivered-after-the-end")),
});

/** The answer of a gate, kept with what it let through or was passed over by. */
export const gateEvidence = z.object({
  action: z.string(),
  state: z.enum(["open", "shut", "shut-for-good"]),
  evidence: z.enum(["sheet", "readings", "assumed", "test", "word"]),
  /** Whose word opened it, where one did. */
  wordId: z.optional(z.string()),
  /** What hand tests had taught of the product by then; absent: nothing, or switched off. */
  factor: z.optional(z.number()),
  safeCreditMin: z.optional(z.number()),
  neededMin: z.optional(z.number()),
  safeAt: z.optional(instant),
  heldBy: z.optional(z.string()),
  sheetId: z.optional(sheetId),
  readingsThroughAt: z.optional(instant),
});
export type GateEvidence = z.infer<typeof gateEvidence>;

export const stageMoveRow = z.object({
  id: idOf<"stage-move">(),
  pieceId,
  from: z.enum(stages),
  to: z.enum(stages),
  happenedAt: instant,
  by: memberId,
  reason: z.optional(z.string()),
  why: z.optional(text(300)),
  evidence: z.optional(gateEvidence),
});

export const passedOverRow = z.object({
  id: idOf<"passed-over">(),
  pieceId,
  intentId,
  by: memberId,
  at: instant,
  evidence: gateEvidence,
});
