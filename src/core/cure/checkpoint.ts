import type { InstantMs } from "../units";
import type { Checkpoint, LaidCoat, Picture } from "./picture";
import { creditMin, filmOf } from "./progress";
import { wentOnWet } from "./wet-on-wet";

/**
 * What the server writes down of a film so that devices need no readings from before `at`, but the last one before it.
 *
 * @param at at least a day before `askedAt`, so that what is unknown at it stays unknown until somebody writes it down
 */
export const checkpointOf = (picture: Picture, coat: LaidCoat, at: InstantMs, askedAt: InstantMs): Checkpoint => {
  const film = filmOf(picture, coat, askedAt);
  return {
    at,
    safeMin: creditMin(film, "safe", at),
    promiseMin: creditMin(film, "promise", at),
    likelyMin: creditMin(film, "likely", at),
    fastMin: creditMin(film, "fast", at),
    useMin: creditMin(filmOf(picture, coat, askedAt, true), "safe", at),
    ...(wentOnWet(picture, coat, askedAt) && { wentOnWet: true }),
  };
};
