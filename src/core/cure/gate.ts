import { airKnownAt } from "../climate/history";
import type { InstantMs } from "../units";
import { demandsOf, type GateAction } from "./demand";
import { facePart } from "./face";
import { CombinedGate, type FacePart, type Gate } from "./gate-answer";
import { jointParts } from "./joint-gates";
import type { Demand } from "./milestone";
import { familyOf, filmOn, momentOf, type Picture, roomIdAt, sheetOf } from "./picture";
import { filmParts, recoatParts } from "./recoat";
import { woodPart } from "./washed-wood";
import { withWord } from "./word";

export type { FaceDemand, GateAction } from "./demand";
export type { Gate, GateNeed, HeldBy } from "./gate-answer";

const readingsThroughAt = (picture: Picture, at: InstantMs) => {
  const roomId = roomIdAt(picture, at);
  const air = roomId === undefined ? undefined : picture.airByRoomId.get(roomId);
  return air && airKnownAt(air, at).endsAt;
};

/** Filler and clay are sanded once they take a coat; a finish once it is dry through. */
const sandDemand = (picture: Picture, surfaceId: string, at: InstantMs): Demand => {
  const top = filmOn(picture, surfaceId, at).at(-1);
  const family = top && familyOf(picture, sheetOf(picture, top.sheetId));
  return { milestone: family === "filler" || family === "clay" ? "recoat-opens" : "handle" };
};

const partsOf = (picture: Picture, asked: GateAction, at: InstantMs): FacePart[] => {
  if (asked.action === "recoat") return recoatParts(picture, asked, at);
  if (asked.action === "sand") {
    const wood = woodPart(picture, asked.surfaceId, at);
    if (wood) return [wood];
    const face = { surfaceId: asked.surfaceId, demand: sandDemand(picture, asked.surfaceId, at) };
    return [facePart(picture, face, at, false)];
  }
  const countsAway = asked.action === "use";
  // the film's clock, what hands found about it, and last what somebody gave their word for
  const faces = demandsOf(picture, asked).map((face) =>
    withWord(picture, facePart(picture, face, at, countsAway), asked.action, face, at),
  );
  return [...faces, ...jointParts(picture, asked, at)];
};

/** What rests on films, tests and words alone, worked out once a moment: a screen asks the same of a piece many times. */
const onceAMoment = (picture: Picture, at: InstantMs, question: string, answer: () => Gate): Gate => {
  const { gateByQuestion } = momentOf(picture, at);
  const kept = gateByQuestion.get(question);
  if (kept) return kept;
  const found = answer();
  gateByQuestion.set(question, found);
  return found;
};

/** Nothing for what rests on more than the film: the air for a coat, the wood under it. */
const questionOf = (asked: GateAction): string | undefined => {
  switch (asked.action) {
    case "touch":
      return `touch ${asked.surfaceId}`;
    case "move":
      return `move ${asked.carried}`;
    case "press-together":
      return `press ${asked.pairId}`;
    case "stack":
      return `stack ${asked.material}`;
    case "wrap":
    case "hand-over":
      return `${asked.action} ${asked.wrap} ${asked.isStrapped}`;
    case "use":
      return `use ${asked.how}`;
    default:
      return undefined;
  }
};

/**
 * May this be done to the piece at `at`, and if not, when. Judged with the facts up to `at` alone: later readings, coats,
 * tests and moves are as if they were not there. Open if and only if every film concerned has earned what it needs by
 * then, or a later test or somebody's word opened it; a date in the future supposes that readings go on.
 *
 * An estimate that may only delay: the data sheet of the product in hand and a hand on the piece outrank it.
 */
export const gate = (picture: Picture, asked: GateAction, at: InstantMs): Gate => {
  const answer = () => new CombinedGate(asked.action, partsOf(picture, asked, at), readingsThroughAt(picture, at));
  const question = questionOf(asked);
  return question === undefined ? answer() : onceAMoment(picture, at, question, answer);
};

/** As `gate` for the next coat, but for the film below alone: what a plate counts down to, whatever the air does today. */
export const recoatFilmGate = (
  picture: Picture,
  asked: Extract<GateAction, { action: "recoat" }>,
  at: InstantMs,
): Gate =>
  onceAMoment(
    picture,
    at,
    `film ${asked.surfaceId} ${asked.sheetId} ${asked.scuffedBefore}`,
    () => new CombinedGate("recoat", filmParts(picture, asked, at), readingsThroughAt(picture, at)),
  );
