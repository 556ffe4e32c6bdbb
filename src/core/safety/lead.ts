import type { Method } from "../shop/entities/pieces";
import type { HandTest, Piece } from "../shop/tables";
import type { InstantMs } from "../units";
import { leadFinding, partsPerMillionOf } from "./lead-limits";

export type LeadState =
  | "not-painted"
  | "later-than-ban"
  | "unknown"
  | "screened-negative"
  | "negative"
  | "positive"
  | "treated-as-lead";

const layerOf = (test: HandTest) =>
  test.subject.of === "paint-layer" ? test.subject.layer.trim().toLowerCase() : undefined;

/** Failed, or a laboratory's percent by weight is over what new paint on furniture may hold, whatever was ticked. */
const isPositive = (test: HandTest): boolean => {
  if (test.result === "fail") return true;
  if (test.kind !== "lead-laboratory" || test.measured?.unit !== "percent") return false;
  return leadFinding({ partsPerMillion: partsPerMillionOf(test.measured.value) }).isOverConsumerLimit === true;
};

/**
 * What is known about lead in the old paint of a piece, from its facts and tests up to an instant. One positive layer, by
 * whatever method, makes the piece positive, and a later negative of the same layer does not undo it. A swab only screens;
 * a laboratory or X-ray decides. Every layer that was named must have an answer.
 *
 * @param leadBanYear of the country; in the United States 1978 (16 CFR 1303)
 * @source EPA and CPSC practice for old paint, as common practice for loose furniture; local codes may be stricter
 */
export const leadState = (
  piece: Pick<Piece, "isPainted" | "madeYear" | "treatAsLead">,
  tests: readonly HandTest[],
  leadBanYear: number,
  at: InstantMs,
): LeadState => {
  const known = tests.filter(
    (test) =>
      (test.kind === "lead-swab" || test.kind === "lead-laboratory") &&
      layerOf(test) !== undefined &&
      test.at <= at &&
      !(test.takenBackAt !== undefined && test.takenBackAt <= at),
  );
  if (known.some(isPositive)) return "positive";
  if (piece.treatAsLead && piece.treatAsLead.at <= at) return "treated-as-lead";
  if (piece.isPainted === "no") return "not-painted";
  if (piece.madeYear !== undefined && piece.madeYear >= leadBanYear) return "later-than-ban";
  const layers = new Set(known.map(layerOf));
  const isCleared = (layer: string | undefined, kinds: readonly HandTest["kind"][]) =>
    known.some((test) => layerOf(test) === layer && test.result === "pass" && kinds.includes(test.kind));
  if (layers.size === 0) return "unknown";
  if ([...layers].every((layer) => isCleared(layer, ["lead-laboratory"]))) return "negative";
  if ([...layers].every((layer) => isCleared(layer, ["lead-laboratory", "lead-swab"]))) return "screened-negative";
  return "unknown";
};

/** Free; only wet and contained, with the cautions for lead; or locked until tests or a word change the state. */
export type MethodLock = "free" | "contained" | "locked";

/** They raise the dust or the fume of what lies on the wood. */
export const makesDust: readonly Method[] = ["dry-sand", "heat"];
const staysWet: readonly Method[] = ["strip", "wet-sand"];

/**
 * Whether old paint in this state locks a method. No word opens a lock: only tests do, or, for wet work on unknown paint,
 * treating it as lead.
 *
 * @param swabSuffices the shop lets swabs on every layer count; otherwise they only screen
 */
export const methodLock = (state: LeadState, method: Method, swabSuffices = false): MethodLock => {
  const isCleared = state === "not-painted" || state === "later-than-ban" || state === "negative";
  if (isCleared || (swabSuffices && state === "screened-negative")) return "free";
  if (makesDust.includes(method)) return "locked";
  if (!staysWet.includes(method)) return "free";
  if (state === "unknown") return "locked";
  return state === "screened-negative" ? "free" : "contained";
};

/** Whether a buyer must be told: whenever old paint is not known to be free of lead by fact or laboratory. */
export const mustDiscloseLead = (state: LeadState) =>
  state !== "not-painted" && state !== "later-than-ban" && state !== "negative";
