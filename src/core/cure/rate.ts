import { saturationPressureHectopascal } from "../climate/dew-point";
import { minuteMs } from "../units";
import { type CureReference, type RateLaw, rateLaw } from "./rate-laws";

export type { CureReference } from "./rate-laws";

export type Air = { celsius: number; humidityPercent: number };

/**
 * Which of the clocks a rate is counted on. Slow: nothing where nothing hardens, and never more than `cap` minutes a
 * minute. Fast, against which "not after" is measured: never less than a minute, whatever the cold.
 */
export type Clock = { kind: "slow"; cap: number } | { kind: "fast" };

export const slowClock: Clock = { kind: "slow", cap: 1 };
export const fastClock: Clock = { kind: "fast" };

/** Room for more water in this air, as a share of that in the reference air; +∞ where no water must leave. */
export const dryingShare = ({ drying }: RateLaw, celsius: number, humidityPercent: number) =>
  drying
    ? (saturationPressureHectopascal(celsius) * (1 - humidityPercent / 100)) / drying.referenceHectopascal
    : Number.POSITIVE_INFINITY;

/** What a minute is worth on a clock, from what warmth and what drying alone would make of it. */
export const clockRate = (law: RateLaw, clock: Clock, celsius: number, warmth: number, drying: number) => {
  const rate = Math.min(warmth, drying);
  if (clock.kind === "fast") return Math.max(1, rate);
  if (celsius < law.nothingBelowCelsius || (law.drying && drying < law.drying.leastShare)) return 0;
  return Math.min(clock.cap, rate);
};

/** How many minutes at the reference a minute in this air is worth. */
export const rateIn = (law: RateLaw, clock: Clock, { celsius, humidityPercent }: Air) =>
  clockRate(law, clock, celsius, law.byWarmth(celsius), dryingShare(law, celsius, humidityPercent));

/**
 * What one minute in this air counts on the film's slow clock: never more than a minute, and nothing below the lowest
 * temperature on the sheet, where a film does not form.
 *
 * @returns 0…1
 * @example cureRate({ celsius: 15, humidityPercent: 50 }, { mechanism: "oxidative", referenceCelsius: 25, referenceHumidityPercent: 50, minimumCelsius: 10 }) // 0.5
 */
export const cureRate = (air: Air, reference: CureReference) => rateIn(rateLaw(reference), slowClock, air);

export type AirLine = { fromAt: number; toAt: number; from: Air; to: Air };

const between = (from: Air, to: Air, share: number): Air => ({
  celsius: from.celsius + share * (to.celsius - from.celsius),
  humidityPercent: from.humidityPercent + share * (to.humidityPercent - from.humidityPercent),
});

/** Gauss and Legendre's four points on 0…1: exact to rounding on a stretch as short and mild as those below. */
const nodes = [
  { share: 0.0694318442029737, weight: 0.1739274225687269 },
  { share: 0.3300094782075719, weight: 0.3260725774312731 },
  { share: 0.6699905217924281, weight: 0.3260725774312731 },
  { share: 0.9305681557970263, weight: 0.1739274225687269 },
] as const;

const longestPieceMs = 10 * minuteMs;
const widestPieceCelsius = 2;
const widestPiecePercent = 10;

type Corner = (celsius: number, warmth: number, drying: number) => number;
const cornersByLaw = new WeakMap<RateLaw, Map<string, Corner[]>>();

/** What changes its sign where a rate has a corner or a jump. */
const cornersOf = (law: RateLaw, clock: Clock): readonly Corner[] => {
  const known = cornersByLaw.get(law) ?? new Map<string, Corner[]>();
  cornersByLaw.set(law, known);
  const cap = clock.kind === "slow" ? clock.cap : 1;
  const key = `${clock.kind} ${cap}`;
  const kept = known.get(key);
  if (kept) return kept;
  const corners: Corner[] = [(_, warmth, drying) => Math.min(warmth, drying) - cap];
  if (clock.kind === "slow") corners.push((celsius) => celsius - law.nothingBelowCelsius);
  const { drying: water } = law;
  if (water && clock.kind === "slow") corners.push((_celsius, _warmth, drying) => drying - water.leastShare);
  if (water) corners.push((_, warmth, drying) => warmth - drying);
  known.set(key, corners);
  return corners;
};

