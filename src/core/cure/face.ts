import { airKnownAt } from "../climate/history";
import { type InstantMs, minuteMs } from "../units";
import type { FaceDemand } from "./demand";
import { unknownSpans } from "./film-spans";
import { type FacePart, type GateNeed, type HeldBy, toldPart } from "./gate-answer";
import { type ClockAnswer, type CoatAnswer, surfaceAnswer } from "./milestone";
import { testVerdict } from "./observation";
import { type LaidCoat, type Picture, roomIdAt, sheetOf } from "./picture";
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

const heldOn = (picture: Picture, { surfaceId, demand, pairId }: FaceDemand, coat: LaidCoat): HeldBy => {
  const pair = pairId === undefined ? undefined : picture.pairs.find((candidate) => candidate.id === pairId);
  const surfaceB = pair && (pair.surfaceA === surfaceId ? pair.surfaceB : pair.surfaceA);
  return { milestone: demand.milestone, surfaceId, surfaceB, pairId, coatId: coat.id };
};

/**
 * The clock's answer about the films of one face as a part of a gate, without tests: open or not at once, all else once
 * somebody asks.
 */
export class ClockPart implements FacePart {
  private listed: GateNeed[] | undefined;

  constructor(
    private readonly picture: Picture,
    private readonly clock: ClockAnswer,
    private readonly face: FaceDemand,
  ) {}

  get state() {
    return this.clock.isReached ? "open" : "shut";
  }

  /** The film on which it rests. */
  get answer(): CoatAnswer {
    return this.clock.holder;
  }

  get sinceAt() {
    return this.state === "open" ? this.answer.safeAt : undefined;
  }

  get safeAt() {
    return this.answer.safeAt;
  }

  get likelyAt() {
    return this.answer.likelyAt;
  }

  get heldBy(): HeldBy {
    return heldOn(this.picture, this.face, this.answer.coat);
  }

  get evidence() {
    return evidenceOf(this.answer.film);
  }

  get needs(): GateNeed[] {
    if (this.state === "open") return [];
    const { picture, answer } = this;
    const { at } = answer.film.asked;
    this.listed ??= [...missingReadings(picture, answer, at), ...standsStill(picture, answer, at)];
    return this.listed;
  }

  get safeCreditMin() {
    return this.answer.safeCreditMin;
  }

  get neededMin() {
    return this.answer.neededMin;
  }

  get factor() {
    return this.answer.factor;
  }

  get sheetId() {
    return this.answer.coat.sheetId;
  }
}

/** When the clock opened, for judging a helper's pass: nothing while it has not. */
const clockOpenedAt = (answer: CoatAnswer) => (answer.isReached ? (answer.safeAt ?? answer.film.laidAt) : undefined);

/** What hand tests make of the clock's answer: a standing fail shuts it without a date, a pass opens it from the test on. */
export const withTests = (
  picture: Picture,
  part: ClockPart,
  { surfaceId, demand: { milestone } }: FaceDemand,
  at: InstantMs,
): FacePart => {
  if (picture.tests.length === 0) return part;
  const verdict = testVerdict(picture, surfaceId, milestone, at, clockOpenedAt(part.answer));
  if (verdict.kind === "none") return part;
  if (verdict.kind === "pass") {
    const sinceAt =
      part.state === "open" ? Math.min(part.sinceAt ?? verdict.sinceAt, verdict.sinceAt) : verdict.sinceAt;
    return { ...toldPart(part), state: "open", sinceAt, evidence: "test", needs: [] };
  }
  const again = retestAt(picture, part.answer, verdict.test.at, at);
  return {
    ...toldPart(part),
    state: "shut",
    sinceAt: undefined,
    safeAt: undefined,
    likelyAt: undefined,
    evidence: "test",
    needs: [
      {
        kind: "test-says-no",
        testId: verdict.test.id,
        milestone,
        ...(again !== undefined && { retestAt: again }),
      },
    ],
  };
};

/** One face's part in a gate. */
export const facePart = (picture: Picture, face: FaceDemand, at: InstantMs, countsAway: boolean): FacePart => {
  const answer = surfaceAnswer(picture, face.surfaceId, face.demand, at, countsAway);
  if (answer.kind === "no-film") return { state: "open", evidence: "sheet", needs: [] };
  if (answer.kind === "never")
    return {
      state: "shut-for-good",
      heldBy: heldOn(picture, face, answer.coat),
      evidence: "sheet",
      needs: [{ kind: "never", surfaceId: face.surfaceId, coatId: answer.coat.id, cause: answer.cause }],
      sheetId: answer.coat.sheetId,
    };
  return withTests(picture, new ClockPart(picture, answer, face), face, at);
};
