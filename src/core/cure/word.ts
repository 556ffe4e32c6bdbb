/**
 * A word of somebody with the power to give one. It opens what only time would open, for a while and under a name. It never
 * beats a hand that found otherwise, nor a rule that is not about waiting.
 */
import type { Word } from "../shop/tables";
import type { InstantMs } from "../units";
import type { FaceDemand, GateAction } from "./demand";
import { type FacePart, toldPart } from "./gate-answer";
import type { Milestone } from "./milestone";
import { hasFailedSince } from "./observation";
import type { Picture } from "./picture";

/** Acts that a word may open at all; how a film wears in use, and whether it can be sanded, are nobody's to say. */
export const wordActions = ["touch", "move", "recoat", "press-together", "stack", "wrap", "hand-over"] as const;
export type WordAction = (typeof wordActions)[number];

export const isWordAction = (action: string): action is WordAction =>
  (wordActions as readonly string[]).includes(action);

const isLive = (word: Word, at: InstantMs) =>
  word.at <= at && at < word.untilAt && !(word.withdrawnAt !== undefined && word.withdrawnAt <= at);

/** Only what waiting would cure: a rule, a wipe or a failed test is no matter of time. */
const isWaiting = ({ state, needs }: FacePart) =>
  state === "shut" &&
  needs.every(({ kind }) => kind === "reading" || kind === "unknown-span" || kind === "below-minimum");

const isSpokenFor = (milestone: Milestone) => milestone !== "plastic-wrap" && milestone !== "full-cure";

/** Whether a word could open this part of a gate. */
export const mayBeSpokenFor = (part: FacePart, milestone: Milestone): boolean =>
  isWaiting(part) && isSpokenFor(milestone);

/** The word that speaks for one face at an instant: not ended, not withdrawn, and no hand has found otherwise since. */
const wordFor = (
  picture: Picture,
  action: GateAction["action"],
  { surfaceId, pairId, demand: { milestone } }: FaceDemand,
  at: InstantMs,
) =>
  picture.words
    .filter(
      (word) =>
        word.action === action &&
        isLive(word, at) &&
        (word.subjectId === undefined || word.subjectId === surfaceId || word.subjectId === pairId) &&
        !hasFailedSince(picture, surfaceId, milestone, word.at, at),
    )
    .sort((one, other) => one.at - other.at)[0];

/** A face's part with what somebody has given their word for: open from the word on, as the film itself is not. */
export const withWord = (
  picture: Picture,
  part: FacePart,
  action: GateAction["action"],
  face: FaceDemand,
  at: InstantMs,
): FacePart => {
  if (picture.words.length === 0 || !mayBeSpokenFor(part, face.demand.milestone)) return part;
  const word = wordFor(picture, action, face, at);
  return word
    ? { ...toldPart(part), state: "open", sinceAt: word.at, evidence: "word", wordId: word.id, needs: [] }
    : part;
};
