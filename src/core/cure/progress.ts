import { airKnownAt } from "../climate/history";
import { dayMs, type InstantMs } from "../units";
import { type Checkpoint, type LaidCoat, momentOf, type Picture, sheetOf, staysKnownAt } from "./picture";
import {
  type Asked,
  creditToleranceMin,
  earnedTo,
  type RoomCredit,
  roomCredit,
  roomReachedAt,
  type Track,
} from "./room-credit";

export { creditToleranceMin } from "./room-credit";

/** Past this, a date is no longer an answer. */
const farthestMs = 5 * 366 * dayMs;

export type Leg = { fromAt: InstantMs; toAt: InstantMs; credit: RoomCredit };

/** What was worked out on one track: what each leg starts with and earns, and when so many minutes are reached. */
type OnTrack = { starts: number[]; wholes: number[]; nowMin: number | undefined; reached: Reached[] };
type Reached = { neededMin: number; at: InstantMs | undefined };

/** Something laid that hardens, and the air around it since, as known at the instant of asking. */
export type Hardening = {
  laidAt: InstantMs;
  legs: readonly Leg[];
  checkpoint: Checkpoint | undefined;
  asked: Asked;
  /** Everybody asks the same of it. */
  worked?: Partial<Record<Track, OnTrack>>;
};

const onTrack = (film: Hardening, track: Track): OnTrack => {
  film.worked ??= {};
  film.worked[track] ??= { starts: [], wholes: [], nowMin: undefined, reached: [] };
  return film.worked[track];
};

/** What the room of a leg had earned when it began. */
const startOf = ({ legs, asked }: Hardening, track: Track, { starts }: OnTrack, index: number): number => {
  const { credit, fromAt } = legs[index] as Leg;
  const kept = starts[index] ?? earnedTo(credit, track, fromAt, asked);
  starts[index] = kept;
  return kept;
};

/** What a leg earned up to an instant in it. */
const legMin = (film: Hardening, track: Track, worked: OnTrack, index: number, at: InstantMs): number =>
  earnedTo((film.legs[index] as Leg).credit, track, at, film.asked) - startOf(film, track, worked, index);

const wholeLegMin = (film: Hardening, track: Track, worked: OnTrack, index: number): number => {
  const kept = worked.wholes[index] ?? legMin(film, track, worked, index, (film.legs[index] as Leg).toAt);
  worked.wholes[index] = kept;
  return kept;
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

/**
 * The film of a coat, over every room in which its piece has stood since.
 *
 * @param countsAway only for *use*: time in rooms that nobody reads counts as those rooms are stated to be
 */
export const filmOf = (picture: Picture, coat: LaidCoat, at: InstantMs, countsAway = false): Film => {
  const { films } = momentOf(picture, at);
  const known = countsAway ? films.countsAway : films.countsRead;
  const kept = known.get(coat.id);
  if (kept?.coat === coat) return kept;
  const read = countsAway ? filmOf(picture, coat, at) : undefined;
  const isSame = read && !read.checkpoint && read.legs.every(({ credit }) => !credit.air.isAway);
  const film = isSame ? read : madeOf(picture, coat, at, countsAway);
  known.set(coat.id, film);
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
  const worked = onTrack(film, track);
  if (at === film.asked.at && worked.nowMin !== undefined) return worked.nowMin;
  let sum = checkpointMin(film, track);
  for (const [index, { fromAt, toAt }] of film.legs.entries()) {
    if (toAt <= at) sum += wholeLegMin(film, track, worked, index);
    else if (at > fromAt) sum += legMin(film, track, worked, index, at);
  }
  if (at === film.asked.at) worked.nowMin = sum;
  return sum;
};

const reachedAtOf = (film: Hardening, track: Track, worked: OnTrack, neededMin: number): InstantMs | undefined => {
  let missing = neededMin - checkpointMin(film, track);
  if (neededMin <= creditToleranceMin) return film.laidAt;
  if (missing <= creditToleranceMin) return undefined;
  for (const [index, { fromAt, toAt, credit }] of film.legs.entries()) {
    const reachedAt = roomReachedAt(credit, track, fromAt, missing, film.asked, startOf(film, track, worked, index));
    if (reachedAt !== undefined && reachedAt <= Math.min(toAt, Math.max(fromAt, film.asked.at) + farthestMs))
      return reachedAt;
    if (toAt === Number.POSITIVE_INFINITY) return undefined;
    missing -= wholeLegMin(film, track, worked, index);
  }
  return undefined;
};

/**
 * The instant at which a film has earned what it needs: looked up in the past, estimated for the future.
 *
 * @returns nothing if waiting will not do it as far as can be told, or if it lies before the film's checkpoint
 */
export const creditReachedAt = (film: Hardening, track: Track, neededMin: number): InstantMs | undefined => {
  const worked = onTrack(film, track);
  // a sheet has a handful of times
  for (const reached of worked.reached) if (reached.neededMin === neededMin) return reached.at;
  const at = reachedAtOf(film, track, worked, neededMin);
  worked.reached.push({ neededMin, at });
  return at;
};
