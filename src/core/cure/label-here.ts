import type { Family } from "../shop/entities/products";
import type { Sheet } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";
import { type Milestone, neededTime } from "./needed-time";
import { creditReachedAt, type Hardening } from "./progress";

export type LabelHere = { labelMin: number; safeMin?: number; likelyMin?: number };

/**
 * What a time of the label becomes in the air that a coat had and will have: real minutes from when it was laid.
 *
 * @param film laid, or as if laid now
 * @returns nothing for a film that never gets there; a track without an end is left out
 */
export const labelHere = (
  film: Hardening,
  sheet: Sheet,
  family: Family,
  milestone: Milestone,
): LabelHere | undefined => {
  const time = neededTime(sheet, family, { milestone }, true);
  if (time === "never") return undefined;
  const realMin = (reachedAt: InstantMs | undefined) =>
    reachedAt === undefined ? undefined : (reachedAt - film.laidAt) / minuteMs;
  const safeMin = realMin(creditReachedAt(film, "promise", time.min));
  const likelyMin = realMin(creditReachedAt(film, "likely", time.typicalMin ?? time.min));
  return {
    labelMin: time.min,
    ...(safeMin !== undefined && { safeMin }),
    ...(likelyMin !== undefined && { likelyMin }),
  };
};
