/** The rates of a law on a clock, looked up instead of worked out; over the whole of the air that may be written down. */
import { type DryingTable, dryingTable, sumByDrying } from "./drying-table";
import { type AirLine, type Clock, lineMinutes } from "./rate";
import type { RateLaw } from "./rate-laws";
import type { GridStretches } from "./temperature-grid";
import { sumByWarmth, type WarmthTable, warmthMinutes, warmthTable } from "./warmth-table";

export type RateTable = WarmthTable | DryingTable;

/** One table serves every room. */
export const rateTable = (law: RateLaw, clock: Clock): RateTable =>
  law.drying ? dryingTable(law, law.drying, clock) : warmthTable(law, clock);

/** Minutes that a line with any ends is worth. */
export const minutesBy = (table: RateTable, line: AirLine): number =>
  table.by === "warmth" ? warmthMinutes(table, line) : lineMinutes(line, table.law, table.clock);

/**
 * Sums along stretches, into a column of the caller's: from what is earned before stretch `first`, in `sums[0]`, what is
 * earned through it and each next one to before `until`.
 */
export const sumBy = (
  table: RateTable,
  stretches: GridStretches,
  first: number,
  until: number,
  sums: Float64Array,
): void =>
  table.by === "warmth"
    ? sumByWarmth(table, stretches, first, until, sums)
    : sumByDrying(table, stretches, first, until, sums);
