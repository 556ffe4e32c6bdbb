/** A logger's file on its way in: bytes to text, and readings to the columns that are sent. */
import type { LoggerReading } from "~/core/climate/logger-csv/read";

/** Larger is no text of at most 200,000 rows. */
export const largestFileBytes = 24 << 20;

/**
 * The text of a file. Loggers write UTF-8, spreadsheets UTF-16 with its mark or, where bytes are no UTF-8, the Western
 * European page of their system. Source: WHATWG Encoding Standard, byte order marks and windows-1252.
 */
export function textOf(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (first === 0xfe && second === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

/** The body of `import-readings`: columns of whole numbers. */
export const importOf = (roomId: string, rows: readonly LoggerReading[]) => ({
  roomId,
  at: rows.map((row) => row.at),
  airTenths: rows.map((row) => Math.round(row.airCelsius * 10)),
  humidityTenths: rows.map((row) => Math.round(row.humidityPercent * 10)),
});
