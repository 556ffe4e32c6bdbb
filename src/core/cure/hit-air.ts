/**
 * What was out of the ordinary in a room: measured against the room itself at the same time of the days before, because a
 * cold bay is not odd for being cold, and a spray room not for its nights.
 */
import { airAt, type RoomAir, roomAir } from "../climate/history";
import type { Reading, Room } from "../shop/tables";
import { dayMs, type InstantMs, minuteMs } from "../units";

/** Choices of this product: a week says what is usual, and a fortnight is what a device carries. */
const usualDays = 7;
const daysBack = 14;
const stepMs = 10 * minuteMs;

type Moment = { celsius: number; humidityPercent: number };

const median = (values: readonly number[]) => {
  const sorted = [...values].sort((one, other) => one - other);
  const middle = sorted.length >> 1;
  const upper = sorted[middle] as number;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] as number) + upper) / 2;
};

/** The same time of day on up to seven days before an instant on which somebody read, the nearest first. */
const sameTimeBefore = (air: RoomAir, at: InstantMs, beforeAt: InstantMs): Moment[] => {
  const found: Moment[] = [];
  const first = Math.floor((at - beforeAt) / dayMs) + 1;
  for (let back = first; back < first + daysBack && found.length < usualDays; back += 1) {
    const then = airAt(air, at - back * dayMs);
    if (then.isKnown) found.push(then);
  }
  return found;
};

const middleOf = (moments: readonly Moment[]): Moment => ({
  celsius: median(moments.map(({ celsius }) => celsius)),
  humidityPercent: median(moments.map(({ humidityPercent }) => humidityPercent)),
});

/** How the room usually is at this time of day, by the days before; where none was read, as it is stated to be. */
const usualAt = (air: RoomAir, at: InstantMs, beforeAt: InstantMs): Moment => {
  const before = sameTimeBefore(air, at, beforeAt);
  return before.length > 0
    ? middleOf(before)
    : { celsius: air.usualCelsius, humidityPercent: air.usualHumidityPercent };
};

const speaksOf = ({ at, spanFromAt }: Reading, fromAt: InstantMs, toAt: InstantMs) =>
  spanFromAt === undefined ? at >= fromAt && at < toAt : spanFromAt < toAt && at > fromAt;

/**
 * The room's history as if some hours of it had been as usual: every reading in them says what the same time of the days
 * before said, and where nobody read for too long somebody did.
 *
 * @param toAt not after the last instant of which anything is asked
 */
export const usualInstead = (air: RoomAir, room: Room, fromAt: InstantMs, toAt: InstantMs): RoomAir => {
  const kept = air.readings.filter((reading) => !speaksOf(reading, fromAt, toAt));
  const read = air.readings.filter((reading) => reading.spanFromAt === undefined).map((reading) => reading.at);
  const inside = read.filter((at) => at >= fromAt && at < toAt);
  const before = read.findLast((at) => at < fromAt) ?? fromAt;
  const after = read.find((at) => at >= toAt) ?? toAt;
  const edges = [before, ...inside, after];
  const filled = edges.slice(1).flatMap((end, index) => {
    const start = edges[index] as InstantMs;
    if (end - start <= air.gapLimitMin * minuteMs) return [];
    const [from, to] = [Math.max(start, fromAt), Math.min(end, toAt)];
    const count = Math.max(0, Math.ceil(to / stepMs) - Math.ceil(from / stepMs));
    return Array.from({ length: count }, (_, step) => (Math.ceil(from / stepMs) + step) * stepMs);
  });
  const replaced = [...new Set([...inside, ...filled])].map((at): Reading => {
    const { celsius, humidityPercent } = usualAt(air, at, fromAt);
    return { id: `usual ${at}`, roomId: room.id, at, airCelsius: celsius, humidityPercent, source: "logger" };
  });
  const forecast = air.forecastHours &&
    air.forecastSetAt !== undefined && { setAt: air.forecastSetAt, hours: air.forecastHours };
  return roomAir([...kept, ...replaced], room, forecast || undefined);
};

/** Colder than it usually is at that hour by this much. Choice of this product: a door left open is less. */
const oddCelsius = 3;
const shortestOddMs = 30 * minuteMs;

export type OddSpan = { fromAt: InstantMs; toAt: InstantMs } & (
  | { kind: "cold"; lowestCelsius: number; usualCelsius: number }
  /** Nobody read the thermometer for longer than the room may go without. */
  | { kind: "unread" }
);

/** What is odd about an instant; nothing where it is not, or where the room has no days before. */
const oddityAt = (air: RoomAir, at: InstantMs, limitsCelsius: readonly number[]): OddSpan | undefined => {
  const span = { fromAt: at, toAt: at + stepMs };
  const found = airAt(air, at);
  if (!found.isKnown) {
    const isSilent = air.endsAt !== undefined && at >= air.endsAt && at <= air.endsAt + air.gapLimitMin * minuteMs;
    return isSilent || at < (air.startsAt[0] ?? Number.POSITIVE_INFINITY) ? undefined : { ...span, kind: "unread" };
  }
  const before = sameTimeBefore(air, at, at);
  if (before.length === 0) return undefined;
  const usualCelsius = middleOf(before).celsius;
  const isUnder = limitsCelsius.some((limit) => found.celsius < limit && usualCelsius >= limit);
  if (!isUnder && usualCelsius - found.celsius < oddCelsius) return undefined;
  return { ...span, kind: "cold", lowestCelsius: found.celsius, usualCelsius };
};

/**
 * The hours of the last fortnight that were out of the ordinary, the latest first: much colder than the room usually is at
 * that hour, or under a limit that it usually keeps, or not read for too long.
 *
 * @param limitsCelsius °C below which something in the room hardens no more
 */
export const oddSpans = (air: RoomAir, at: InstantMs, limitsCelsius: readonly number[] = []): OddSpan[] => {
  const spans: OddSpan[] = [];
  if (air.isAway || air.endsAt === undefined) return spans;
  for (let step = Math.ceil((at - daysBack * dayMs) / stepMs) * stepMs; step < at; step += stepMs) {
    const odd = oddityAt(air, step, limitsCelsius);
    const last = spans.at(-1);
    if (!odd) continue;
    if (last?.toAt !== odd.fromAt || last.kind !== odd.kind) {
      spans.push(odd);
      continue;
    }
    last.toAt = odd.toAt;
    if (last.kind === "cold" && odd.kind === "cold" && odd.lowestCelsius < last.lowestCelsius)
      Object.assign(last, { lowestCelsius: odd.lowestCelsius, usualCelsius: odd.usualCelsius });
  }
  return spans.filter((span) => span.toAt - span.fromAt >= shortestOddMs).reverse();
};
