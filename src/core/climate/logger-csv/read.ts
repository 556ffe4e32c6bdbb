import { type WallMoment, type WallMs, wallClock } from "../../calendar";
import { accept, type Result, refuse } from "../../result";
import type { RefusalOf } from "../../shop/refusal";
import { type Bounds, bounds, type InstantMs, instantBounds, minuteMs } from "../../units";
import type { LoggerAnswers, LoggerClock } from "./answers";
import { readMoment } from "./moment";
import { readNumber } from "./number";
import { mostRows, tooManyRows } from "./propose";
import { cellAt, type LoggerRecord, recordsOf, visibleText } from "./records";
import { type PassCounts, settlePasses } from "./repeated-hour";
import { timeTextAt } from "./survey";

/** Both numbers to a tenth. */
export type LoggerReading = { at: InstantMs; airCelsius: number; humidityPercent: number };

export type BadRow = { line: number; found: string } & (
  | { why: "no-time" | "no-temperature" | "no-humidity" }
  | { why: "out-of-bounds"; field: "airCelsius" | "humidityPercent" | "at"; min: number; max: number; unit: string }
  /** The file says something else for the same time, further up; the first is kept. */
  | { why: "differs-at-same-time"; keptLine: number }
);

export type LoggerReadings = PassCounts & {
  /** In order of time, each time once. */
  rows: LoggerReading[];
  /** The first thousand of them. */
  badRows: BadRow[];
  badRowCount: number;
  /** Rows that say the same as another for the same time. */
  duplicatesDropped: number;
  duplicateLines: number[];
  /** Rows whose time steps back behind the row above them (newest first: on), each put in its place. */
  outOfOrderRows: number;
  outOfOrderLines: number[];
  /** Rows with wall times that spring skips, read as an hour on: a sign that the logger does not change its clock. */
  skippedHourRows: number;
  skippedHourLines: number[];
  fromAt: InstantMs;
  toAt: InstantMs;
};

const mostBadRowsListed = 1000;
/** Of each sort of row that is read, but said to be so. */
const mostLinesNamed = 20;

type RawRow = LoggerReading & WallMoment & { line: number; wall: WallMs };

/**
 * Reads a climate logger's file the way it was agreed. Rows that cannot be used are listed with what was found; the
 * others are readings.
 *
 * @param text the file, decoded
 * @param answers a proposal's answers, with those of a person
 * @returns refused over 200,000 rows, or when no row can be used
 */
export function readLogger(
  text: string,
  answers: LoggerAnswers,
): Result<LoggerReadings, RefusalOf<"out-of-bounds"> | RefusalOf<"import-empty">> {
  const wallMoment = momentsOf(answers.clock);
  const raw: RawRow[] = [];
  const badRows: BadRow[] = [];
  let badRowCount = 0;
  const reject = (row: BadRow) => {
    badRowCount++;
    if (badRows.length < mostBadRowsListed) badRows.push(row);
  };
  let dataRows = 0;
  for (const record of recordsOf(visibleText(text), answers.delimiter)) {
    if (record.line < answers.firstDataLine) continue;
    dataRows++;
    if (dataRows > mostRows) continue;
    const row = rowOf(record, answers, wallMoment);
    if ("why" in row) reject(row);
    else raw.push(row);
  }
  if (dataRows > mostRows) return refuse(tooManyRows(dataRows));

  // some loggers write the newest reading first
  if (isNewestFirst(raw)) raw.reverse();
  const passes = settlePasses(raw);
  const outOfOrder = outOfOrderIn(raw);
  raw.sort((a, b) => a.at - b.at || a.line - b.line);
  const { rows, duplicates } = eachTimeOnce(raw, reject);
  const [first, last] = [rows[0], rows.at(-1)];
  if (first === undefined || last === undefined) return refuse({ kind: "import-empty", badRows: badRowCount });
  badRows.sort((a, b) => a.line - b.line);
  const skipped = raw.filter((row) => row.isSkipped);
  return accept({
    rows,
    badRows,
    badRowCount,
    duplicatesDropped: duplicates.length,
    duplicateLines: firstLinesOf(duplicates),
    outOfOrderRows: outOfOrder.length,
    outOfOrderLines: firstLinesOf(outOfOrder),
    skippedHourRows: skipped.length,
    skippedHourLines: firstLinesOf(skipped),
    ...passes,
    fromAt: first.at,
    toAt: last.at,
  });
}

