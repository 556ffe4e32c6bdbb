/**
 * Sums along the history of a room, one column for each law and clock that films in it harden by: entry `i` is what
 * everything before stretch `i` was worth. A history that has grown at its end keeps its columns and adds to them.
 */
import { type RoomAir, stretchEndAt } from "../climate/history";
import { minuteMs } from "../units";
import type { Air, AirLine } from "./rate";
import { gridIndex, offGrid, type RateTable } from "./rate-table";

/** Where the ends of each stretch lie on the grid of the tables. */
type Grid = { start: Uint16Array; end: Uint16Array; filled: number };
type Column = { sums: Float64Array; filled: number };
type Kept = { grid: Grid; columnByTable: Map<RateTable, Column>; unknown: Column };

const emptyColumn = (): Column => ({ sums: new Float64Array(1), filled: 0 });

const keptByLineage = new WeakMap<RoomAir["lineage"], Kept>();

const keptOf = ({ lineage }: RoomAir): Kept => {
  const found = keptByLineage.get(lineage);
  if (found) return found;
  const kept = {
    grid: { start: new Uint16Array(0), end: new Uint16Array(0), filled: 0 },
    columnByTable: new Map(),
    unknown: emptyColumn(),
  };
  keptByLineage.set(lineage, kept);
  return kept;
};

/** Half as much again, so that a reading every ten minutes does not copy the column each time. */
const roomFor = (stretches: number, filled: number) => (filled === 0 ? stretches : Math.ceil(1.5 * stretches)) + 1;

const grown = (sums: Float64Array, stretches: number) => {
  if (sums.length > stretches) return sums;
  const longer = new Float64Array(roomFor(stretches, sums.length - 1));
  longer.set(sums);
  return longer;
};

const gridOf = (air: RoomAir, grid: Grid): Grid => {
  const stretches = air.startsAt.length;
  if (grid.filled >= stretches) return grid;
  if (grid.start.length < stretches) {
    const [start, end] = [grid.start, grid.end];
    grid.start = new Uint16Array(roomFor(stretches, grid.filled));
    grid.end = new Uint16Array(grid.start.length);
    grid.start.set(start);
    grid.end.set(end);
  }
  for (let index = grid.filled; index < stretches; index += 1) {
    grid.start[index] = gridIndex(air.startCelsius[index] as number);
    grid.end[index] = gridIndex(air.endCelsius[index] as number);
  }
  grid.filled = stretches;
  return grid;
};

const airAt = (air: RoomAir, index: number, share: number): Air => {
  const along = (start: Float64Array, end: Float64Array) =>
    (start[index] as number) + share * ((end[index] as number) - (start[index] as number));
  return {
    celsius: along(air.startCelsius, air.endCelsius),
    humidityPercent: along(air.startHumidityPercent, air.endHumidityPercent),
  };
};

/** The part of a known stretch up to an instant, as a line. */
export const lineTo = (air: RoomAir, index: number, toAt: number): AirLine => {
  const fromAt = air.startsAt[index] as number;
  const share = (toAt - fromAt) / (stretchEndAt(air, index) - fromAt);
  return { fromAt, toAt, from: airAt(air, index, 0), to: airAt(air, index, share) };
};

const fill = (air: RoomAir, table: RateTable, { sums, filled }: Column, { start, end }: Grid) => {
  const { startsAt, startHumidityPercent, endHumidityPercent, isKnown } = air;
  const stretches = startsAt.length;
  // on the fast clock what nobody knows counts as it passes
  const unknownRate = table.clock.kind === "fast" ? 1 : 0;
  let sum = sums[filled] as number;
  for (let index = filled; index < stretches; index += 1) {
    const endAt = index + 1 < stretches ? (startsAt[index + 1] as number) : (air.endsAt as number);
    const minutes = (endAt - (startsAt[index] as number)) / minuteMs;
    if (isKnown[index] === 0) sum += unknownRate * minutes;
    else {
      const [from, to] = [start[index] as number, end[index] as number];
      const mean =
        from === offGrid || to === offGrid
          ? undefined
          : table.meanOnGrid(from, to, startHumidityPercent[index] as number, endHumidityPercent[index] as number);
      sum += mean === undefined ? table.minutes(lineTo(air, index, endAt)) : mean * minutes;
    }
    sums[index + 1] = sum;
  }
};

/** What a room's air was worth before each of its stretches, and at last before its end: minutes at the reference. */
export const earnedColumn = (air: RoomAir, table: RateTable): Float64Array => {
  const kept = keptOf(air);
  const column = kept.columnByTable.get(table) ?? emptyColumn();
  kept.columnByTable.set(table, column);
  const stretches = air.startsAt.length;
  if (column.filled < stretches) {
    column.sums = grown(column.sums, stretches);
    fill(air, table, column, gridOf(air, kept.grid));
    column.filled = stretches;
  }
  return column.sums;
};

/** The minutes of which nothing is known before each stretch. */
export const unknownColumn = (air: RoomAir): Float64Array => {
  const { unknown } = keptOf(air);
  const stretches = air.startsAt.length;
  if (unknown.filled < stretches) {
    unknown.sums = grown(unknown.sums, stretches);
    for (let index = unknown.filled; index < stretches; index += 1) {
      const minutes = (stretchEndAt(air, index) - (air.startsAt[index] as number)) / minuteMs;
      unknown.sums[index + 1] = (unknown.sums[index] as number) + (air.isKnown[index] === 0 ? minutes : 0);
    }
    unknown.filled = stretches;
  }
  return unknown.sums;
};
