/**
 * What the air of one room is worth to a film, summed up once per room and law, so that any stretch of it costs two
 * look-ups. Four tracks run over the same air:
 *
 * - `safe` judges: unknown time earns nothing; after the last reading it runs on for at most the gap limit, at the lower
 *   of that reading and the forecast low.
 * - `promise` dates: as safe, but goes on at the forecast low as if readings went on. If the last reading is older than
 *   the gap limit when asked, the time since then will stay unknown, so it starts again at the instant of asking.
 * - `likely` is shown beside it: unknown time counts as the room usually is, the future as it is likely.
 * - `fast` bounds "not after": never slower than real time, uncapped in warmth, real minutes where nothing is known.
 */
import { type RoomAir, stretchEndAt, stretchIndexAt } from "../climate/history";
import { type InstantMs, minuteMs } from "../units";
import { AirAhead } from "./air-ahead";
import {
  blockStretches,
  type EarnedColumn,
  earnedBefore,
  earnedColumn,
  lineTo,
  sumsOfBlock,
  unknownBefore,
} from "./earned-column";
import { type FilmLaw, filmLaw } from "./film-law";
import { earnedAhead, reachedAhead } from "./hours-ahead";
import { type Air, fastClock, rateIn, slowClock } from "./rate";
import type { CureReference } from "./rate-laws";
import { minutesBy } from "./rate-table";

export type Track = "safe" | "promise" | "likely" | "fast";

export type Asked = { at: InstantMs; countsAway: boolean };

/** Two ways of summing the same air differ by rounding; a millionth of a minute decides nothing at the bench. */
export const creditToleranceMin = 1e-6;

export type RoomCredit = {
  air: RoomAir;
  filmLaw: FilmLaw;
  /** Minutes a minute where the room counts as it is stated to be: for *use*, and on the likely track. */
  usualRate: number;
  usualLikelyRate: number;
  columns: EarnedColumn[];
  /** What the whole history earned, on each track that was asked for. */
  wholeMin: Partial<Record<Track, number>>;
  ahead: AirAhead | undefined;
};

const usualAir = (air: RoomAir): Air => ({ celsius: air.usualCelsius, humidityPercent: air.usualHumidityPercent });

const creditsByAir = new WeakMap<RoomAir, Map<FilmLaw, RoomCredit>>();

/** @param likelyCap how many minutes a minute of warmth may count on the likely track, 1…2 */
export const roomCredit = (air: RoomAir, reference: CureReference, likelyCap = 1): RoomCredit => {
  const found = filmLaw(reference, likelyCap);
  let credits = creditsByAir.get(air);
  if (!credits) {
    credits = new Map();
    creditsByAir.set(air, credits);
  }
  const kept = credits.get(found);
  if (kept) return kept;
  const credit: RoomCredit = {
    air,
    filmLaw: found,
    usualRate: rateIn(found.law, slowClock, usualAir(air)),
    usualLikelyRate: rateIn(found.law, found.likely.clock, usualAir(air)),
    columns: [],
    wholeMin: {},
    ahead: air.last && new AirAhead(air, found, air.last),
  };
  credits.set(found, credit);
  return credit;
};

const tableOf = ({ filmLaw: { slow, likely, fast } }: RoomCredit, track: Track) =>
  track === "fast" ? fast() : track === "likely" ? likely : slow;

/** Minutes a minute where nothing is known. */
const unknownRateOf = (credit: RoomCredit, track: Track) =>
  track === "fast" ? 1 : track === "likely" ? credit.usualLikelyRate : 0;

/** What is earned before each stretch, counted from the first reading. */
const columnOf = (credit: RoomCredit, track: Track): EarnedColumn => {
  const table = tableOf(credit, track);
  const last = credit.columns.find((column) => column.table === table);
  if (last) return last;
  const column = earnedColumn(credit.air, table);
  credit.columns.push(column);
  return column;
};

/** What was earned before a stretch; on the likely track with what is assumed of the time that nobody knows. */
const withUnknown = (credit: RoomCredit, track: Track, earned: number, index: number) =>
  track === "likely" && credit.air.lineage.unknown.length > 0
    ? earned + credit.usualLikelyRate * unknownBefore(credit.air, index)
    : earned;

const sumAt = (credit: RoomCredit, track: Track, index: number) =>
  withUnknown(credit, track, earnedBefore(columnOf(credit, track), index), index);

const wholeHistoryMin = (credit: RoomCredit, track: Track): number => {
  const kept = credit.wholeMin[track] ?? sumAt(credit, track, credit.air.startsAt.length);
  credit.wholeMin[track] = kept;
  return kept;
};

