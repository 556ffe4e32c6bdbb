/** What was measured, as it is printed: beside each number that is to be reached, whether it was. */
import os from "node:os";

export type Row = { what: string; value: string; goal?: string; isMet?: boolean };

export const ms = (time: number): string => `${time.toFixed(time < 100 ? 1 : 0)} ms`;
export const seconds = (timeMs: number): string => `${(timeMs / 1000).toFixed(2)} s`;
export const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(2)} MB`;
export const kilobytes = (bytes: number): string => `${(bytes / 1e3).toFixed(1)} kB`;
export const times = (ratio: number): string => `${ratio.toFixed(2)}×`;

/** A value that is to be no more than another. */
export const atMost = (what: string, value: number, limit: number, words: (value: number) => string): Row => ({
  what,
  value: words(value),
  goal: `≤ ${words(limit)}`,
  isMet: value <= limit,
});

/** A value that is to be no less than another. */
export const atLeast = (what: string, value: number, limit: number, words: (value: number) => string): Row => ({
  what,
  value: words(value),
  goal: `≥ ${words(limit)}`,
  isMet: value >= limit,
});

export function printRows(title: string, rows: readonly Row[]): void {
  const [load = 0] = os.loadavg();
  console.log(`\n${title} (load average ${load.toFixed(1)})`);
  const width = Math.max(...rows.map(({ what }) => what.length));
  const valueWidth = Math.max(...rows.map(({ value }) => value.length));
  for (const { what, value, goal, isMet } of rows) {
    const reached = goal === undefined ? "" : `  ${goal}: ${isMet ? "met" : "MISSED"}`;
    console.log(`  ${what.padEnd(width)}  ${value.padEnd(valueWidth)}${reached}`.trimEnd());
  }
}
