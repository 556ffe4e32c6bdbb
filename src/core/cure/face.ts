import { airKnownAt } from "../climate/history";
import { type InstantMs, minuteMs } from "../units";
import type { FaceDemand } from "./demand";
import { unknownSpans } from "./film-spans";
import type { FacePart, GateNeed, HeldBy } from "./gate-answer";
import { type CoatAnswer, type Milestone, type SurfaceAnswer, surfaceAnswer } from "./milestone";
import { testVerdict } from "./observation";
import { type Picture, roomIdAt, sheetOf } from "./picture";
import { creditToleranceMin, type Film } from "./progress";
import { cureRate } from "./rate";

/** When to try again after a failed test: a quarter of the sheet's minutes in today's air, an hour at least. Advice only. */
const retestAt = (picture: Picture, answer: CoatAnswer, testAt: InstantMs, at: InstantMs): InstantMs | undefined => {
  const sheet = sheetOf(picture, answer.coat.sheetId);
  const roomId = roomIdAt(picture, at);
  const air = roomId === undefined ? undefined : picture.airByRoomId.get(roomId);
  const last = air && airKnownAt(air, at).last;
  if (last && last.celsius < sheet.minimumCelsius) return undefined;
  const rate = last ? cureRate(last, sheet) : 1;
  return Math.ceil(testAt + Math.max(60, answer.neededMin / 4 / rate) * minuteMs);
};

/** Whether the piece stands where readings have run out, and what has stayed unknown since the film was laid. */
const missingReadings = (picture: Picture, answer: CoatAnswer, at: InstantMs): GateNeed[] => {
  const unknown = unknownSpans(answer.film);
  const unknownMin = unknown.reduce((sum, span) => sum + (span.toAt - span.fromAt) / minuteMs, 0);
  const needs: GateNeed[] = [];
  const roomId = roomIdAt(picture, at);
  const air = roomId === undefined ? undefined : picture.airByRoomId.get(roomId);
  const endsAt = air && airKnownAt(air, at).endsAt;
  const isStale = air && !air.isAway && (endsAt === undefined || at > endsAt + air.gapLimitMin * minuteMs);
  if (isStale)
    needs.push({
      kind: "reading",
      roomId: air.roomId,
      ...(endsAt !== undefined && { lastReadingAt: endsAt }),
      gapLimitMin: air.gapLimitMin,
      mayOpenNow: answer.safeCreditMin + unknownMin + creditToleranceMin >= answer.neededMin,
    });
  const last = unknown.at(-1);
  if (last) needs.push({ kind: "unknown-span", roomId: last.roomId, fromAt: last.fromAt, toAt: last.toAt });
  return needs;
};

/** A room that stays below the sheet's minimum: the film would stand still there for as long as one looks ahead. */
const standsStill = (picture: Picture, answer: CoatAnswer, at: InstantMs): GateNeed[] => {
  const roomId = roomIdAt(picture, at);
  const air = roomId === undefined ? undefined : picture.airByRoomId.get(roomId);
  const { minimumCelsius } = sheetOf(picture, answer.coat.sheetId);
  const last = air && airKnownAt(air, at).last;
  if (answer.safeAt !== undefined || !air || !last || last.celsius >= minimumCelsius) return [];
  return [{ kind: "below-minimum", roomId: air.roomId, minimumCelsius }];
};

const evidenceOf = ({ legs, asked }: Film): FacePart["evidence"] => {
  if (asked.countsAway && legs.some((leg) => leg.fromAt < asked.at && leg.credit.air.isAway)) return "assumed";
  return legs.some((leg) => leg.fromAt < asked.at && leg.credit.air.endsAt !== undefined) ? "readings" : "sheet";
};

/** The clock's answer about one film as a part of a gate, without tests. */
export const clockPart = (picture: Picture, answer: CoatAnswer, heldBy: HeldBy, at: InstantMs): FacePart => ({
  state: answer.isReached ? "open" : "shut",
  sinceAt: answer.isReached ? answer.safeAt : undefined,
  safeAt: answer.safeAt,
  likelyAt: answer.likelyAt,
  heldBy: { ...heldBy, coatId: answer.coat.id },
  evidence: evidenceOf(answer.film),
  needs: answer.isReached ? [] : [...missingReadings(picture, answer, at), ...standsStill(picture, answer, at)],
  safeCreditMin: answer.safeCreditMin,
  neededMin: answer.neededMin,
  factor: answer.factor,
  sheetId: answer.coat.sheetId,
});

/** What hand tests make of the clock's answer: a standing fail shuts it without a date, a pass opens it from the test on. */
export const withTests = (
  picture: Picture,
  answer: CoatAnswer,
  part: FacePart,
  about: { surfaceId: string; milestone: Milestone; clockOpensAt: InstantMs | undefined },
  at: InstantMs,
): FacePart => {
  const verdict = testVerdict(picture, about.surfaceId, about.milestone, at, about.clockOpensAt);
  if (verdict.kind === "none") return part;
  if (verdict.kind === "pass") {
    const sinceAt =
      part.state === "open" ? Math.min(part.sinceAt ?? verdict.sinceAt, verdict.sinceAt) : verdict.sinceAt;
    return { ...part, state: "open", sinceAt, evidence: "test", needs: [] };
  }
  const again = retestAt(picture, answer, verdict.test.at, at);
  const { safeAt: _safeAt, likelyAt: _likelyAt, sinceAt: _sinceAt, ...held } = part;
  return {
    ...held,
    state: "shut",
    evidence: "test",
    needs: [
      {
        kind: "test-says-no",
        testId: verdict.test.id,
        milestone: about.milestone,
        ...(again !== undefined && { retestAt: again }),
      },
    ],
  };
};

/** When the clock opened, for judging a helper's pass: nothing while it has not. */
export const clockOpenedAt = (answer: Extract<SurfaceAnswer, { kind: "clock" }>) =>
  answer.isReached ? (answer.safeAt ?? answer.holder.film.laidAt) : undefined;

/** One face's part in a gate. */
export const facePart = (picture: Picture, face: FaceDemand, at: InstantMs, countsAway: boolean): FacePart => {
  const { surfaceId, demand, pairId } = face;
  const pair = picture.pairs.find((candidate) => candidate.id === pairId);
  const surfaceB = pair && (pair.surfaceA === surfaceId ? pair.surfaceB : pair.surfaceA);
  const heldBy: HeldBy = { milestone: demand.milestone, surfaceId, surfaceB, pairId };
  const answer = surfaceAnswer(picture, surfaceId, demand, at, countsAway);
  if (answer.kind === "no-film") return { state: "open", evidence: "sheet", needs: [] };
  if (answer.kind === "never")
    return {
      state: "shut-for-good",
      heldBy: { ...heldBy, coatId: answer.coat.id },
      evidence: "sheet",
      needs: [{ kind: "never", surfaceId, coatId: answer.coat.id, cause: answer.cause }],
      sheetId: answer.coat.sheetId,
    };
  const part = clockPart(picture, answer.holder, heldBy, at);
  const about = { surfaceId, milestone: demand.milestone, clockOpensAt: clockOpenedAt(answer) };
  return withTests(picture, answer.holder, part, about, at);
};
