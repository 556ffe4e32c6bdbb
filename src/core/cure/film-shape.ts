import type { InstantMs } from "../units";
import type { GateAction } from "./demand";
import { type FilmSpan, filmSpans } from "./film-spans";
import { gate, recoatFilmGate } from "./gate";
import type { Gate } from "./gate-answer";
import { type Milestone, milestones, surfaceAnswer } from "./milestone";
import { filmOn, type Picture, sheetOf } from "./picture";
import { creditReachedAt, filmOf } from "./progress";

/** What there is to draw of one film against one question. */
export type FilmShape = {
  coatId: string;
  laidAt: InstantMs;
  nowAt: InstantMs;
  spans: FilmSpan[];
  /** Milestones that the whole surface had reached by now, with the instant where it is known, weakest first. */
  passed: { milestone: Milestone; at?: InstantMs }[];
  gate: Gate;
  likelyAt?: InstantMs;
  safeAt?: InstantMs;
  /** The recoat window of the top coat, by the fast clock, where its sheet has one. */
  window?: { opensAt?: InstantMs; closesAt: InstantMs };
};

/** Milestones that do not depend on a material or a wrap. */
const drawn = milestones.filter((name) => name !== "stack" && name !== "snug-wrap" && name !== "plastic-wrap");

const passedMilestones = (picture: Picture, surfaceId: string, at: InstantMs, countsAway: boolean) =>
  drawn.flatMap((milestone) => {
    const answer = surfaceAnswer(picture, surfaceId, { milestone }, at, countsAway);
    if (answer.kind !== "clock" || !answer.isReached) return [];
    return [{ milestone, ...(answer.safeAt !== undefined && { at: answer.safeAt }) }];
  });

/**
 * The film gauge of one surface: what its film has earned and lost since it was laid, and when it will do. The film drawn
 * is the one that holds the gate, else the top coat.
 *
 * @returns nothing for a surface without a film
 */
export const filmShape = (
  picture: Picture,
  surfaceId: string,
  asked: GateAction,
  at: InstantMs,
): FilmShape | undefined => {
  const coats = filmOn(picture, surfaceId, at);
  const top = coats.at(-1);
  if (!top) return undefined;
  const countsAway = asked.action === "use";
  // a gate of one surface alone: the others would hold it with films that are not drawn here
  const alone: Picture = {
    ...picture,
    surfaces: picture.surfaces.filter((surface) => surface.id === surfaceId),
    pairs: picture.pairs.filter((pair) => pair.surfaceA === surfaceId || pair.surfaceB === surfaceId),
  };
  const found = asked.action === "recoat" ? recoatFilmGate(alone, asked, at) : gate(alone, asked, at);
  const coat = coats.find((candidate) => candidate.id === found.heldBy?.coatId) ?? top;
  const { recoatClosesMin } = sheetOf(picture, top.sheetId);
  const closesAt =
    recoatClosesMin === undefined ? undefined : creditReachedAt(filmOf(picture, top, at), "fast", recoatClosesMin);
  const opens = surfaceAnswer(picture, surfaceId, { milestone: "recoat-opens" }, at);
  const opensAt = opens.kind === "clock" ? opens.safeAt : undefined;
  return {
    coatId: coat.id,
    laidAt: coat.applied.endedAt,
    nowAt: at,
    spans: filmSpans(filmOf(picture, coat, at, countsAway)),
    passed: passedMilestones(picture, surfaceId, at, countsAway),
    gate: found,
    ...(found.likelyAt !== undefined && { likelyAt: found.likelyAt }),
    ...(found.safeAt !== undefined && { safeAt: found.safeAt }),
    ...(closesAt !== undefined && { window: { ...(opensAt !== undefined && { opensAt }), closesAt } }),
  };
};