const cornerAt = (corner: Corner, law: RateLaw, { celsius, humidityPercent }: Air) =>
  corner(celsius, law.byWarmth(celsius), dryingShare(law, celsius, humidityPercent));

/**
 * Where, as a share of the line, this changes its sign, which it does between its ends: by a straight line between two
 * shares that enclose it, and every third time by halving.
 */
const crossingOf = (corner: Corner, law: RateLaw, { from, to }: Pick<AirLine, "from" | "to">) => {
  let [low, high] = [0, 1];
  let [atLow, atHigh] = [cornerAt(corner, law, from), cornerAt(corner, law, to)];
  const startsAbove = atLow >= 0;
  for (let step = 0; high - low > 1e-12 && step < 60; step += 1) {
    const straight = low + ((high - low) * atLow) / (atLow - atHigh);
    // a hair to the far side in turn, so that the bracket closes from both ends
    const hair = (high - low) * (step % 2 === 0 ? 1e-3 : -1e-3);
    const share = step % 3 === 2 || !(straight > low && straight < high) ? (low + high) / 2 : straight + hair;
    const middle = Math.min(high, Math.max(low, share));
    const found = cornerAt(corner, law, between(from, to, middle));
    if (found >= 0 === startsAbove) [low, atLow] = [middle, found];
    else [high, atHigh] = [middle, found];
  }
  return high;
};

const smoothMinutes = ({ fromAt, toAt, from, to }: AirLine, law: RateLaw, clock: Clock, start: number, end: number) => {
  let sum = 0;
  for (const { share, weight } of nodes)
    sum += weight * rateIn(law, clock, between(from, to, start + share * (end - start)));
  return (sum * (end - start) * (toAt - fromAt)) / minuteMs;
};

const pieceMinutes = (line: AirLine, law: RateLaw, clock: Clock) => {
  const { from, to } = line;
  const [warmthFrom, warmthTo] = [law.byWarmth(from.celsius), law.byWarmth(to.celsius)];
  const dryingFrom = dryingShare(law, from.celsius, from.humidityPercent);
  const dryingTo = dryingShare(law, to.celsius, to.humidityPercent);
  const shares: number[] = [];
  for (const corner of cornersOf(law, clock)) {
    const isAbove = corner(from.celsius, warmthFrom, dryingFrom) >= 0;
    if (corner(to.celsius, warmthTo, dryingTo) >= 0 !== isAbove) shares.push(crossingOf(corner, law, line));
  }
  shares.sort((one, other) => one - other);
  let [sum, start] = [0, 0];
  for (const share of shares) {
    sum += smoothMinutes(line, law, clock, start, share);
    start = share;
  }
  return sum + smoothMinutes(line, law, clock, start, 1);
};

/**
 * What a stretch of air, along which temperature and humidity run straight, is worth on a clock, by cutting it at every
 * corner of the law. Slow and exact: `rate-table.ts` looks the same up.
 *
 * @returns minutes at the sheet's reference
 */
export const lineMinutes = (line: AirLine, law: RateLaw, clock: Clock): number => {
  const { from, to } = line;
  const duration = line.toAt - line.fromAt;
  if (from.celsius === to.celsius && from.humidityPercent === to.humidityPercent)
    return (rateIn(law, clock, from) * duration) / minuteMs;
  const pieces = Math.max(
    1,
    Math.ceil(duration / longestPieceMs),
    Math.ceil(Math.abs(to.celsius - from.celsius) / widestPieceCelsius),
    Math.ceil(Math.abs(to.humidityPercent - from.humidityPercent) / widestPiecePercent),
  );
  let sum = 0;
  for (let piece = 0; piece < pieces; piece += 1) {
    const [start, end] = [piece / pieces, (piece + 1) / pieces];
    const part = {
      fromAt: line.fromAt + start * duration,
      toAt: line.fromAt + end * duration,
      from: between(from, to, start),
      to: between(from, to, end),
    };
    sum += pieceMinutes(part, law, clock);
  }
  return sum;
};
