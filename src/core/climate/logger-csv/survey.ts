/** What all rows of a file together say about how it is written: decimal marks, unit, order of the date, offsets. */
import type { LoggerAnswers } from "./answers";
import { type TemperatureUnit, unitIn } from "./header-words";
import { type DateOrder, hasOffset, readMoment, undecidedPair } from "./moment";
import { type DecimalMark, decimalEvidence, isNumberCell, readNumber } from "./number";
import { cellAt, type LoggerRecord } from "./records";

export type ColumnPlaces = Pick<LoggerAnswers, "timeColumn" | "clockColumn" | "temperatureColumn" | "humidityColumn">;

/** Date and time of day as one text, wherever they stand. */
export function timeTextAt(record: LoggerRecord, { timeColumn, clockColumn }: ColumnPlaces): string {
  const text = cellAt(record, timeColumn);
  return clockColumn === undefined ? text : `${text} ${cellAt(record, clockColumn)}`.trim();
}

/** How often a mark was seen, and the first cell that had it. */
type MarkCounts = Record<DecimalMark, { seen: number; example?: string }>;
type Span = { fromMs: number; toMs: number };

const noMarks = (): MarkCounts => ({ point: { seen: 0 }, comma: { seen: 0 } });
const emptySpan = (): Span => ({ fromMs: Number.POSITIVE_INFINITY, toMs: Number.NEGATIVE_INFINITY });

/** °C: warmer than any workshop's air, so that a number above it is °F. The bound of what may be written down. */
const hottestCelsius = 60;
/** Common practice: a shop is mostly below this in °C, and mostly above it in °F. */
const usualCelsiusMax = 35;

export class Survey {
  rows = 0;
  readonly temperatureMarks = noMarks();
  readonly humidityMarks = noMarks();
  readonly temperatureExamples: string[] = [];
  readonly dateExamples: string[] = [];
  private readonly unitsSeen = new Set<TemperatureUnit>();
  private temperatures = { seen: 0, aboveUsual: 0, aboveHottest: 0 };
  private orderSeen: Record<DateOrder, number> = { "day-first": 0, "month-first": 0 };
  private undecidedRows = 0;
  private withoutOffset = 0;
  private readonly spans: Record<DateOrder, Span> = { "day-first": emptySpan(), "month-first": emptySpan() };

  constructor(private readonly places: ColumnPlaces) {}

  add(record: LoggerRecord): void {
    this.rows++;
    this.addTime(timeTextAt(record, this.places));
    const temperature = cellAt(record, this.places.temperatureColumn);
    if (isNumberCell(temperature)) this.addTemperature(temperature);
    const humidity = cellAt(record, this.places.humidityColumn);
    if (isNumberCell(humidity)) addMark(this.humidityMarks, humidity);
  }

  private addTemperature(cell: string): void {
    addMark(this.temperatureMarks, cell);
    const unit = unitIn(cell);
    if (unit !== undefined) this.unitsSeen.add(unit);
    if (this.temperatureExamples.length < 3) this.temperatureExamples.push(cell);
    const value = readNumber(cell, decimalEvidence(cell) ?? "point") ?? 0;
    this.temperatures.seen++;
    if (value > usualCelsiusMax) this.temperatures.aboveUsual++;
    if (value > hottestCelsius) this.temperatures.aboveHottest++;
  }

  private addTime(text: string): void {
    if (!hasOffset(text)) this.withoutOffset++;
    const pair = undecidedPair(text);
    if (pair === undefined) return;
    this.undecidedRows++;
    if (this.dateExamples.length < 3) this.dateExamples.push(text);
    if (pair[0] > 12) this.orderSeen["day-first"]++;
    if (pair[1] > 12) this.orderSeen["month-first"]++;
    if (this.orderSeen["day-first"] + this.orderSeen["month-first"] > 0) return;
    for (const order of ["day-first", "month-first"] as const) {
      const moment = readMoment(text, order);
      if (moment === undefined) continue;
      const ms = "at" in moment ? moment.at : moment.wall;
      const span = this.spans[order];
      span.fromMs = Math.min(span.fromMs, ms);
      span.toMs = Math.max(span.toMs, ms);
    }
  }

  get allHaveOffset(): boolean {
    return this.withoutOffset === 0;
  }

  /** Settled when the cells name one unit, or when most numbers would be too hot for °C. */
  get unit(): { isSettled: boolean; unit: TemperatureUnit } {
    const [named, other] = [...this.unitsSeen];
    if (named !== undefined && other === undefined) return { isSettled: true, unit: named };
    const { seen, aboveUsual, aboveHottest } = this.temperatures;
    if (aboveHottest > seen / 2) return { isSettled: true, unit: "fahrenheit" };
    return { isSettled: false, unit: aboveUsual > seen / 2 ? "fahrenheit" : "celsius" };
  }

  /**
   * Settled when some date can only be read one way and none only the other. Otherwise the order that keeps the file's
   * days together is suggested: a week read the wrong way round is spread over half a year.
   */
  get dateOrder(): { isSettled: boolean; order?: DateOrder } {
    const { "day-first": dayFirst, "month-first": monthFirst } = this.orderSeen;
    if (this.undecidedRows === 0) return { isSettled: true, order: "day-first" };
    if (dayFirst > 0 || monthFirst > 0)
      return {
        isSettled: dayFirst === 0 || monthFirst === 0,
        order: dayFirst >= monthFirst ? "day-first" : "month-first",
      };
    const length = (order: DateOrder) => this.spans[order].toMs - this.spans[order].fromMs;
    if (length("day-first") === length("month-first")) return { isSettled: false };
    return { isSettled: false, order: length("day-first") < length("month-first") ? "day-first" : "month-first" };
  }
}

function addMark(marks: MarkCounts, cell: string): void {
  const mark = decimalEvidence(cell);
  if (mark === undefined) return;
  marks[mark].seen++;
  marks[mark].example ??= cell;
}

/** Settled unless both marks were seen in one column. */
export function decimalOf(marks: MarkCounts): { isSettled: boolean; mark: DecimalMark; examples: string[] } {
  const { point, comma } = marks;
  return {
    isSettled: point.seen === 0 || comma.seen === 0,
    mark: comma.seen > point.seen ? "comma" : "point",
    examples: [point.example, comma.example].filter((example) => example !== undefined),
  };
}
