import { airKnownAt } from "../climate/history";
import { dayMs, type InstantMs } from "../units";
import { Leg } from "./leg";
import { type Checkpoint, type LaidCoat, momentOf, type Picture, sheetOf, staysKnownAt } from "./picture";
import { type Asked, creditToleranceMin, type RoomCredit, roomCredit, roomReachedAt, type Track } from "./room-credit";

export { creditToleranceMin } from "./room-credit";

/** Past this, a date is no longer an answer. */
const farthestMs = 5 * 366 * dayMs;

type Reached = { track: Track; neededMin: number; at: InstantMs | undefined };

/** Something laid that hardens, and the air around it since, as known at the instant of asking. */
export type Hardening = {
  laidAt: InstantMs;
  legs: readonly Leg[];
  checkpoint: Checkpoint | undefined;
  asked: Asked;
  /** Everybody asks the same of it. */
  reached: Reached[];
  safeNowMin?: number;
};

/** Something as if laid at an instant in a room, and left there. */
export const laidInRoom = (credit: RoomCredit, at: InstantMs): Hardening => {
  const asked = { at, countsAway: false };
  return {
    laidAt: at,
    legs: [new Leg(at, Number.POSITIVE_INFINITY, credit, asked)],
    checkpoint: undefined,
    asked,
    reached: [],
  };
};

/** One coat as it hardens, and how many times as thick as on its sheet it lies with all that it is one film with. */
export type Film = Hardening & { coat: LaidCoat; timesAsThick?: number };

/** Films of one piece at one instant, and what the stays of the piece are worth to those of a sheet. */
export type Films = { asked: Asked; byCoatId: Map<string, Film>; legsBySheetId: Map<string, readonly Leg[]> };

const legsOf = (picture: Picture, { sheetId, pieceId }: LaidCoat, films: Films): readonly Leg[] => {
  const kept = films.legsBySheetId.get(sheetId);
  if (kept) return kept;
  const { asked } = films;
  const reference = sheetOf(picture, sheetId);
  const legs: Leg[] = [];
  for (const { roomId, fromAt, toAt } of staysKnownAt(picture, pieceId, asked.at)) {
    const air = picture.airByRoomId.get(roomId);
    if (!air) continue;
    const credit = roomCredit(airKnownAt(air, asked.at), reference, picture.shop.likelyCap);
    legs.push(new Leg(fromAt, toAt, credit, asked));
  }
  films.legsBySheetId.set(sheetId, legs);
  return legs;
};

const madeOf = (picture: Picture, coat: LaidCoat, films: Films): Film => {
  const { asked } = films;
  const checkpoint = picture.checkpointByCoatId?.get(coat.id);
  const usable = checkpoint && checkpoint.at <= asked.at ? checkpoint : undefined;
  const laidAt = coat.applied.endedAt;
  const startsAt = Math.max(laidAt, usable?.at ?? laidAt);
  const legs = legsOf(picture, coat, films).filter(({ toAt }) => toAt > startsAt);
  const [first] = legs;
  if (first && first.fromAt < startsAt) legs[0] = new Leg(startsAt, first.toAt, first.credit, asked);
  return { coat, laidAt, legs, checkpoint: usable, asked, reached: [] };
};

const isRead = ({ credit }: Leg) => !credit.air.isAway;

/**
 * The film of a coat, over every room in which its piece has stood since.
 *
 * @param countsAway only for *use*: time in rooms that nobody reads counts as those rooms are stated to be
 */
export const filmOf = (picture: Picture, coat: LaidCoat, at: InstantMs, countsAway = false): Film => {
  const { films } = momentOf(picture, at);
  const known = countsAway ? films.countsAway : films.countsRead;
  const kept = known.byCoatId.get(coat.id);
  if (kept?.coat === coat) return kept;
  const read = countsAway ? filmOf(picture, coat, at) : undefined;
  const isSame = read && !read.checkpoint && read.legs.every(isRead);
  const film = isSame ? read : madeOf(picture, coat, known);
  known.byCoatId.set(coat.id, film);
  return film;
};

const checkpointMin = ({ checkpoint, asked }: Hardening, track: Track): number => {
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
export const creditMin = (film: Hardening, track: Track, at: InstantMs): number => {
  if (at <= film.laidAt) return 0;
  let sum = checkpointMin(film, track);
  for (const leg of film.legs) {
    if (at <= leg.fromAt) break;
    sum += leg.minutesTo(track, Math.min(at, leg.toAt));
  }
  return sum;
};

/** What a film has earned by the instant of asking, as far as is safe to say. */
export const safeNowMin = (film: Hardening): number => {
  film.safeNowMin ??= creditMin(film, "safe", film.asked.at);
  return film.safeNowMin;
};

const reachedAtOf = (film: Hardening, track: Track, neededMin: number): InstantMs | undefined => {
  let missing = neededMin - checkpointMin(film, track);
  if (neededMin <= creditToleranceMin) return film.laidAt;
  if (missing <= creditToleranceMin) return undefined;
  for (const leg of film.legs) {
    const { fromAt, toAt, credit } = leg;
    const reachedAt = roomReachedAt(credit, track, fromAt, missing, film.asked, leg.beforeMin(track));
    if (reachedAt !== undefined && reachedAt <= Math.min(toAt, Math.max(fromAt, film.asked.at) + farthestMs))
      return reachedAt;
    if (toAt === Number.POSITIVE_INFINITY) return undefined;
    missing -= leg.minutesTo(track, toAt);
  }
  return undefined;
};

/**
 * The instant at which a film has earned what it needs: looked up in the past, estimated for the future.
 *
 * @returns nothing if waiting will not do it as far as can be told, or if it lies before the film's checkpoint
 */
export const creditReachedAt = (film: Hardening, track: Track, neededMin: number): InstantMs | undefined => {
  // a sheet has a handful of times
  for (const reached of film.reached) if (reached.track === track && reached.neededMin === neededMin) return reached.at;
  const at = reachedAtOf(film, track, neededMin);
  film.reached.push({ track, neededMin, at });
  return at;
};
