/**
 * Rates looked up instead of worked out. Readings carry a tenth of a degree, so the ends of nearly every stretch of air
 * lie on a grid; between them temperature runs straight, so that
 *
 * - where warmth alone decides, a stretch is worth the difference of one antiderivative at its ends, exactly, corners and
 *   jumps included, however long it is;
 * - where water must leave as well, Simpson's rule over its ends and middle is exact to a billionth on a mild stretch, and
 *   a single corner inside is found on the same three points. Whatever is not mild is worked out by `lineMinutes`.
 */
import { saturationPressureHectopascal } from "../climate/dew-point";
import { minuteMs } from "../units";
import { type AirLine, type Clock, clockRate, lineMinutes } from "./rate";
import type { RateLaw } from "./rate-laws";

/** The bounds of what may be written down as an air temperature, in tenths of a degree. */
const lowestTenth = -400;
const highestTenth = 600;
const tenths = highestTenth - lowestTenth;
/** Stands for a temperature between two tenths. */
export const offGrid = 65_535;

export const gridIndex = (celsius: number) => {
  const tenth = Math.round(celsius * 10);
  return tenth / 10 === celsius && tenth >= lowestTenth && tenth <= highestTenth ? tenth - lowestTenth : offGrid;
};
/** Divided last, so that it is the very number that was typed. */
const gridCelsius = (index: number) => (index + lowestTenth) / 10;

export type RateTable = {
  clock: Clock;
  /** What a stretch is worth on average, minutes a minute. Ends on the grid; `humidity` in %. */
  meanOnGrid: (start: number, end: number, startHumidity: number, endHumidity: number) => number | undefined;
  /** Minutes that a stretch with any ends is worth. */
  minutes: (line: AirLine) => number;
};

const minutesOf = ({ fromAt, toAt }: AirLine) => (toAt - fromAt) / minuteMs;

/** Gauss and Legendre's two points on 0…1; over a tenth of a degree exact to rounding. */
const nodes = [0.211_324_865_405_187_1, 0.788_675_134_594_812_9] as const;

/** Where a law of warmth alone passes a value: by halving, for it never falls. */
const warmthOf = (law: RateLaw, value: number) => {
  let [low, high] = [lowestTenth / 10, highestTenth / 10];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (law.byWarmth(middle) < value) low = middle;
    else high = middle;
  }
  // every law is 1 at its reference, which was typed to a tenth
  return Math.abs(high * 10 - Math.round(high * 10)) < 1e-6 ? Math.round(high * 10) / 10 : high;
};

const warmthTable = (law: RateLaw, clock: Clock): RateTable => {
  const rate = (celsius: number) => clockRate(law, clock, celsius, law.byWarmth(celsius), Number.POSITIVE_INFINITY);
  const corners = [...new Set([law.nothingBelowCelsius, warmthOf(law, clock.kind === "slow" ? clock.cap : 1)])];
  const smooth = (from: number, to: number) => {
    const width = to - from;
    return (width * (rate(from + nodes[0] * width) + rate(from + nodes[1] * width))) / 2;
  };
  const isInside = (corner: number, from: number, to: number) => corner > from + 1e-9 && corner < to - 1e-9;
  /** Over at most a tenth of a degree; corners were mostly typed to a tenth and lie at its ends. */
  const overCell = (from: number, to: number): number => {
    for (const corner of corners) if (isInside(corner, from, to)) return overCell(from, corner) + overCell(corner, to);
    return smooth(from, to);
  };
  const rates = Float64Array.from({ length: tenths + 1 }, (_, index) => rate(gridCelsius(index)));
  const integral = new Float64Array(tenths + 1);
  for (let index = 0; index < tenths; index += 1)
    integral[index + 1] = (integral[index] as number) + overCell(gridCelsius(index), gridCelsius(index + 1));
  const antiderivative = (celsius: number) => {
    const index = Math.min(tenths, Math.max(0, Math.floor(celsius * 10) - lowestTenth));
    return (integral[index] as number) + overCell(gridCelsius(index), celsius);
  };
  return {
    clock,
    meanOnGrid: (start, end) =>
      start === end
        ? (rates[start] as number)
        : (10 * ((integral[end] as number) - (integral[start] as number))) / (end - start),
    minutes: (line) => {
      const [from, to] = [line.from.celsius, line.to.celsius];
      const rise = to - from;
      // so little that the difference of two sums would be all rounding
      if (Math.abs(rise) < 1e-6) return rate((from + to) / 2) * minutesOf(line);
      return ((antiderivative(to) - antiderivative(from)) / rise) * minutesOf(line);
    },
  };
};

/** Saturation pressure for every twentieth of a degree: the middle of two tenths lies on it. */
let saturation: Float64Array | undefined;
const saturationTable = () => {
  saturation ??= Float64Array.from({ length: 2 * tenths + 1 }, (_, index) =>
    saturationPressureHectopascal((index + 2 * lowestTenth) / 20),
  );
  return saturation;
};

/** Which process decides at a point. Along a mild stretch the points of one kind lie together. */
const nothing = 0;
const capped = 1;
const byDrying = 2;
const byWarmth = 3;