function momentsOf(clock: LoggerClock): (wall: WallMs) => WallMoment {
  if ("zone" in clock) return wallClock(clock.zone);
  return (wall) => ({ at: wall - clock.offsetMin * minuteMs, isSkipped: false });
}

const toTenth = (value: number): number => Math.round(value * 10) / 10 + 0;

function rowOf(
  record: LoggerRecord,
  answers: LoggerAnswers,
  wallMoment: (wall: WallMs) => WallMoment,
): RawRow | BadRow {
  const { line } = record;
  const timeText = timeTextAt(record, answers);
  const logged = readMoment(timeText, answers.dateOrder);
  if (logged === undefined) return { line, found: timeText, why: "no-time" };
  const wall = "wall" in logged ? logged.wall : logged.at;
  const moment = "wall" in logged ? wallMoment(logged.wall) : { at: logged.at, isSkipped: false };
  if (moment.at < instantBounds.min || moment.at > instantBounds.max)
    return { line, found: timeText, why: "out-of-bounds", field: "at", ...instantBounds, unit: "ms" };

  const temperatureText = cellAt(record, answers.temperatureColumn);
  const temperature = readNumber(temperatureText, answers.temperatureDecimal);
  if (temperature === undefined) return { line, found: temperatureText, why: "no-temperature" };
  const humidityText = cellAt(record, answers.humidityColumn);
  const humidity = readNumber(humidityText, answers.humidityDecimal);
  if (humidity === undefined) return { line, found: humidityText, why: "no-humidity" };

  // exact by definition of the Fahrenheit scale
  const airCelsius = toTenth(answers.unit === "celsius" ? temperature : ((temperature - 32) * 5) / 9);
  const humidityPercent = toTenth(humidity);
  if (isOutside(airCelsius, bounds.airCelsius)) return outside(line, temperatureText, "airCelsius");
  if (isOutside(humidityPercent, bounds.humidityPercent)) return outside(line, humidityText, "humidityPercent");
  return { line, wall, ...moment, airCelsius, humidityPercent };
}

const isOutside = (value: number, { min, max }: Bounds): boolean => value < min || value > max;

function outside(line: number, found: string, field: "airCelsius" | "humidityPercent"): BadRow {
  const { min, max, unit } = bounds[field];
  return { line, found, why: "out-of-bounds", field, min, max, unit };
}

function isNewestFirst(rows: readonly RawRow[]): boolean {
  let steps = 0;
  for (let index = 1; index < rows.length; index++)
    steps += Math.sign((rows[index]?.wall ?? 0) - (rows[index - 1]?.wall ?? 0));
  return steps < 0;
}

const firstLinesOf = (rows: readonly RawRow[]): number[] =>
  rows
    .map(({ line }) => line)
    .sort((a, b) => a - b)
    .slice(0, mostLinesNamed);

/** @param raw in the order of the file, or the other way round where it has the newest first */
const outOfOrderIn = (raw: readonly RawRow[]): RawRow[] =>
  raw.filter(({ at }, index) => at < (raw[index - 1]?.at ?? Number.NEGATIVE_INFINITY));

/** @param raw in order of time, then of lines */
function eachTimeOnce(raw: readonly RawRow[], reject: (row: BadRow) => void) {
  const rows: LoggerReading[] = [];
  const duplicates: RawRow[] = [];
  let kept: RawRow | undefined;
  for (const row of raw) {
    const { at, airCelsius, humidityPercent, line } = row;
    if (kept?.at !== at) {
      rows.push({ at, airCelsius, humidityPercent });
      kept = row;
    } else if (kept.airCelsius === airCelsius && kept.humidityPercent === humidityPercent) duplicates.push(row);
    else
      reject({
        line,
        found: `${airCelsius} °C ${humidityPercent} %`,
        why: "differs-at-same-time",
        keptLine: kept.line,
      });
  }
  return { rows, duplicates };
}
