import { type Stage, stages } from "~/core/shop/entities/pieces";
import { backReasons } from "~/core/shop/intents/stage-moves";

export type BackReason = (typeof backReasons)[number];

export const backReasonWords: Record<BackReason, string> = {
  "another-coat": "It gets another coat",
  flaw: "A flaw in the film",
  damage: "It was damaged",
  "failed-joint": "A joint failed",
  "buyer-returned": "The buyer brought it back",
  "changed-plan": "The plan changed",
  mistake: "It was moved by mistake",
};

export const backReasonChoices = backReasons.map((id) => ({ id, words: backReasonWords[id] }));

export const isBack = (from: Stage, to: Stage): boolean => stages.indexOf(to) < stages.indexOf(from);

/** The stages it may go to, the next one first, then those behind it, then the rest. */
export function stageChoices(from: Stage): Stage[] {
  const here = stages.indexOf(from);
  const ahead = stages.slice(here + 1);
  return [...ahead.slice(0, 1), ...stages.slice(0, here).toReversed(), ...ahead.slice(1)];
}