/** What the part of a stretch up to `toAt` earns. */
const stretchMinutes = (credit: RoomCredit, track: Track, index: number, toAt: number): number => {
  const { air } = credit;
  if (air.isKnown[index] === 0)
    return ((toAt - (air.startsAt[index] as number)) / minuteMs) * unknownRateOf(credit, track);
  return minutesBy(tableOf(credit, track), lineTo(air, index, toAt));
};

const lastFastRate = ({ air, filmLaw: { law } }: RoomCredit) => (air.last ? rateIn(law, fastClock, air.last) : 1);

const limitAtOf = ({ endsAt, gapLimitMin }: RoomAir) => (endsAt as InstantMs) + gapLimitMin * minuteMs;

/** Minutes from the end of the history to `toAt`. */
const minutesAhead = (credit: RoomCredit, track: Track, toAt: InstantMs, askedAt: InstantMs): number => {
  const { air, ahead } = credit;
  const endsAt = air.endsAt as InstantMs;
  if (!ahead) return 0;
  const limitAt = limitAtOf(air);
  const tail = () => earnedAhead(ahead.lastOrLow, endsAt, Math.min(toAt, limitAt));
  switch (track) {
    case "safe":
      return tail();
    case "promise":
      return askedAt > limitAt ? earnedAhead(ahead.low, askedAt, toAt) : tail() + earnedAhead(ahead.low, limitAt, toAt);
    case "likely":
      return earnedAhead(ahead.likely, endsAt, toAt);
    case "fast":
      return ((Math.min(toAt, limitAt) - endsAt) * lastFastRate(credit) + Math.max(0, toAt - limitAt)) / minuteMs;
  }
};

/** Of a room whose time counts straight, because nobody reads it: minutes a minute; nothing for one that is read. */
const straightRate = (credit: RoomCredit, track: Track, countsAway: boolean): number | undefined => {
  const { air } = credit;
  if (!air.isAway && air.endsAt !== undefined) return undefined;
  if (track === "fast" || track === "likely") return unknownRateOf(credit, track);
  return air.isAway && countsAway ? credit.usualRate : 0;
};

/** Minutes earned from a fixed instant of this room to `at`; only differences mean something. */
export const earnedTo = (credit: RoomCredit, track: Track, at: InstantMs, asked: Asked): number => {
  const straight = straightRate(credit, track, asked.countsAway);
  if (straight !== undefined) return (at / minuteMs) * straight;
  const { air } = credit;
  const endsAt = air.endsAt as InstantMs;
  const startsAt = air.startsAt[0] ?? endsAt;
  if (at <= startsAt) return ((at - startsAt) / minuteMs) * unknownRateOf(credit, track);
  if (at > endsAt) return wholeHistoryMin(credit, track) + minutesAhead(credit, track, at, asked.at);
  const index = Math.min(stretchIndexAt(air, at), air.startsAt.length - 1);
  return sumAt(credit, track, index) + stretchMinutes(credit, track, index, at);
};

/** Minutes that this room earns between two instants on one track. */
export const earnedBetween = (
  credit: RoomCredit,
  track: Track,
  fromAt: InstantMs,
  toAt: InstantMs,
  asked: Asked,
): number => earnedTo(credit, track, toAt, asked) - earnedTo(credit, track, fromAt, asked);

/** When so many minutes are earned after the end of the history, not rounded. */
const reachedAfterEnd = (credit: RoomCredit, track: Track, minutes: number, askedAt: InstantMs): number | undefined => {
  const { air, ahead } = credit;
  if (!ahead) return undefined;
  const endsAt = air.endsAt as InstantMs;
  const limitAt = limitAtOf(air);
  if (track === "likely") return reachedAhead(ahead.likely, endsAt, minutes);
  if (track === "fast") {
    const rate = lastFastRate(credit);
    const inTail = (rate * (limitAt - endsAt)) / minuteMs;
    return minutes <= inTail ? endsAt + (minutes / rate) * minuteMs : limitAt + (minutes - inTail) * minuteMs;
  }
  if (track === "promise" && askedAt > limitAt) return reachedAhead(ahead.low, askedAt, minutes);
  const inTail = earnedAhead(ahead.lastOrLow, endsAt, limitAt);
  if (inTail >= minutes) return reachedAhead(ahead.lastOrLow, endsAt, minutes);
  return track === "promise" ? reachedAhead(ahead.low, limitAt, minutes - inTail) : undefined;
};

/** Instants as numbers are a quarter of a microsecond apart: nearer than this nothing can be told. */
const closeEnoughMin = 1e-8;
const closeEnoughMs = 1e-3;

/**
 * When a stretch has earned so many minutes, which it does earn. Credit bends gently along it, so the first guess is a
 * parabola's and each next one a straight line's between the two that enclose it.
 */
