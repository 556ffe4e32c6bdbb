/**
 * The air of one room over time. Between readings at most `gapLimitMin` apart it runs in a straight line; a longer gap is
 * unknown, unless a minimum-maximum thermometer spans it: then it was as cold and as damp as that says, throughout.
 */
import type { Reading, Room } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";
import { thinReadings } from "./thinning";

export { readingsSince, thinReadings } from "./thinning";

export type AirNow = { isKnown: true; celsius: number; humidityPercent: number } | { isKnown: false };

/** Stretches of time, end to end, in columns: stretch `i` runs from `startsAt[i]` to `startsAt[i + 1]` or `endsAt`. */
export type RoomAir = {
  readonly roomId: Room["id"];
  readonly gapLimitMin: number;
  readonly usualCelsius: number;
  readonly usualHumidityPercent: number;
  /** A van, an outlet, the buyer's house: nobody reads a thermometer there. */
  readonly isAway: boolean;
  readonly readings: readonly Reading[];
  readonly startsAt: Float64Array;
  /** The last instant about which a reading speaks; absent if the room was never read. */
  readonly endsAt: InstantMs | undefined;
  readonly startCelsius: Float64Array;
  readonly endCelsius: Float64Array;
  readonly startHumidityPercent: Float64Array;
  readonly endHumidityPercent: Float64Array;
  readonly isKnown: Uint8Array;
  readonly last: { celsius: number; humidityPercent: number } | undefined;
};

type Moment = { at: InstantMs; celsius: number; humidityPercent: number };
type Stretch = { start: Moment; end: Moment; isKnown: boolean };

const momentOf = (reading: Reading): Moment => ({
  at: reading.at,
  celsius: reading.airCelsius,
  humidityPercent: reading.humidityPercent,
});

/** The parts of a gap that spans cover: each at the lowest air and the highest humidity of the spans over it. */
const spanned = (fromAt: InstantMs, toAt: InstantMs, spans: readonly Reading[]): Stretch[] => {
  const over = spans.filter((span) => (span.spanFromAt as InstantMs) < toAt && span.at > fromAt);
  const cuts = over
    .flatMap((span) => [Math.max(fromAt, span.spanFromAt as InstantMs), Math.min(toAt, span.at)])
    .sort((one, other) => one - other);
  return cuts.slice(1).flatMap((end, index) => {
    const start = cuts[index] as InstantMs;
    const here = over.filter((span) => (span.spanFromAt as InstantMs) <= start && span.at >= end);
    if (end <= start || here.length === 0) return [];
    const celsius = Math.min(...here.map((span) => span.airCelsius));
    const humidityPercent = Math.max(...here.map((span) => span.humidityPercent));
    return [
      { start: { at: start, celsius, humidityPercent }, end: { at: end, celsius, humidityPercent }, isKnown: true },
    ];
  });
};

/** A gap between two moments (either may be missing at the ends of the history), filled as far as anybody knows. */
const filledGap = (left: Moment | undefined, right: Moment | undefined, spans: readonly Reading[], limitMs: number) => {
  const filled: Stretch[] = [];
  let from = left;
  const bridge = (to: Moment) => {
    if (from && from.at < to.at) filled.push({ start: from, end: to, isKnown: to.at - from.at <= limitMs });
  };
  const [fromAt, toAt] = [left?.at ?? Number.NEGATIVE_INFINITY, right?.at ?? Number.POSITIVE_INFINITY];
  for (const stretch of spanned(fromAt, toAt, spans)) {
    bridge(stretch.start);
    filled.push(stretch);
    from = stretch.end;
  }
  if (right) bridge(right);
  return filled;
};

type Columns = Record<
  "startsAt" | "startCelsius" | "endCelsius" | "startHumidity" | "endHumidity" | "isKnown",
  number[]
>;

const addStretch = (columns: Columns, start: Moment, end: Moment, isKnown: boolean) => {
  columns.startsAt.push(start.at);
  columns.startCelsius.push(start.celsius);
  columns.endCelsius.push(end.celsius);
  columns.startHumidity.push(start.humidityPercent);
  columns.endHumidity.push(end.humidityPercent);
  columns.isKnown.push(isKnown ? 1 : 0);
};

const columnsOf = (
  readings: readonly Reading[],
  gapLimitMin: number,
): { columns: Columns; last: Moment | undefined } => {
  const limitMs = gapLimitMin * minuteMs;
  const columns: Columns = {
    startsAt: [],
    startCelsius: [],
    endCelsius: [],
    startHumidity: [],
    endHumidity: [],
    isKnown: [],
  };
  const spans = readings.filter((reading) => reading.spanFromAt !== undefined);
  let last: Moment | undefined;
  const addGap = (left: Moment | undefined, right: Moment | undefined) => {
    for (const { start, end, isKnown } of filledGap(left, right, spans, limitMs)) {
      addStretch(columns, start, end, isKnown);
      last = end;
    }
  };
  for (const reading of readings) {
    if (reading.spanFromAt !== undefined) continue;
    const moment = momentOf(reading);
    if (last && moment.at - last.at <= limitMs) addStretch(columns, last, moment, true);
    else addGap(last, moment);
    last = moment;
  }
  addGap(last, undefined);
  return { columns, last };
};

