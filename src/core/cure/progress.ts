import { airKnownAt } from "../climate/history";
import { dayMs, type InstantMs } from "../units";
import { type Checkpoint, type LaidCoat, type Picture, sheetOf, staysKnownAt } from "./picture";
import { earnedBetween, earnsAhead, type RoomCredit, roomCredit, type Track } from "./room-credit";

/** Two ways of summing the same air differ by rounding; a millionth of a minute decides nothing at the bench. */
export const creditToleranceMin = 1e-6;

/** Past this, a date is no longer an answer. */
const farthestMs = 5 * 366 * dayMs;

export type Leg = { fromAt: InstantMs; toAt: InstantMs; credit: RoomCredit };

/** One coat and the air around it since it went on, as known at the instant of asking. */
export type Film = {
  coat: LaidCoat;
  laidAt: InstantMs;
  legs: readonly Leg[];
  checkpoint: Checkpoint | undefined;
  asked: { at: InstantMs; countsAway: boolean };
};

/**
 * The film of a coat, over every room in which its piece has stood since.
 *
 * @param countsAway only for *use*: time in rooms that nobody reads counts as those rooms are stated to be
 */
export const filmOf = (picture: Picture, coat: LaidCoat, at: InstantMs, countsAway = false): Film => {
  const reference = sheetOf(picture, coat.sheetId);
  const checkpoint = picture.checkpointByCoatId?.get(coat.id);
  const usable = checkpoint && checkpoint.at <= at ? checkpoint : undefined;
  const laidAt = coat.applied.endedAt;
  const startsAt = Math.max(laidAt, usable?.at ?? laidAt);
  const legs = staysKnownAt(picture, coat.pieceId, at).flatMap(({ roomId, fromAt, toAt }) => {
    const air = picture.airByRoomId.get(roomId);
    if (!air || toAt <= startsAt) return [];
    return [{ fromAt: Math.max(fromAt, startsAt), toAt, credit: roomCredit(airKnownAt(air, at), reference) }];
  });
  return { coat, laidAt, legs, checkpoint: usable, asked: { at, countsAway } };
};

const checkpointMin = ({ checkpoint, asked }: Film, track: Track): number => {
  if (!checkpoint) return 0;
  if (track === "likely") return checkpoint.likelyMin;
  if (track === "fast") return checkpoint.fastMin;
  const safeMin = asked.countsAway ? checkpoint.useMin : checkpoint.safeMin;
  return track === "safe" ? safeMin : safeMin - (checkpoint.safeMin - checkpoint.promiseMin);
};

/**
 * What a film has earned by an instant, in minutes at its sheet's reference.
 *
 * @param at not before the film's checkpoint, if it has one
 */
export const creditMin = (film: Film, track: Track, at: InstantMs): number => {
  if (at <= film.laidAt) return 0;
  return film.legs.reduce(
    (sum, { fromAt, toAt, credit }) => {
      const end = Math.min(toAt, at);
      return end <= fromAt ? sum : sum + earnedBetween(credit, track, fromAt, end, film.asked);
    },
    checkpointMin(film, track),
  );
};

/**
 * The first whole millisecond in a leg at which it has earned `neededMin`; the leg does earn it before `latestAt`. Credit
 * grows almost straight, so every other guess is where a straight line would reach it; the rest halve.
 */
const reachedInLeg = (leg: Leg, film: Film, track: Track, neededMin: number, latestAt: InstantMs): InstantMs => {
  const missingAt = (at: InstantMs) =>
    neededMin - creditToleranceMin - earnedBetween(leg.credit, track, leg.fromAt, at, film.asked);
  let [low, high] = [leg.fromAt, latestAt];
  let [missingLow, missingHigh] = [neededMin - creditToleranceMin, missingAt(latestAt)];
  for (let step = 0; high - low > 1; step += 1) {
    const straight = low + ((high - low) * missingLow) / (missingLow - missingHigh);
    // a millisecond to either side in turn, so that the bracket closes from both ends
    const guess = step % 3 === 2 ? (low + high) / 2 : straight + (step % 3 === 0 ? -1 : 1);
    const at = Math.min(high - 1, Math.max(low + 1, Math.floor(guess)));
    const missing = missingAt(at);
    if (missing <= 0) [high, missingHigh] = [at, missing];
    else [low, missingLow] = [at, missing];
  }
  return high;
};

/**
 * The instant at which a film has earned what it needs: looked up in the past, estimated for the future.
 *
 * @returns nothing if waiting will not do it as far as can be told, or if it lies before the film's checkpoint
 */
export const creditReachedAt = (film: Film, track: Track, neededMin: number): InstantMs | undefined => {
  let missing = neededMin - checkpointMin(film, track);
  if (neededMin <= creditToleranceMin) return film.laidAt;
  if (missing <= creditToleranceMin) return undefined;
  for (const leg of film.legs) {
    const isOpen = leg.toAt === Number.POSITIVE_INFINITY;
    let end = isOpen ? Math.max(leg.fromAt, film.asked.at) : leg.toAt;
    if (isOpen) {
      const latest = end + farthestMs;
      let stepMs = dayMs;
      const isShort = () =>
        earnedBetween(leg.credit, track, leg.fromAt, end, film.asked) + creditToleranceMin < missing;
      while (isShort()) {
        if (!earnsAhead(leg.credit, track, film.asked.countsAway) || end >= latest) return undefined;
        end = Math.min(latest, end + stepMs);
        stepMs *= 2;
      }
    }
    const earned = earnedBetween(leg.credit, track, leg.fromAt, end, film.asked);
    if (earned + creditToleranceMin >= missing) return reachedInLeg(leg, film, track, missing, end);
    missing -= earned;
  }
  return undefined;
};

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
  };
};
