import { airKnownAt } from "../climate/history";
import type { InstantMs } from "../units";
import { demandsOf, type GateAction } from "./demand";
import { facePart } from "./face";
import { combined, type FacePart, type Gate } from "./gate-answer";
import type { Demand } from "./milestone";
import { familyOf, filmOn, type Picture, roomIdAt, sheetOf } from "./picture";
import { filmParts, recoatParts } from "./recoat";

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
    const face = { surfaceId: asked.surfaceId, demand: sandDemand(picture, asked.surfaceId, at) };
    return [facePart(picture, face, at, false)];
  }
  const countsAway = asked.action === "use";
  return demandsOf(picture, asked).map((face) => facePart(picture, face, at, countsAway));
};

/**
 * May this be done to the piece at `at`, and if not, when. Judged with the facts up to `at` alone: later readings, coats,
 * tests and moves are as if they were not there. Open if and only if every film concerned has earned what it needs by
 * then, or a later test opened it; a date in the future supposes that readings go on.
 *
 * An estimate that may only delay: the data sheet of the product in hand and a hand on the piece outrank it.
 */
export const gate = (picture: Picture, asked: GateAction, at: InstantMs): Gate =>
  combined(asked.action, partsOf(picture, asked, at), readingsThroughAt(picture, at));

/** As `gate` for the next coat, but for the film below alone: what a plate counts down to, whatever the air does today. */
export const recoatFilmGate = (
  picture: Picture,
  asked: Extract<GateAction, { action: "recoat" }>,
  at: InstantMs,
): Gate => combined("recoat", filmParts(picture, asked, at), readingsThroughAt(picture, at));
