import type { InstantMs } from "../units";
import type { GateAction } from "./demand";
import type { FacePart, GateNeed } from "./gate-answer";
import { type JointAnswer, type JointReach, jointAnswers } from "./joint";
import type { Picture } from "./picture";

/**
 * What a joint must bear: out of its clamps it can be gripped; whole, nobody doubts it either; at full strength it takes
 * straps and strangers.
 */
export type JointLevel = "out-of-clamps" | "whole" | "full-strength";

/** What an action asks of the joints; nothing where they do not matter. Carried by bearers a piece may keep its clamps. */
export const jointLevel = (asked: GateAction): JointLevel | undefined => {
  switch (asked.action) {
    case "move":
      return asked.carried === "hands" ? "out-of-clamps" : undefined;
    case "press-together":
      return "out-of-clamps";
    case "wrap":
      return asked.isStrapped || asked.wrap.startsWith("snug") ? "full-strength" : undefined;
    case "hand-over":
      return "full-strength";
    default:
      return undefined;
  }
};

type JointNeed = Extract<GateNeed, { kind: "joint" }>;

/** Why a joint does not bear what is asked, and the clock that it waits for, if it waits for one. */
export const jointHindrance = (
  { joint, clampOff, fullStrength, firstDay, isFailed, isSuspect }: JointAnswer,
  level: JointLevel,
): { need: JointNeed; waitsFor?: JointReach } | undefined => {
  const about = {
    kind: "joint" as const,
    jointId: joint.id,
    ...(clampOff.safeAt !== undefined && { clampOffAt: clampOff.safeAt }),
    ...(fullStrength.safeAt !== undefined && { fullStrengthAt: fullStrength.safeAt }),
  };
  const { lowestCelsius, lowestAt } = firstDay;
  const cold = {
    ...(lowestCelsius !== undefined && { lowestCelsius }),
    ...(lowestAt !== undefined && { lowestAt }),
  };
  if (level !== "out-of-clamps" && isFailed) return { need: { ...about, ...cold, state: "failed" } };
  if (level !== "out-of-clamps" && isSuspect) return { need: { ...about, ...cold, state: "suspect" } };
  // in its clamps or out of them, it will be taken apart
  if (isFailed) return undefined;
  if (!clampOff.isReached) {
    const waitsFor = level === "full-strength" ? fullStrength : clampOff;
    return { need: { ...about, state: "in-clamps" }, waitsFor };
  }
  if (level === "full-strength" && !fullStrength.isReached)
    return { need: { ...about, state: "not-at-full-strength" }, waitsFor: fullStrength };
  return undefined;
};

type Hindrance = NonNullable<ReturnType<typeof jointHindrance>>;

/** The joint that holds a piece up the longest: one that no clock cures, else the last to be ready. */
export const worstHindrance = (picture: Picture, level: JointLevel, at: InstantMs): Hindrance | undefined => {
  const readyAt = ({ waitsFor }: Hindrance) => waitsFor?.safeAt ?? Number.POSITIVE_INFINITY;
  return jointAnswers(picture, at)
    .flatMap((answer) => jointHindrance(answer, level) ?? [])
    .reduce<Hindrance | undefined>(
      (worst, found) => (worst && readyAt(worst) >= readyAt(found) ? worst : found),
      undefined,
    );
};

/** What the joints of a piece make of an action: a part of its gate for each that does not bear it yet. */
export const jointParts = (picture: Picture, asked: GateAction, at: InstantMs): FacePart[] => {
  const level = jointLevel(asked);
  if (level === undefined) return [];
  return jointAnswers(picture, at).flatMap((answer): FacePart[] => {
    const hindrance = jointHindrance(answer, level);
    if (!hindrance) return [];
    const { need, waitsFor } = hindrance;
    return [
      {
        state: "shut",
        evidence: "readings",
        needs: [need],
        sheetId: answer.joint.sheetId,
        ...(waitsFor && { safeCreditMin: waitsFor.safeCreditMin, neededMin: waitsFor.neededMin }),
        ...(waitsFor?.safeAt !== undefined && { safeAt: waitsFor.safeAt }),
        ...(waitsFor?.likelyAt !== undefined && { likelyAt: waitsFor.likelyAt }),
      },
    ];
  });
};
