import { missedLimit } from "../climate/limits";
import type { Gate, GateNeed } from "../cure/gate-answer";
import type { Picture } from "../cure/picture";
import type { GateEvidence } from "./entities/pieces";
import type { Refusal } from "./refusal";

/** What a gate's answer leaves with the event that it let through, or that passed it over. */
export const evidenceOf = (gate: Gate): GateEvidence => ({
  action: gate.action,
  state: gate.state,
  evidence: gate.evidence,
  wordId: gate.wordId,
  safeCreditMin: gate.safeCreditMin,
  neededMin: gate.neededMin,
  safeAt: gate.safeAt,
  heldBy: gate.heldBy?.surfaceId,
  sheetId: gate.sheetId,
  readingsThroughAt: gate.readingsThroughAt,
  factor: gate.factor,
});

/** The words of a shut gate as a refusal: the hindrance that no waiting cures comes before the one that a clock does. */
export function refusalOfGate(gate: Gate, picture: Picture): Refusal {
  const gated = {
    action: gate.action,
    heldBy: gate.heldBy,
    safeCreditMin: gate.safeCreditMin,
    neededMin: gate.neededMin,
    safeAt: gate.safeAt,
    likelyAt: gate.likelyAt,
    evidence: gate.evidence,
    readingsThroughAt: gate.readingsThroughAt,
    needs: gate.needs,
    subjectIds: [gate.heldBy?.surfaceId, gate.heldBy?.surfaceB].filter((id) => id !== undefined),
  };
  const need = <Kind extends GateNeed["kind"]>(kind: Kind) =>
    gate.needs.find((other): other is Extract<GateNeed, { kind: Kind }> => other.kind === kind);

  // fire comes before everything that only spoils a film
  const ignition = need("ignition");
  if (ignition) return { kind: "ignition-near", roomId: ignition.roomId, subjectIds: gated.subjectIds };
  const pairRule = need("not-over-that");
  if (pairRule && gate.state === "shut-for-good") {
    const { overFamily, underFamily, barrierFamily } = pairRule;
    return { kind: "not-over-that", overFamily, underFamily, barrierFamily, ...gated };
  }
  const never = need("never");
  if (never) return { kind: "never-by-waiting", cause: never.cause, ...gated };
  const test = need("test-says-no");
  if (test) {
    const found = picture.tests.find((other) => other.id === test.testId);
    return {
      kind: "test-says-no",
      testId: test.testId,
      testKind: found?.kind ?? "",
      byMemberId: found?.by ?? "",
      testedAt: found?.at ?? 0,
      retestAt: test.retestAt,
      ...gated,
    };
  }
  const joint = need("joint");
  // no face holds it: a joint does, and longer than every film
  if (joint && gate.heldBy === undefined)
    return { ...refusalOfJoint(joint), earliestAt: gate.safeAt, likelyAt: gate.likelyAt };
  const window = need("window-shut");
  if (window) {
    const { closedAt, reopensAt, needsScuff, needsTestPanel } = window;
    return {
      kind: "recoat-window-shut",
      closedAt,
      reopensAt,
      needsScuff,
      needsTestPanel,
      earliestAt: reopensAt,
      ...gated,
    };
  }
  const wood = need("wood-wet");
  if (wood) {
    const { surfaceId, lastWaterAt, meterPercent, equilibriumPercent } = wood;
    return {
      kind: "wood-wet",
      surfaceId,
      lastWaterAt,
      meterPercent,
      equilibriumPercent,
      safeAt: gate.safeAt,
      earliestAt: gate.safeAt,
      subjectIds: gated.subjectIds,
    };
  }
  const bleed = need("bleed");
  if (bleed) {
    const { finding } = bleed;
    const patchDueAt = finding.kind === "bleed" ? finding.patchDueAt : undefined;
    return {
      kind: "bleed-open",
      surfaceId: finding.surfaceId,
      findings: [finding],
      subjectIds: gated.subjectIds,
      ...(patchDueAt !== undefined && { patchDueAt }),
    };
  }
  const wipe = need("wipe");
  if (wipe) {
    const { coatId, wipeFromAt, wipeLatestAt } = wipe;
    return { kind: "wipe-due", coatId, wipeFromAt, wipeLatestAt, subjectIds: gated.subjectIds };
  }
  const reading = need("reading");
  if (reading?.mayOpenNow) {
    const { roomId, lastReadingAt, gapLimitMin } = reading;
    return { kind: "gate-needs-reading", roomId, lastReadingAt, gapLimitMin, ...gated };
  }
  if (isHeldByTime(gate)) return { kind: "gate-shut", earliestAt: gate.safeAt, ...gated };
  const scuff = need("scuff");
  if (scuff) return { kind: "scuff-needed", surfaceId: scuff.surfaceId, ...gated };
  const airNeed = need("air");
  if (airNeed?.air.state === "unfit") {
    const { air, nextPassAt, otherRoomIds } = airNeed;
    const { roomId, failing, acclimatising } = air;
    const limits = failing.map(missedLimit);
    return { kind: "air-unfit", roomId, limits, acclimatising, nextPassAt, otherRoomIds, ...gated };
  }
  if (airNeed?.air.state === "unknown") {
    const { air } = airNeed;
    return {
      kind: "gate-needs-reading",
      roomId: air.roomId,
      lastReadingAt: air.lastReadingAt,
      gapLimitMin: air.gapLimitMin,
      ...gated,
    };
  }
  return { kind: "gate-shut", earliestAt: gate.safeAt, ...gated };
}

/** A joint that does not bear what is asked: it needs time, or somebody to look at it, or to be glued again. */
export function refusalOfJoint(joint: Extract<GateNeed, { kind: "joint" }>): Refusal {
  const { jointId, state, clampOffAt, fullStrengthAt, lowestCelsius, lowestAt } = joint;
  if (state === "suspect") return { kind: "joint-suspect", jointId, lowestCelsius, lowestAt, subjectIds: [jointId] };
  const isFailed = state === "failed" || undefined;
  return { kind: "joint-not-ready", jointId, isFailed, clampOffAt, fullStrengthAt, subjectIds: [jointId] };
}

const isHeldByTime = (gate: Gate): boolean =>
  gate.safeCreditMin !== undefined && gate.neededMin !== undefined && gate.safeCreditMin < gate.neededMin;
