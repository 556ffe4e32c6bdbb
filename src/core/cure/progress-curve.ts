/** How a film has come along since it was laid and will go on: what there is to draw beside "why so late?". */
import { hourAhead } from "../climate/forecast";
import { airAt } from "../climate/history";
import type { InstantMs } from "../units";
import { type FilmSpan, filmSpans } from "./film-spans";
import type { Gate } from "./gate-answer";
import type { Picture } from "./picture";
import { creditMin, type Film, filmOf } from "./progress";

export type CurvePoint = {
  at: InstantMs;
  /** Of the minutes needed, 0…1. */
  safeShare: number;
  likelyShare: number;
  /** Absent where nobody read the room; to come, the forecast low. */
  celsius?: number;
};

export type ProgressCurve = {
  laidAt: InstantMs;
  nowAt: InstantMs;
  endAt: InstantMs;
  neededMin: number;
  safeCreditMin: number;
  safeAt?: InstantMs;
  likelyAt?: InstantMs;
  points: CurvePoint[];
  /** Where it stood still: lost to cold or damp, or unknown for want of a reading. */
  stoodStill: FilmSpan[];
  /** Below it nothing hardens. */
  lowestCelsius: number;
};

const celsiusAt = (film: Film, at: InstantMs): number | undefined => {
  const leg = film.legs.find(({ fromAt, toAt }) => fromAt <= at && at < toAt);
  if (!leg) return undefined;
  const { air } = leg.credit;
  if (air.endsAt !== undefined && at > air.endsAt) return hourAhead(air, at)?.lowCelsius;
  const found = airAt(air, at);
  return found.isKnown ? found.celsius : undefined;
};

/**
 * The curve of the film that holds a gate, from when it was laid to when it is safe, or a little past now.
 *
 * @param steps into which that time is cut
 * @returns nothing where no clock holds the gate, or the device knows nothing of the time since it was laid
 */
export const progressCurve = (picture: Picture, gate: Gate, at: InstantMs, steps = 60): ProgressCurve | undefined => {
  const { heldBy, neededMin, safeAt, likelyAt } = gate;
  const coat = picture.coats.find((candidate) => candidate.id === heldBy?.coatId);
  if (neededMin === undefined || neededMin <= 0 || !coat?.applied) return undefined;
  const film = filmOf(picture, { ...coat, applied: coat.applied }, at, gate.action === "use");
  const startAt = film.legs[0]?.fromAt;
  if (startAt === undefined) return undefined;
  const likelyNeededMin = likelyAt === undefined ? neededMin : creditMin(film, "likely", likelyAt);
  const dates = [safeAt, likelyAt].filter((date) => date !== undefined);
  const endAt = dates.length > 0 ? Math.max(...dates) : at + Math.max(1, at - startAt) / 2;
  const share = (earnedMin: number, ofMin: number) => Math.min(1, ofMin > 0 ? earnedMin / ofMin : 1);
  const points = Array.from({ length: steps + 1 }, (_, step): CurvePoint => {
    const pointAt = startAt + (step / steps) * (endAt - startAt);
    const celsius = celsiusAt(film, pointAt);
    return {
      at: pointAt,
      safeShare: share(creditMin(film, pointAt <= at ? "safe" : "promise", pointAt), neededMin),
      likelyShare: share(creditMin(film, "likely", pointAt), likelyNeededMin),
      ...(celsius !== undefined && { celsius }),
    };
  });
  return {
    laidAt: film.laidAt,
    nowAt: at,
    endAt,
    neededMin,
    safeCreditMin: creditMin(film, "safe", at),
    ...(safeAt !== undefined && { safeAt }),
    ...(likelyAt !== undefined && { likelyAt }),
    points,
    stoodStill: filmSpans(film).filter(({ kind }) => kind === "lost" || kind === "unknown"),
    lowestCelsius: Math.max(...film.legs.map(({ credit }) => credit.filmLaw.law.nothingBelowCelsius)),
  };
};
