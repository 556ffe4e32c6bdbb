/**
 * Rates where warmth alone decides, looked up instead of worked out. Along a stretch temperature runs straight, so that it is
 * worth the difference of one antiderivative at its ends, exactly, corners and jumps included, however long it is.
 */
import { minuteMs } from "../units";
import { type AirLine, type Clock, clockRate } from "./rate";
import type { RateLaw } from "./rate-laws";
import { type GridStretches, gridCelsius, lowestTenth, tenths, unknownAir, unknownMinutes } from "./temperature-grid";

/** All tables are read by the same functions, so that what was made fast for one law is fast for all. */
export type WarmthTable = {
  by: "warmth";
  law: RateLaw;
  clock: Clock;
  corners: readonly number[];
  /** At each tenth of a degree: minutes a minute, and their integral from the coldest on. */
  rates: Float64Array;
  integral: Float64Array;
};

type Curve = Pick<WarmthTable, "law" | "clock" | "corners">;

/** Gauss and Legendre's two points on 0…1; over a tenth of a degree exact to rounding. */
const nodes = [0.211_324_865_405_187_1, 0.788_675_134_594_812_9] as const;

/** Where a law of warmth alone passes a value: by halving, for it never falls. */
const warmthOf = (law: RateLaw, value: number) => {
  let [low, high] = [gridCelsius(0), gridCelsius(tenths)];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (law.byWarmth(middle) < value) low = middle;
    else high = middle;
  }
  // every law is 1 at its reference, which was typed to a tenth
  return Math.abs(high * 10 - Math.round(high * 10)) < 1e-6 ? Math.round(high * 10) / 10 : high;
};

const rateAt = ({ law, clock }: Pick<Curve, "law" | "clock">, celsius: number) =>
  clockRate(law, clock, celsius, law.byWarmth(celsius), Number.POSITIVE_INFINITY);

/** Over at most a tenth of a degree; corners were mostly typed to a tenth and lie at its ends. */
const overCell = (curve: Curve, from: number, to: number): number => {
  for (const corner of curve.corners)
    if (corner > from + 1e-9 && corner < to - 1e-9) return overCell(curve, from, corner) + overCell(curve, corner, to);
  const width = to - from;
  return (width * (rateAt(curve, from + nodes[0] * width) + rateAt(curve, from + nodes[1] * width))) / 2;
};

export const warmthTable = (law: RateLaw, clock: Clock): WarmthTable => {
  const corners = [...new Set([law.nothingBelowCelsius, warmthOf(law, clock.kind === "slow" ? clock.cap : 1)])];
  const curve = { law, clock, corners };
  const rates = new Float64Array(tenths + 1);
  const integral = new Float64Array(tenths + 1);
  for (let index = 0; index <= tenths; index += 1) rates[index] = rateAt(curve, gridCelsius(index));
  for (let index = 0; index < tenths; index += 1)
    integral[index + 1] = (integral[index] as number) + overCell(curve, gridCelsius(index), gridCelsius(index + 1));
  return { by: "warmth", law, clock, corners, rates, integral };
};

const antiderivative = (table: WarmthTable, celsius: number) => {
  const index = Math.min(tenths, Math.max(0, Math.floor(celsius * 10) - lowestTenth));
  return (table.integral[index] as number) + overCell(table, gridCelsius(index), celsius);
};

/** Minutes that a line with any ends is worth. */
export const warmthMinutes = (table: WarmthTable, { fromAt, toAt, from, to }: AirLine) => {
  const minutes = (toAt - fromAt) / minuteMs;
  const rise = to.celsius - from.celsius;
  // so little that the difference of two sums would be all rounding
  if (Math.abs(rise) < 1e-6) return rateAt(table, (from.celsius + to.celsius) / 2) * minutes;
  return ((antiderivative(table, to.celsius) - antiderivative(table, from.celsius)) / rise) * minutes;
};

/** From what is earned before stretch `first`, in `sums[0]`: what is earned through it and each next to before `until`. */
export const sumByWarmth = (
  table: WarmthTable,
  stretches: GridStretches,
  first: number,
  until: number,
  sums: Float64Array,
) => {
  const { rates, integral } = table;
  const { start, end, minutes } = stretches;
  let sum = sums[0] as number;
  for (let index = first; index < until; index += 1) {
    const from = start[index] as number;
    const to = end[index] as number;
    const real = minutes[index] as number;
    if (from === unknownAir) sum += unknownMinutes(table.clock, stretches, index);
    else if (from > tenths || to > tenths) sum += warmthMinutes(table, stretches.lineAt(index));
    else if (from === to) sum += (rates[from] as number) * real;
    else sum += ((10 * ((integral[to] as number) - (integral[from] as number))) / (to - from)) * real;
    sums[index - first + 1] = sum;
  }
};
