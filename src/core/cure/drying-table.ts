/**
 * Rates where water must leave as well, looked up instead of worked out. Simpson's rule over the ends and the middle is exact
 * to a billionth on a mild stretch, and a single corner inside is found on the same three points. Whatever is not mild is
 * worked out by `lineMinutes`.
 */
import { saturationPressureHectopascal } from "../climate/dew-point";
import { type Clock, clockRate, lineMinutes } from "./rate";
import type { RateLaw } from "./rate-laws";
import { type GridStretches, gridCelsius, lowestTenth, tenths, unknownAir, unknownMinutes } from "./temperature-grid";

/** All tables are read by the same functions, so that what was made fast for one law is fast for all. */
export type DryingTable = {
  by: "drying";
  law: RateLaw;
  clock: Clock;
  isSlow: boolean;
  cap: number;
  referenceHectopascal: number;
  leastShare: number;
  /** What warmth alone would make of a minute, for every twentieth of a degree. */
  warmths: Float64Array;
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

export const dryingTable = (law: RateLaw, drying: NonNullable<RateLaw["drying"]>, clock: Clock): DryingTable => {
  const warmths = Float64Array.from({ length: 2 * tenths + 1 }, (_, index) =>
    law.byWarmth((index + 2 * lowestTenth) / 20),
  );
  const isSlow = clock.kind === "slow";
  return { by: "drying", law, clock, isSlow, cap: clock.kind === "slow" ? clock.cap : 1, ...drying, warmths };
};

const kindOf = (table: DryingTable, celsius: number, warmth: number, drying: number) => {
  const { law, isSlow, cap, leastShare } = table;
  if (isSlow && (celsius < law.nothingBelowCelsius || drying < leastShare)) return nothing;
  const isDrying = drying < warmth;
  const rate = isDrying ? drying : warmth;
  if (isSlow ? rate >= cap : rate <= cap) return capped;
  return isDrying ? byDrying : byWarmth;
};

const valueIn = (cap: number, kind: number, warmth: number, drying: number) =>
  kind === capped ? cap : kind === byDrying ? drying : warmth;

/** What a stretch is worth on average, minutes a minute; nothing where it is not mild. */
const meanOnGrid = (table: DryingTable, stretches: GridStretches, index: number): number | undefined => {
  const start = stretches.start[index] as number;
  const end = stretches.end[index] as number;
  const startHumidity = stretches.startHumidityPercent[index] as number;
  const endHumidity = stretches.endHumidityPercent[index] as number;
  const { law, clock, cap, referenceHectopascal, warmths } = table;
  const pressures = saturationTable();
  const [warmthStart, warmthEnd] = [warmths[2 * start] as number, warmths[2 * end] as number];
  const dryingStart = ((pressures[2 * start] as number) * (1 - startHumidity / 100)) / referenceHectopascal;
  if (start === end && startHumidity === endHumidity)
    return clockRate(law, clock, gridCelsius(start), warmthStart, dryingStart);
  if (Math.abs(end - start) > mildTenths || Math.abs(endHumidity - startHumidity) > mildPercent) return undefined;
  const dryingEnd = ((pressures[2 * end] as number) * (1 - endHumidity / 100)) / referenceHectopascal;
  const startKind = kindOf(table, gridCelsius(start), warmthStart, dryingStart);
  const endKind = kindOf(table, gridCelsius(end), warmthEnd, dryingEnd);
  if (startKind === endKind) {
    if (startKind === nothing) return 0;
    if (startKind === capped) return cap;
  } else if (startKind === nothing || endKind === nothing) return undefined;
  const middleHumidity = (startHumidity + endHumidity) / 2;
  const dryingMiddle = ((pressures[start + end] as number) * (1 - middleHumidity / 100)) / referenceHectopascal;
  const warmthMiddle = warmths[start + end] as number;
  if (startKind === endKind) {
    if (kindOf(table, gridCelsius(start), warmthMiddle, dryingMiddle) !== startKind) return undefined;
    return startKind === byDrying
      ? (dryingStart + 4 * dryingMiddle + dryingEnd) / 6
      : (warmthStart + 4 * warmthMiddle + warmthEnd) / 6;
  }
  const beforeStart = valueIn(cap, startKind, warmthStart, dryingStart);
  const beforeMiddle = valueIn(cap, startKind, warmthMiddle, dryingMiddle);
  const beforeEnd = valueIn(cap, startKind, warmthEnd, dryingEnd);
  const afterStart = valueIn(cap, endKind, warmthStart, dryingStart);
  const afterMiddle = valueIn(cap, endKind, warmthMiddle, dryingMiddle);
  const afterEnd = valueIn(cap, endKind, warmthEnd, dryingEnd);
  const share = crossing(beforeStart - afterStart, beforeMiddle - afterMiddle, beforeEnd - afterEnd);
  // where all three processes meet in one stretch, the third may rule between the other two
  const warmthThere = Number.isFinite(warmthStart) ? valueAt(warmthStart, warmthMiddle, warmthEnd, share) : warmthStart;
  const dryingThere = valueAt(dryingStart, dryingMiddle, dryingEnd, share);
  const rateThere = clockRate(law, clock, gridCelsius(start), warmthThere, dryingThere);
  if (Math.abs(rateThere - valueAt(beforeStart, beforeMiddle, beforeEnd, share)) > 1e-6) return undefined;
  return (
    gathered(beforeStart, beforeMiddle, beforeEnd, share) +
    gathered(afterStart, afterMiddle, afterEnd, 1) -
    gathered(afterStart, afterMiddle, afterEnd, share)
  );
};

const minutesOnGrid = (table: DryingTable, stretches: GridStretches, index: number) => {
  const { start, end, minutes } = stretches;
  if (start[index] === unknownAir) return unknownMinutes(table.clock, stretches, index);
  const isOnGrid = (start[index] as number) <= tenths && (end[index] as number) <= tenths;
  const mean = isOnGrid ? meanOnGrid(table, stretches, index) : undefined;
  return mean === undefined
    ? lineMinutes(stretches.lineAt(index), table.law, table.clock)
    : mean * (minutes[index] as number);
};

/**
 * From what is earned before stretch `first`, in `sums[0]`: what is earned through it and each next to before `until`. Nearly
 * every stretch is mild and of one kind throughout, so those are told here, in numbers alone, without a call.
 */
export const sumByDrying = (
  table: DryingTable,
  stretches: GridStretches,
  first: number,
  until: number,
  sums: Float64Array,
) => {
  const { start, end, minutes, startHumidityPercent, endHumidityPercent } = stretches;
  const { warmths, cap, referenceHectopascal } = table;
  const pressures = saturationTable();
  let sum = sums[0] as number;
  for (let index = first; index < until; index += 1) {
    const from = start[index] as number;
    const to = end[index] as number;
    const humidityFrom = startHumidityPercent[index] as number;
    const humidityTo = endHumidityPercent[index] as number;
    const isMild =
      from <= tenths &&
      to <= tenths &&
      Math.abs(to - from) <= mildTenths &&
      Math.abs(humidityTo - humidityFrom) <= mildPercent;
    const warmthFrom = warmths[2 * from] as number;
    const dryingFrom = ((pressures[2 * from] as number) * (1 - humidityFrom / 100)) / referenceHectopascal;
    const warmthTo = warmths[2 * to] as number;
    const dryingTo = ((pressures[2 * to] as number) * (1 - humidityTo / 100)) / referenceHectopascal;
    const kind = kindOf(table, gridCelsius(from), warmthFrom, dryingFrom);
    if (!isMild || kindOf(table, gridCelsius(to), warmthTo, dryingTo) !== kind) {
      sum += minutesOnGrid(table, stretches, index);
      sums[index - first + 1] = sum;
      continue;
    }
    const warmthMiddle = warmths[from + to] as number;
    const humidityMiddle = (humidityFrom + humidityTo) / 2;
    const dryingMiddle = ((pressures[from + to] as number) * (1 - humidityMiddle / 100)) / referenceHectopascal;
    if (kind === capped) sum += cap * (minutes[index] as number);
    else if (kind !== nothing) {
      if (kindOf(table, gridCelsius(from), warmthMiddle, dryingMiddle) !== kind)
        sum += minutesOnGrid(table, stretches, index);
      else if (kind === byDrying) sum += ((dryingFrom + 4 * dryingMiddle + dryingTo) / 6) * (minutes[index] as number);
      else sum += ((warmthFrom + 4 * warmthMiddle + warmthTo) / 6) * (minutes[index] as number);
    }
    sums[index - first + 1] = sum;
  }
};
