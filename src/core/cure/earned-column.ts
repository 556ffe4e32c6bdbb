/**
 * Sums along the history of a room, one column for each law and clock that films in it harden by. A sum is kept for the
 * start of every block of stretches, as far as anybody has asked; inside a block it is summed on from there, in the same
 * order as if every sum were kept. A history that has grown at its end keeps its columns and adds to them.
 */
import { type RoomAir, stretchEndAt } from "../climate/history";
import { unknownCountBefore } from "../climate/lineage";
import { minuteMs } from "../units";
import type { Air, AirLine } from "./rate";
import { type RateTable, sumBy } from "./rate-table";
import { type GridStretches, gridIndex, unknownAir } from "./temperature-grid";

/** A sum of so few costs no more than finding it in memory, and a thirty-second of the sums fits in it. */
export const blockStretches = 32;

type Kept = { stretches: GridStretches; filled: number; columnByTable: Map<RateTable, EarnedColumn> };

/** What everything before each block was worth: minutes at the reference. */
export type EarnedColumn = { table: RateTable; kept: Kept; sums: Float64Array; blocks: number };

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

/** Half as much again, so that a reading every ten minutes does not copy a column each time. */
const roomFor = (wanted: number, filled: number) => (filled === 0 ? wanted : Math.ceil(1.5 * wanted));

const onGrid = (air: RoomAir, before: GridStretches, filled: number): GridStretches => {
  const { startHumidityPercent, endHumidityPercent, startsAt, isKnown } = air;
  const stretches = startsAt.length;
  let { start, end, minutes } = before;
  if (start.length < stretches) {
    const length = roomFor(stretches, filled);
    [start, end, minutes] = [new Uint16Array(length), new Uint16Array(length), new Float64Array(length)];
    start.set(before.start);
    end.set(before.end);
    minutes.set(before.minutes);
  }
  for (let index = filled; index < stretches; index += 1) {
    start[index] = isKnown[index] === 0 ? unknownAir : gridIndex(air.startCelsius[index] as number);
    end[index] = gridIndex(air.endCelsius[index] as number);
    minutes[index] = (stretchEndAt(air, index) - (startsAt[index] as number)) / minuteMs;
  }
  const lineAt = (index: number) => lineTo(air, index, stretchEndAt(air, index));
  return { start, end, minutes, startHumidityPercent, endHumidityPercent, lineAt };
};

const nothing: GridStretches = {
  start: new Uint16Array(0),
  end: new Uint16Array(0),
  minutes: new Float64Array(0),
  startHumidityPercent: new Float64Array(0),
  endHumidityPercent: new Float64Array(0),
  lineAt: () => {
    throw new RangeError("a history without stretches was asked for one");
  },
};

const keptByLineage = new WeakMap<RoomAir["lineage"], Kept>();

const keptOf = (air: RoomAir): Kept => {
  const kept = keptByLineage.get(air.lineage) ?? { stretches: nothing, filled: 0, columnByTable: new Map() };
  keptByLineage.set(air.lineage, kept);
  if (kept.filled < air.startsAt.length) {
    kept.stretches = onGrid(air, kept.stretches, kept.filled);
    kept.filled = air.startsAt.length;
  }
  return kept;
};

/** The sums of a room's history by a law on a clock; one column serves every history of the same lineage. */
export const earnedColumn = (air: RoomAir, table: RateTable): EarnedColumn => {
  const kept = keptOf(air);
  const found = kept.columnByTable.get(table);
  if (found) return found;
  const column = { table, kept, sums: new Float64Array(1), blocks: 0 };
  kept.columnByTable.set(table, column);
  return column;
};

/** The sums inside of one block; whoever asks takes what it needs before anybody asks again. */
const inBlock = new Float64Array(blockStretches + 1);

const sumInBlock = ({ table, kept, sums }: EarnedColumn, block: number, until: number) => {
  inBlock[0] = sums[block] as number;
  sumBy(table, kept.stretches, block * blockStretches, until, inBlock);
  return inBlock;
};

/**
 * What the air was worth before each stretch of a block, and at last before `until`, if that lies in it. Good until the next
 * question.
 *
 * @param until not after the end of the history for which the column was asked
 */
export const sumsOfBlock = (column: EarnedColumn, block: number, until: number): Float64Array => {
  if (column.sums.length <= block) {
    const longer = new Float64Array(roomFor(Math.floor(column.kept.filled / blockStretches), column.blocks) + 1);
    longer.set(column.sums);
    column.sums = longer;
  }
  for (; column.blocks < block; column.blocks += 1) {
    const whole = sumInBlock(column, column.blocks, (column.blocks + 1) * blockStretches);
    column.sums[column.blocks + 1] = whole[blockStretches] as number;
  }
  return sumInBlock(column, block, Math.min(until, (block + 1) * blockStretches));
};

/** What the air was worth before a stretch of the history for which the column was asked. */
export const earnedBefore = (column: EarnedColumn, index: number): number => {
  const block = Math.floor(index / blockStretches);
  return sumsOfBlock(column, block, index)[index - block * blockStretches] as number;
};

/** The minutes of which nothing is known before a stretch. */
export const unknownBefore = ({ lineage }: RoomAir, index: number): number =>
  lineage.unknown[unknownCountBefore(lineage, index) - 1]?.throughMin ?? 0;
