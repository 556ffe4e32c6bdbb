import { airKnownAt } from "../climate/history";
import { dayMs, type InstantMs } from "../units";
import { type Checkpoint, type LaidCoat, type Moment, momentOf, type Picture, sheetOf, staysKnownAt } from "./picture";
import {
  type Asked,
  creditToleranceMin,
  earnedBetween,
  type RoomCredit,
  roomCredit,
  roomReachedAt,
  type Track,
} from "./room-credit";

export { creditToleranceMin } from "./room-credit";

/** Past this, a date is no longer an answer. */
const farthestMs = 5 * 366 * dayMs;

export type Leg = { fromAt: InstantMs; toAt: InstantMs; credit: RoomCredit };

/** Something laid that hardens, and the air around it since, as known at the instant of asking. */
export type Hardening = {
  laidAt: InstantMs;
  legs: readonly Leg[];
  checkpoint: Checkpoint | undefined;
  asked: Asked;
};

/** One coat as it hardens. */
export type Film = Hardening & { coat: LaidCoat };

const madeOf = (picture: Picture, coat: LaidCoat, at: InstantMs, countsAway: boolean): Film => {
  const reference = sheetOf(picture, coat.sheetId);
  const checkpoint = picture.checkpointByCoatId?.get(coat.id);
  const usable = checkpoint && checkpoint.at <= at ? checkpoint : undefined;
  const laidAt = coat.applied.endedAt;
  const startsAt = Math.max(laidAt, usable?.at ?? laidAt);
  const legs: Leg[] = [];
  for (const { roomId, fromAt, toAt } of staysKnownAt(picture, coat.pieceId, at)) {
    const air = picture.airByRoomId.get(roomId);
    if (!air || toAt <= startsAt) continue;
    const credit = roomCredit(airKnownAt(air, at), reference, picture.shop.likelyCap);
    legs.push({ fromAt: Math.max(fromAt, startsAt), toAt, credit });
  }
  return { coat, laidAt, legs, checkpoint: usable, asked: { at, countsAway } };
};

type Films = { countsAway: Map<string, Film>; countsRead: Map<string, Film> };
const filmsByMoment = new WeakMap<Moment, Films>();

/**
 * The film of a coat, over every room in which its piece has stood since.
 *
 * @param countsAway only for *use*: time in rooms that nobody reads counts as those rooms are stated to be
 */
export const filmOf = (picture: Picture, coat: LaidCoat, at: InstantMs, countsAway = false): Film => {
  const moment = momentOf(picture, at);
  let films = filmsByMoment.get(moment);
  if (!films) {
    films = { countsAway: new Map(), countsRead: new Map() };
    filmsByMoment.set(moment, films);
  }
  const known = countsAway ? films.countsAway : films.countsRead;
  const kept = known.get(coat.id);
  if (kept?.coat === coat) return kept;
  const made = madeOf(picture, coat, at, countsAway);
  known.set(coat.id, made);
  return made;
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
  return film.legs.reduce(
    (sum, { fromAt, toAt, credit }) => {
      const end = Math.min(toAt, at);
      return end <= fromAt ? sum : sum + earnedBetween(credit, track, fromAt, end, film.asked);
    },
    checkpointMin(film, track),
  );
};

/**
 * The instant at which a film has earned what it needs: looked up in the past, estimated for the future.
 *
 * @returns nothing if waiting will not do it as far as can be told, or if it lies before the film's checkpoint
 */
export const creditReachedAt = (film: Hardening, track: Track, neededMin: number): InstantMs | undefined => {
  let missing = neededMin - checkpointMin(film, track);
  if (neededMin <= creditToleranceMin) return film.laidAt;
  if (missing <= creditToleranceMin) return undefined;
  for (const { fromAt, toAt, credit } of film.legs) {
    const reachedAt = roomReachedAt(credit, track, fromAt, missing, film.asked);
    if (reachedAt !== undefined && reachedAt <= Math.min(toAt, Math.max(fromAt, film.asked.at) + farthestMs))
      return reachedAt;
    if (toAt === Number.POSITIVE_INFINITY) return undefined;
    missing -= earnedBetween(credit, track, fromAt, toAt, film.asked);
  }
  return undefined;
};
