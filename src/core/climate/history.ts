/**
 * The air of one room over time. Between readings at most `gapLimitMin` apart it runs in a straight line; a longer gap is
 * unknown, unless a minimum-maximum thermometer spans it: then it was as cold and as damp as that says, throughout.
 */
import type { Reading, Room } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";
import type { ForecastHour, StoredForecast } from "./forecast-hours";
import { addStretch, copyOf, emptyLineage, type Lineage, type Moment } from "./lineage";
import { thinningMs, thinReadings } from "./thinning";

export { readingsSince, thinReadings } from "./thinning";

export type AirNow = { isKnown: true; celsius: number; humidityPercent: number } | { isKnown: false };

/** Stretches of time, end to end, in columns: stretch `i` runs from `startsAt[i]` to `startsAt[i + 1]` or `endsAt`. */
export type RoomAir = {
  /**
   * Histories that grew from one another by readings at their end share it: they agree on every stretch that both have,
   * so what was summed over one serves the other.
   */
  readonly lineage: Lineage;
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
  /** Hours to come that somebody stored, in order; they count before the pattern of the days before. */
  readonly forecastHours?: readonly ForecastHour[];
  readonly forecastSetAt?: InstantMs;
};

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

const lineageOf = (
  readings: readonly Reading[],
  gapLimitMin: number,
): { lineage: Lineage; last: Moment | undefined } => {
  const limitMs = gapLimitMin * minuteMs;
  const lineage = emptyLineage(readings.length + 1);
  const spans = readings.filter((reading) => reading.spanFromAt !== undefined);
  let last: Moment | undefined;
  const addGap = (left: Moment | undefined, right: Moment | undefined) => {
    for (const { start, end, isKnown } of filledGap(left, right, spans, limitMs)) {
      addStretch(lineage, start, end, isKnown);
      last = end;
    }
  };
  for (const reading of readings) {
    if (reading.spanFromAt !== undefined) continue;
    const moment = momentOf(reading);
    if (last && moment.at - last.at <= limitMs) addStretch(lineage, last, moment, true);
    else addGap(last, moment);
    last = moment;
  }
  addGap(last, undefined);
  return { lineage, last };
};

type RoomClimate = Pick<Room, "id" | "gapLimitMin" | "usualCelsius" | "usualHumidityPercent" | "uses">;
type AirOf = Pick<
  RoomAir,
  "roomId" | "gapLimitMin" | "usualCelsius" | "usualHumidityPercent" | "isAway" | "forecastHours" | "forecastSetAt"
>;

/** The first stretches of a lineage as a history. */
const airTo = (
  { lineage, stretches, last }: { lineage: Lineage; stretches: number; last: Moment | undefined },
  readings: readonly Reading[],
  room: AirOf,
): RoomAir => {
  const { columns } = lineage;
  return {
    roomId: room.roomId,
    gapLimitMin: room.gapLimitMin,
    usualCelsius: room.usualCelsius,
    usualHumidityPercent: room.usualHumidityPercent,
    isAway: room.isAway,
    lineage,
    readings,
    startsAt: columns.startsAt.subarray(0, stretches),
    endsAt: last?.at,
    startCelsius: columns.startCelsius.subarray(0, stretches),
    endCelsius: columns.endCelsius.subarray(0, stretches),
    startHumidityPercent: columns.startHumidityPercent.subarray(0, stretches),
    endHumidityPercent: columns.endHumidityPercent.subarray(0, stretches),
    isKnown: columns.isKnown.subarray(0, stretches),
    last: last && { celsius: last.celsius, humidityPercent: last.humidityPercent },
    ...(room.forecastHours && { forecastHours: room.forecastHours }),
    ...(room.forecastSetAt !== undefined && { forecastSetAt: room.forecastSetAt }),
  };
};

const airOf = (thinned: readonly Reading[], room: AirOf): RoomAir => {
  const { lineage, last } = lineageOf(thinned, room.gapLimitMin);
  return airTo({ lineage, stretches: lineage.stretches, last }, thinned, room);
};

/**
 * The history of a room from its readings. It never changes: a new reading makes a new history.
 *
 * @param readings of any rooms, in any order; those of other rooms and retracted ones are left out
 * @param forecast the hours to come that are stored for this room
 */
export const roomAir = (readings: readonly Reading[], room: RoomClimate, forecast?: StoredForecast): RoomAir =>
  airOf(thinReadings(readings.filter((reading) => reading.roomId === room.id)), {
    roomId: room.id,
    gapLimitMin: room.gapLimitMin,
    usualCelsius: room.usualCelsius,
    usualHumidityPercent: room.usualHumidityPercent,
    isAway: room.uses.includes("away"),
    ...(forecast && { forecastHours: forecast.hours, forecastSetAt: forecast.setAt }),
  });

const tenMinutesOf = (at: InstantMs) => Math.floor(at / thinningMs);

/** Whether a reading only lengthens a history: after all others, with at most one of them in its own ten minutes. */
const isAtEnd = ({ readings, endsAt }: RoomAir, reading: Reading) => {
  const [before, last] = [readings.at(-2), readings.at(-1)];
  return (
    last !== undefined &&
    last.spanFromAt === undefined &&
    last.at === endsAt &&
    reading.spanFromAt === undefined &&
    reading.at > endsAt &&
    (before === undefined || tenMinutesOf(before.at) < tenMinutesOf(reading.at))
  );
};

/**
 * The history with one more reading, the same as if it had been among the readings from the start. One at the end costs
 * no more than the stretch that it adds; what was summed over the history so far stays good.
 *
 * @param reading of this room, not retracted, with an id that is not in the history yet
 */
export const airWithReading = (air: RoomAir, reading: Reading): RoomAir => {
  const readings = [...air.readings, reading];
  if (!air.last || !isAtEnd(air, reading)) return airOf(thinReadings(readings), air);
  const stretches = air.startsAt.length;
  // two histories may grow from one: the second takes a copy of what they share
  const lineage = air.lineage.stretches === stretches ? air.lineage : copyOf(air.lineage, stretches, 2 * stretches + 1);
  const [start, end] = [{ at: air.endsAt as InstantMs, ...air.last }, momentOf(reading)];
  addStretch(lineage, start, end, end.at - start.at <= air.gapLimitMin * minuteMs);
  return airTo({ lineage, stretches: stretches + 1, last: end }, readings, air);
};

/** The readings of a history by an instant. Where no span reaches over others, its first stretches are theirs. */
const cutAt = (air: RoomAir, at: InstantMs, room: AirOf): RoomAir => {
  const readings = air.readings.filter((reading) => reading.at <= at);
  const last = readings.at(-1);
  if (!last || air.readings.some((reading) => reading.spanFromAt !== undefined)) return airOf(readings, room);
  return airTo({ lineage: air.lineage, stretches: readings.length - 1, last: momentOf(last) }, readings, room);
};

const cutByAir = new WeakMap<RoomAir, { at: InstantMs; air: RoomAir }>();

/** The history as it could be known at an instant: without what was read, spanned or forecast later. */
export const airKnownAt = (air: RoomAir, at: InstantMs): RoomAir => {
  const isForecastLater = air.forecastSetAt !== undefined && air.forecastSetAt > at;
  if ((air.endsAt === undefined || air.endsAt <= at) && !isForecastLater) return air;
  const kept = cutByAir.get(air);
  if (kept?.at === at) return kept.air;
  const { forecastHours: _hours, forecastSetAt: _setAt, ...withoutForecast } = air;
  const cut = cutAt(air, at, isForecastLater ? withoutForecast : air);
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