type RoomClimate = Pick<Room, "id" | "gapLimitMin" | "usualCelsius" | "usualHumidityPercent" | "uses">;
type AirOf = Pick<RoomAir, "roomId" | "gapLimitMin" | "usualCelsius" | "usualHumidityPercent" | "isAway">;

const airOf = (thinned: readonly Reading[], room: AirOf): RoomAir => {
  const { columns, last } = columnsOf(thinned, room.gapLimitMin);
  return {
    roomId: room.roomId,
    gapLimitMin: room.gapLimitMin,
    usualCelsius: room.usualCelsius,
    usualHumidityPercent: room.usualHumidityPercent,
    isAway: room.isAway,
    readings: thinned,
    startsAt: Float64Array.from(columns.startsAt),
    endsAt: last?.at,
    startCelsius: Float64Array.from(columns.startCelsius),
    endCelsius: Float64Array.from(columns.endCelsius),
    startHumidityPercent: Float64Array.from(columns.startHumidity),
    endHumidityPercent: Float64Array.from(columns.endHumidity),
    isKnown: Uint8Array.from(columns.isKnown),
    last: last && { celsius: last.celsius, humidityPercent: last.humidityPercent },
  };
};

/**
 * The history of a room from its readings. It never changes: a new reading makes a new history.
 *
 * @param readings of any rooms, in any order; those of other rooms and retracted ones are left out
 */
export const roomAir = (readings: readonly Reading[], room: RoomClimate): RoomAir =>
  airOf(thinReadings(readings.filter((reading) => reading.roomId === room.id)), {
    roomId: room.id,
    gapLimitMin: room.gapLimitMin,
    usualCelsius: room.usualCelsius,
    usualHumidityPercent: room.usualHumidityPercent,
    isAway: room.uses.includes("away"),
  });

const cutByAir = new WeakMap<RoomAir, { at: InstantMs; air: RoomAir }>();

/** The history as it could be known at an instant: without what was read later, and without spans that ended later. */
export const airKnownAt = (air: RoomAir, at: InstantMs): RoomAir => {
  if (air.endsAt === undefined || air.endsAt <= at) return air;
  const kept = cutByAir.get(air);
  if (kept?.at === at) return kept.air;
  const cut = airOf(
    air.readings.filter((reading) => reading.at <= at),
    air,
  );
  cutByAir.set(air, { at, air: cut });
  return cut;
};

/** Which stretch holds this instant, by halving; −1 before the first. */
export const stretchIndexAt = (air: RoomAir, at: InstantMs) => {
  let [low, high] = [0, air.startsAt.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((air.startsAt[middle] as number) <= at) low = middle + 1;
    else high = middle;
  }
  return low - 1;
};

export const stretchEndAt = (air: RoomAir, index: number) => air.startsAt[index + 1] ?? (air.endsAt as InstantMs);

/**
 * The air at an instant, as far as readings tell. After the last reading nothing is known, whatever the room usually is.
 */
export const airAt = (air: RoomAir, at: InstantMs): AirNow => {
  if (air.last && at === air.endsAt) return { isKnown: true, ...air.last };
  const index = air.endsAt === undefined || at > air.endsAt ? -1 : stretchIndexAt(air, at);
  if (index < 0) return { isKnown: false };
  const start = air.startsAt[index] as number;
  // an unknown stretch still begins and ends with a reading
  if (air.isKnown[index] === 0 && at > start) return { isKnown: false };
  const share = (at - start) / (stretchEndAt(air, index) - start);
  const between = (from: Float64Array, to: Float64Array) =>
    (from[index] as number) + share * ((to[index] as number) - (from[index] as number));
  return {
    isKnown: true,
    celsius: between(air.startCelsius, air.endCelsius),
    humidityPercent: between(air.startHumidityPercent, air.endHumidityPercent),
  };
};

/**
 * The lowest air known between two instants, both included.
 *
 * @returns °C, or nothing when no reading speaks about that time
 */
export const lowestAirCelsius = (air: RoomAir, fromAt: InstantMs, toAt: InstantMs): number | undefined => {
  const edges = [airAt(air, fromAt), airAt(air, toAt)].flatMap((found) => (found.isKnown ? [found.celsius] : []));
  let lowest = Math.min(Number.POSITIVE_INFINITY, ...edges);
  if (air.last && (air.endsAt as number) >= fromAt && (air.endsAt as number) <= toAt)
    lowest = Math.min(lowest, air.last.celsius);
  for (let index = Math.max(0, stretchIndexAt(air, fromAt)); index < air.startsAt.length; index += 1) {
    const start = air.startsAt[index] as number;
    if (start > toAt) break;
    if (start >= fromAt) lowest = Math.min(lowest, air.startCelsius[index] as number);
    const end = stretchEndAt(air, index);
    if (end >= fromAt && end <= toAt) lowest = Math.min(lowest, air.endCelsius[index] as number);
  }
  return Number.isFinite(lowest) ? lowest : undefined;
};
