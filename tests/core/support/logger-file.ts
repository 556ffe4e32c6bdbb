import type { LoggerReading, LoggerReadings } from "~/core/climate/logger-csv/read";

/** A file of which every row could be read. */
export const logger = (rows: LoggerReading[]): LoggerReadings => ({
  rows,
  badRows: [],
  badRowCount: 0,
  duplicatesDropped: 0,
  duplicateLines: [],
  outOfOrderRows: 0,
  outOfOrderLines: [],
  skippedHourRows: 0,
  skippedHourLines: [],
  settledByOrder: 0,
  takenForFirst: 0,
  fromAt: rows[0]?.at ?? 0,
  toAt: rows.at(-1)?.at ?? 0,
});