/** On stretches up to so wide Simpson's rule errs by less than 1e-8 of them, and a parabola by less than 1e-6. */
const mildTenths = 10;
const mildPercent = 5;

/** Through a value at the start, the middle and the end of a stretch: what the parabola has gathered up to a share. */
const gathered = (start: number, middle: number, end: number, share: number) => {
  const bend = 2 * (start + end - 2 * middle);
  const rise = end - start - bend;
  return share * (start + share * (rise / 2 + (share * bend) / 3));
};

/** The parabola's value at a share of the stretch. */
const valueAt = (start: number, middle: number, end: number, share: number) => {
  const bend = 2 * (start + end - 2 * middle);
  return start + share * (end - start - bend + share * bend);
};

/** Where the parabola through three differences, of which the outer two differ in sign, is nought. */
const crossing = (start: number, middle: number, end: number) => {
  const bend = 2 * (start + end - 2 * middle);
  const rise = end - start - bend;
  let share = start / (start - end);
  for (let step = 0; step < 2; step += 1) share -= (start + share * (rise + share * bend)) / (rise + 2 * share * bend);
  return Math.min(1, Math.max(0, share));
};

const dryingTable = (law: RateLaw, clock: Clock): RateTable => {
  const { referenceHectopascal, leastShare } = law.drying as NonNullable<RateLaw["drying"]>;
  const pressures = saturationTable();
  const warmths = Float64Array.from({ length: 2 * tenths + 1 }, (_, index) =>
    law.byWarmth((index + 2 * lowestTenth) / 20),
  );
  const isSlow = clock.kind === "slow";
  const cap = clock.kind === "slow" ? clock.cap : 1;
  const level = [cap, cap, cap] as const;
  const kindOf = (celsius: number, warmth: number, drying: number) => {
    if (isSlow && (celsius < law.nothingBelowCelsius || drying < leastShare)) return nothing;
    const isDrying = drying < warmth;
    const rate = isDrying ? drying : warmth;
    if (isSlow ? rate >= cap : rate <= cap) return capped;
    return isDrying ? byDrying : byWarmth;
  };
  return {
    clock,
    meanOnGrid: (start, end, startHumidity, endHumidity) => {
      const [warmthStart, warmthEnd] = [warmths[2 * start] as number, warmths[2 * end] as number];
      const dryingStart = ((pressures[2 * start] as number) * (1 - startHumidity / 100)) / referenceHectopascal;
      if (start === end && startHumidity === endHumidity)
        return clockRate(law, clock, gridCelsius(start), warmthStart, dryingStart);
      if (Math.abs(end - start) > mildTenths || Math.abs(endHumidity - startHumidity) > mildPercent) return undefined;
      const dryingEnd = ((pressures[2 * end] as number) * (1 - endHumidity / 100)) / referenceHectopascal;
      const startKind = kindOf(gridCelsius(start), warmthStart, dryingStart);
      const endKind = kindOf(gridCelsius(end), warmthEnd, dryingEnd);
      if (startKind === endKind) {
        if (startKind === nothing) return 0;
        if (startKind === capped) return cap;
      } else if (startKind === nothing || endKind === nothing) return undefined;
      const middleHumidity = (startHumidity + endHumidity) / 2;
      const dryingMiddle = ((pressures[start + end] as number) * (1 - middleHumidity / 100)) / referenceHectopascal;
      const warmthMiddle = warmths[start + end] as number;
      if (startKind === endKind) {
        if (kindOf(gridCelsius(start), warmthMiddle, dryingMiddle) !== startKind) return undefined;
        return startKind === byDrying
          ? (dryingStart + 4 * dryingMiddle + dryingEnd) / 6
          : (warmthStart + 4 * warmthMiddle + warmthEnd) / 6;
      }
      const warmth = [warmthStart, warmthMiddle, warmthEnd] as const;
      const drying = [dryingStart, dryingMiddle, dryingEnd] as const;
      const curveOf = (kind: number) => (kind === capped ? level : kind === byDrying ? drying : warmth);
      const [before, after] = [curveOf(startKind), curveOf(endKind)];
      const share = crossing(before[0] - after[0], before[1] - after[1], before[2] - after[2]);
      // where all three processes meet in one stretch, the third may rule between the other two
      const warmthThere = Number.isFinite(warmthStart) ? valueAt(...warmth, share) : warmthStart;
      const dryingThere = valueAt(...drying, share);
      if (
        Math.abs(clockRate(law, clock, gridCelsius(start), warmthThere, dryingThere) - valueAt(...before, share)) > 1e-6
      )
        return undefined;
      return gathered(...before, share) + gathered(...after, 1) - gathered(...after, share);
    },
    minutes: (line) => lineMinutes(line, law, clock),
  };
};

/** The table of a law on a clock; over the whole of the air that may be written down, so one serves every room. */
export const rateTable = (law: RateLaw, clock: Clock): RateTable =>
  law.drying ? dryingTable(law, clock) : warmthTable(law, clock);
