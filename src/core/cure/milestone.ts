import type { SheetTime } from "../shop/entities/products";
import type { InstantMs } from "../units";
import { deadCoat } from "./dead-can";
import { countingFactor, factoredTime } from "./factor";
import { type Demand, demandNumber, neededTime } from "./needed-time";
import { familyOf, filmOn, type LaidCoat, momentOf, type Picture, sheetOf } from "./picture";
import { creditMin, creditReachedAt, creditToleranceMin, type Film, filmOf } from "./progress";
import { filmFactor } from "./wet-on-wet";

export { type Demand, type Milestone, milestones } from "./needed-time";

/** How far one coat is on its way to what is asked of it. */
export type CoatAnswer = {
  coat: LaidCoat;
  film: Film;
  neededMin: number;
  /** What hand tests taught of the product, where that counts. */
  factor?: number;
  safeCreditMin: number;
  isReached: boolean;
  /** When it was or will be reached; nothing if waiting will not do it as far as can be told. */
  safeAt?: InstantMs;
  likelyAt?: InstantMs;
};

/** Minutes at the sheet's reference that one coat needs, on either track. */
export type CoatMinutes = { safeMin: number; likelyMin: number; factor?: number };

/** A sheet's time for a coat as it was laid, and as this shop's hands have found the product to be. */
export const coatMinutes = (picture: Picture, coat: LaidCoat, time: SheetTime, at: InstantMs): CoatMinutes => {
  const sheet = sheetOf(picture, coat.sheetId);
  const factor = countingFactor(picture.productById.get(sheet.productId), sheet, at);
  const { safeMin, likelyMin } = factoredTime(time, factor);
  const thick = filmFactor(picture, coat, at);
  return { safeMin: safeMin * thick, likelyMin: likelyMin * thick, factor: factor === 1 ? undefined : factor };
};

/** One coat against the minutes that it needs. */
export const coatAnswer = (film: Film, minutes: CoatMinutes, at: InstantMs): CoatAnswer => {
  const { safeMin: neededMin, likelyMin, factor } = minutes;
  const safeCreditMin = creditMin(film, "safe", at);
  const isReached = at >= film.laidAt && safeCreditMin + creditToleranceMin >= neededMin;
  const safeAt = creditReachedAt(film, isReached ? "safe" : "promise", neededMin);
  const likelyAt = creditReachedAt(film, "likely", likelyMin);
  return {
    coat: film.coat,
    film,
    neededMin,
    safeCreditMin,
    isReached,
    factor,
    safeAt,
    likelyAt,
  };
};

export type SurfaceAnswer =
  | { kind: "no-film" }
  | { kind: "never"; coat: LaidCoat; cause: "soft-under-pressure" | "dead-can" }
  | { kind: "clock"; holder: CoatAnswer; isReached: boolean; safeAt?: InstantMs; likelyAt?: InstantMs };

/** Later is worse, and no date at all is worst. */
const isLater = (one: CoatAnswer, other: CoatAnswer) =>
  one.isReached !== other.isReached
    ? !one.isReached
    : (one.safeAt ?? (one.isReached ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY)) >=
      (other.safeAt ?? (other.isReached ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY));

/** The latest of instants, and nothing as soon as one of them is not known. */
const latest = (instants: readonly (InstantMs | undefined)[]) =>
  instants.some((instant) => instant === undefined) ? undefined : Math.max(...(instants as InstantMs[]));

const workedOut = (
  picture: Picture,
  surfaceId: string,
  demand: Demand,
  at: InstantMs,
  countsAway: boolean,
): SurfaceAnswer => {
  const coats = filmOn(picture, surfaceId, at);
  const top = coats.at(-1);
  if (!top) return { kind: "no-film" };
  const dead = deadCoat(picture, surfaceId, coats, at);
  if (dead) return { kind: "never", coat: dead, cause: "dead-can" };
  const answers: CoatAnswer[] = [];
  const longest = new Map<string, number>();
  for (let index = coats.length - 1; index >= 0; index -= 1) {
    const coat = coats[index] as LaidCoat;
    const sheet = sheetOf(picture, coat.sheetId);
    const time = neededTime(sheet, familyOf(picture, sheet), demand, coat === top);
    if (time === "never") return { kind: "never", coat, cause: "soft-under-pressure" };
    const minutes = coatMinutes(picture, coat, time, at);
    // under a later coat of the same sheet that needs as long or longer, a film is always the first to be done
    if ((longest.get(sheet.id) ?? 0) >= minutes.safeMin) continue;
    longest.set(sheet.id, minutes.safeMin);
    answers.push(coatAnswer(filmOf(picture, coat, at, countsAway), minutes, at));
  }
  const holder = answers.reduce((worst, answer) => (isLater(answer, worst) ? answer : worst));
  return {
    kind: "clock",
    holder,
    isReached: answers.every((answer) => answer.isReached),
    safeAt: holder.safeAt,
    likelyAt: latest(answers.map((answer) => answer.likelyAt)),
  };
};

/**
 * Whether the film on a surface has reached what is asked: every coat that was not removed counts, each from its own end,
 * and the latest decides.
 */
export const surfaceAnswer = (
  picture: Picture,
  surfaceId: string,
  demand: Demand,
  at: InstantMs,
  countsAway = false,
): SurfaceAnswer => {
  const { answersBySurfaceId } = momentOf(picture, at);
  const known = answersBySurfaceId.get(surfaceId) ?? new Map<number, SurfaceAnswer>();
  answersBySurfaceId.set(surfaceId, known);
  const question = 2 * demandNumber(demand) + (countsAway ? 1 : 0);
  const kept = known.get(question) ?? workedOut(picture, surfaceId, demand, at, countsAway);
  known.set(question, kept);
  return kept;
};
