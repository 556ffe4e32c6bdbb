/** The air of a room as it is drawn: lines where it is known, gaps where nobody read it. */
import { type RoomAir, stretchEndAt } from "~/core/climate/history";
import { type InstantMs, minuteMs } from "~/core/units";

export type AirPoint = { at: InstantMs; celsius: number; humidityPercent: number };
export type AirGap = { fromAt: InstantMs; toAt: InstantMs };
export type AirCurve = { fromAt: InstantMs; toAt: InstantMs; lines: AirPoint[][]; gaps: AirGap[] };

/** Lines and gaps cover the time asked for; the moments after a reading that is not old yet are neither. */
export function airCurve(air: RoomAir, fromAt: InstantMs, toAt: InstantMs): AirCurve {
  const lines: AirPoint[][] = [];
  const gaps: AirGap[] = [];
  let readUntil = fromAt;
  for (let index = 0; index < air.startsAt.length; index += 1) {
    const startsAt = air.startsAt[index] as number;
    const endsAt = stretchEndAt(air, index);
    if (endsAt <= fromAt || startsAt >= toAt) continue;
    if (startsAt > readUntil) gaps.push({ fromAt: readUntil, toAt: startsAt });
    const start = pointIn(air, index, Math.max(startsAt, fromAt));
    const end = pointIn(air, index, Math.min(endsAt, toAt));
    readUntil = end.at;
    if (air.isKnown[index] === 0) gaps.push({ fromAt: start.at, toAt: end.at });
    else draw(lines, start, end);
  }
  const lastAt = air.endsAt ?? fromAt;
  const isOld = toAt - lastAt > air.gapLimitMin * minuteMs;
  if (isOld && toAt > readUntil) gaps.push({ fromAt: readUntil, toAt });
  return { fromAt, toAt, lines, gaps };
}

function pointIn(air: RoomAir, index: number, at: InstantMs): AirPoint {
  const startsAt = air.startsAt[index] as number;
  const share = (at - startsAt) / (stretchEndAt(air, index) - startsAt);
  const between = (from: Float64Array, to: Float64Array) =>
    (from[index] as number) + share * ((to[index] as number) - (from[index] as number));
  return {
    at,
    celsius: between(air.startCelsius, air.endCelsius),
    humidityPercent: between(air.startHumidityPercent, air.endHumidityPercent),
  };
}

/** Goes on where the last line ended; a step between two stretches is drawn upright. */
function draw(lines: AirPoint[][], start: AirPoint, end: AirPoint): void {
  const last = lines.at(-1);
  const tip = last?.at(-1);
  if (!last || tip?.at !== start.at) {
    lines.push([start, end]);
    return;
  }
  if (tip.celsius !== start.celsius || tip.humidityPercent !== start.humidityPercent) last.push(start);
  last.push(end);
}
