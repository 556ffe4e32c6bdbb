/**
 * The stretches of a room's air in columns that only ever grow at their end: histories that grew from one another share
 * them, each with so many of the first.
 */
import { type InstantMs, minuteMs } from "../units";

export type Moment = { at: InstantMs; celsius: number; humidityPercent: number };

export type Columns = {
  startsAt: Float64Array;
  startCelsius: Float64Array;
  endCelsius: Float64Array;
  startHumidityPercent: Float64Array;
  endHumidityPercent: Float64Array;
  isKnown: Uint8Array;
};

/** A stretch that nobody knows, and the minutes of all such up to its end. */
export type UnknownStretch = { index: number; throughMin: number };

/** The columns with room to grow, how many stretches are in them so far, and which of those nobody knows, in order. */
export type Lineage = { columns: Columns; stretches: number; unknown: UnknownStretch[] };

export const emptyLineage = (capacity: number): Lineage => ({
  columns: {
    startsAt: new Float64Array(capacity),
    startCelsius: new Float64Array(capacity),
    endCelsius: new Float64Array(capacity),
    startHumidityPercent: new Float64Array(capacity),
    endHumidityPercent: new Float64Array(capacity),
    isKnown: new Uint8Array(capacity),
  },
  stretches: 0,
  unknown: [],
});

const columnNames = Object.keys(emptyLineage(0).columns) as (keyof Columns)[];

/** The first stretches of a lineage, where they can be added to. */
export const copyOf = ({ columns, unknown }: Lineage, stretches: number, capacity: number): Lineage => {
  const copy = emptyLineage(capacity);
  for (const name of columnNames) copy.columns[name].set(columns[name].subarray(0, stretches));
  copy.stretches = stretches;
  copy.unknown = unknown.filter(({ index }) => index < stretches);
  return copy;
};

export const addStretch = (lineage: Lineage, start: Moment, end: Moment, isKnown: boolean) => {
  const { stretches: index } = lineage;
  if (index === lineage.columns.startsAt.length)
    lineage.columns = copyOf(lineage, index, Math.max(64, 2 * index)).columns;
  const { columns } = lineage;
  columns.startsAt[index] = start.at;
  columns.startCelsius[index] = start.celsius;
  columns.endCelsius[index] = end.celsius;
  columns.startHumidityPercent[index] = start.humidityPercent;
  columns.endHumidityPercent[index] = end.humidityPercent;
  columns.isKnown[index] = isKnown ? 1 : 0;
  if (!isKnown) {
    const before = lineage.unknown.at(-1)?.throughMin ?? 0;
    lineage.unknown.push({ index, throughMin: before + (end.at - start.at) / minuteMs });
  }
  lineage.stretches += 1;
};

/** How many of the unknown stretches lie before a stretch, by halving. */
export const unknownCountBefore = ({ unknown }: Lineage, index: number): number => {
  let [low, high] = [0, unknown.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((unknown[middle] as UnknownStretch).index < index) low = middle + 1;
    else high = middle;
  }
  return low;
};
