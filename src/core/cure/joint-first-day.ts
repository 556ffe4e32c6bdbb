import { type RoomAir, stretchEndAt, stretchIndexAt } from "../climate/history";
import { dayMs, type InstantMs, minuteMs } from "../units";
import { unknownSpans } from "./film-spans";
import type { Hardening } from "./progress";

/** In these first minutes the cold can turn glue to chalk; afterwards it only slows it. Source: common practice. */
export const chalkHoldMin = dayMs / minuteMs;

/** What a joint went through in the first day after it was glued, as far as readings tell. */
export type FirstDay = {
  endsAt: InstantMs;
  lowestCelsius?: number;
  lowestAt?: InstantMs;
  /** In total, below the temperature at which its glue turns to chalk. */
  belowChalkMin: number;
  /** When that total reached what the shop bears. */
  tooColdSinceAt?: InstantMs;
  /** Of this much of it nobody knows how cold it was. */
  unknownMin: number;
};

type Line = { fromAt: InstantMs; toAt: InstantMs; fromCelsius: number; toCelsius: number };

/** What is known of a room between two instants, as straight lines of temperature. */
const knownLines = (air: RoomAir, fromAt: InstantMs, toAt: InstantMs): Line[] => {
  const lines: Line[] = [];
  for (let index = Math.max(0, stretchIndexAt(air, fromAt)); index < air.startsAt.length; index += 1) {
    const [start, end] = [air.startsAt[index] as number, stretchEndAt(air, index)];
    if (start >= toAt) break;
    const [cutFrom, cutTo] = [Math.max(start, fromAt), Math.min(end, toAt)];
    if (air.isKnown[index] === 0 || cutFrom >= cutTo) continue;
    const [from, to] = [air.startCelsius[index] as number, air.endCelsius[index] as number];
    const along = (at: InstantMs) => from + ((at - start) / (end - start)) * (to - from);
    lines.push({ fromAt: cutFrom, toAt: cutTo, fromCelsius: along(cutFrom), toCelsius: along(cutTo) });
  }
  return lines;
};

/** The part of a line that lies below a temperature. */
const partBelow = ({ fromAt, toAt, fromCelsius, toCelsius }: Line, celsius: number) => {
  if (fromCelsius < celsius === toCelsius < celsius)
    return fromCelsius < celsius ? { fromAt, toAt } : { fromAt, toAt: fromAt };
  const crossingAt = fromAt + ((celsius - fromCelsius) / (toCelsius - fromCelsius)) * (toAt - fromAt);
  return fromCelsius < celsius ? { fromAt, toAt: crossingAt } : { fromAt: crossingAt, toAt };
};

/**
 * Real minutes, not minutes at the reference: it is the glue's first day by the clock on the wall.
 *
 * @param chalkCelsius °C; left out for a glue that does not chalk
 * @param graceMin minutes below it in total that the shop bears
 */
export const firstDay = (joint: Hardening, chalkCelsius: number | undefined, graceMin: number): FirstDay => {
  const endsAt = joint.laidAt + chalkHoldMin * minuteMs;
  const untilAt = Math.min(endsAt, joint.asked.at);
  const day: FirstDay = { endsAt, belowChalkMin: 0, unknownMin: 0 };
  for (const leg of joint.legs) {
    for (const line of knownLines(leg.credit.air, leg.fromAt, Math.min(leg.toAt, untilAt))) {
      const [lowest, at] =
        line.toCelsius < line.fromCelsius ? [line.toCelsius, line.toAt] : [line.fromCelsius, line.fromAt];
      if (day.lowestCelsius === undefined || lowest < day.lowestCelsius) {
        day.lowestCelsius = lowest;
        day.lowestAt = at;
      }
      if (chalkCelsius === undefined) continue;
      const below = partBelow(line, chalkCelsius);
      const before = day.belowChalkMin;
      day.belowChalkMin += (below.toAt - below.fromAt) / minuteMs;
      if (day.tooColdSinceAt === undefined && day.belowChalkMin >= graceMin && below.toAt > below.fromAt)
        day.tooColdSinceAt = below.fromAt + (graceMin - before) * minuteMs;
    }
  }
  for (const span of unknownSpans(joint))
    day.unknownMin += Math.max(0, Math.min(span.toAt, untilAt) - span.fromAt) / minuteMs;
  return day;
};