const reachedInStretch = (credit: RoomCredit, track: Track, index: number, minutes: number, whole: number): number => {
  const { air } = credit;
  const [startAt, endAt] = [air.startsAt[index] as number, stretchEndAt(air, index)];
  const table = tableOf(credit, track);
  const realMin = (endAt - startAt) / minuteMs;
  if (air.isKnown[index] === 0) return startAt + (minutes / unknownRateOf(credit, track)) * minuteMs;
  const mean = whole / realMin;
  const first = rateIn(credit.filmLaw.law, table.clock, {
    celsius: air.startCelsius[index] as number,
    humidityPercent: air.startHumidityPercent[index] as number,
  });
  const isLevel =
    air.startCelsius[index] === air.endCelsius[index] &&
    air.startHumidityPercent[index] === air.endHumidityPercent[index];
  if (isLevel) return startAt + (minutes / mean) * minuteMs;
  let [low, high] = [startAt, endAt];
  let [missingLow, missingHigh] = [minutes, minutes - whole];
  // first · t + (mean − first) · t² / real = minutes, solved so that nothing cancels
  const root = Math.sqrt(Math.max(0, first * first + (4 * (mean - first) * minutes) / realMin));
  let guess = startAt + ((2 * minutes) / (first + root)) * minuteMs;
  for (let step = 0; high - low > closeEnoughMs && step < 60; step += 1) {
    const at = guess > low && guess < high ? guess : (low + high) / 2;
    const missing = minutes - minutesBy(table, lineTo(air, index, at));
    if (Math.abs(missing) < closeEnoughMin) return at;
    if (missing <= 0) [high, missingHigh] = [at, missing];
    else [low, missingLow] = [at, missing];
    guess = step % 4 === 3 ? (low + high) / 2 : low + ((high - low) * missingLow) / (missingLow - missingHigh);
  }
  return high;
};

type Reached = { index: number; before: number; through: number };

/** The first stretch from `from` on by whose end so much is earned, with what is earned before it and through it. */
const stretchBy = (credit: RoomCredit, track: Track, from: number, earned: number): Reached | undefined => {
  const { air } = credit;
  const stretches = air.startsAt.length;
  if (stretches === 0 || wholeHistoryMin(credit, track) < earned) return undefined;
  // the last block that begins with less
  let [low, high] = [Math.floor(from / blockStretches), Math.floor((stretches - 1) / blockStretches)];
  const column = columnOf(credit, track);
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    const begins = withUnknown(credit, track, column.sums[middle] as number, middle * blockStretches);
    if (begins < earned) low = middle;
    else high = middle - 1;
  }
  const firstIndex = low * blockStretches;
  const sums = sumsOfBlock(column, low, stretches);
  for (let index = Math.max(from, firstIndex); ; index += 1) {
    const through = withUnknown(credit, track, sums[index - firstIndex + 1] as number, index + 1);
    if (through >= earned || index + 1 === stretches)
      return { index, before: withUnknown(credit, track, sums[index - firstIndex] as number, index), through };
  }
};

/**
 * The first whole millisecond by which this room has earned so many minutes from an instant on, however long that takes.
 *
 * @param earnedBy what `earnedTo` says of that instant, for whoever asks of the same again
 * @returns nothing if it never will, as far as can be told
 */
export const roomReachedAt = (
  credit: RoomCredit,
  track: Track,
  fromAt: InstantMs,
  minutes: number,
  asked: Asked,
  earnedBy = earnedTo(credit, track, fromAt, asked),
): InstantMs | undefined => {
  const missing = minutes - creditToleranceMin;
  const straight = straightRate(credit, track, asked.countsAway);
  if (straight !== undefined)
    return straight > 0 ? Math.ceil(fromAt + Math.max(0, missing / straight) * minuteMs) : undefined;
  const { air } = credit;
  const endsAt = air.endsAt as InstantMs;
  const startsAt = air.startsAt[0] ?? endsAt;
  const earned = earnedBy + missing;
  const unknownRate = unknownRateOf(credit, track);
  if (fromAt < startsAt && earned <= 0 && unknownRate > 0)
    return Math.max(fromAt, Math.ceil(startsAt + (earned / unknownRate) * minuteMs));
  const stretch =
    fromAt < endsAt ? stretchBy(credit, track, Math.max(0, stretchIndexAt(air, fromAt)), earned) : undefined;
  if (stretch) {
    const { index, before, through } = stretch;
    return Math.max(fromAt, Math.ceil(reachedInStretch(credit, track, index, earned - before, through - before)));
  }
  const found = reachedAfterEnd(credit, track, earned - wholeHistoryMin(credit, track), asked.at);
  return found === undefined ? undefined : Math.max(fromAt, Math.ceil(found));
};
