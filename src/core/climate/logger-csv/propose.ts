/**
 * Looks at a climate logger's file and says how it would be read. Nothing is guessed silently: what the file does not
 * say is a question with a suggestion.
 */
import { accept, type Result, refuse } from "../../result";
import type { RefusalOf } from "../../shop/refusal";
import type { LoggerAnswers, LoggerClock, LoggerQuestion, ProposedAnswers } from "./answers";
import { findTable, type LoggerColumn } from "./columns";
import { offsetIn, unitIn } from "./header-words";
import { decimalEvidence, readNumber } from "./number";
import { detectDelimiter, recordsOf, sampleOf, visibleText } from "./records";
import { type ColumnPlaces, decimalOf, Survey } from "./survey";

export const mostRows = 200_000;

export type LoggerProposal = {
  columns: LoggerColumn[];
  dataRows: number;
  answers: ProposedAnswers;
  questions: LoggerQuestion[];
};

export type LoggerRefusal = RefusalOf<"import-empty"> | RefusalOf<"malformed"> | RefusalOf<"out-of-bounds">;

export const tooManyRows = (found: number): RefusalOf<"out-of-bounds"> => ({
  kind: "out-of-bounds",
  field: "rows",
  found,
  min: 1,
  max: mostRows,
  unit: "rows",
});

type Picked = { places: ColumnPlaces; questions: LoggerQuestion[] };

/**
 * Proposes how to read a file.
 *
 * @param text the file, decoded
 * @param shopZone the zone suggested for times without an offset
 * @param chosen what a person has already answered; those questions are not asked again
 * @returns refused when there is no row with a time and a number, no second column of numbers, or over 200,000 rows
 */
export function proposeLogger(
  text: string,
  shopZone: string,
  chosen: Partial<LoggerAnswers> = {},
): Result<LoggerProposal, LoggerRefusal> {
  const visible = visibleText(text);
  const cut = detectDelimiter(visible);
  if (cut === undefined) return refuse({ kind: "import-empty", badRows: 0 });
  const sample = sampleOf(visible, cut.delimiter);
  const table = findTable(sample, cut.width);
  if (table === undefined) return refuse({ kind: "import-empty", badRows: sample.length });
  const picked = pickColumns(table.columns, chosen);
  if (!picked.ok) return picked;
  const { places, questions } = picked.value;

  const survey = new Survey(places);
  for (const record of recordsOf(visible, cut.delimiter)) if (record.line >= table.firstDataLine) survey.add(record);
  if (survey.rows > mostRows) return refuse(tooManyRows(survey.rows));

  const header = (column: number) => table.columns[column]?.header ?? "";
  const named = unitIn(header(places.temperatureColumn));
  const unit = named ? { isSettled: true, unit: named } : survey.unit;
  const order = survey.dateOrder;
  const temperatureDecimal = decimalOf(survey.temperatureMarks);
  const humidityDecimal = decimalOf(survey.humidityMarks);
  const offsetMin = offsetIn(header(places.timeColumn)) ?? offsetIn(header(places.clockColumn ?? -1));
  const clock: LoggerClock = offsetMin === undefined ? { zone: shopZone } : { offsetMin };

  const asked: LoggerQuestion[] = [...questions];
  for (const [about, found] of [
    ["temperatureDecimal", temperatureDecimal],
    ["humidityDecimal", humidityDecimal],
  ] as const) {
    const { isSettled, mark, examples } = found;
    if (!isSettled) asked.push({ about, choices: ["point", "comma"], suggested: mark, examples });
  }
  if (!unit.isSettled) {
    const examples = survey.temperatureExamples;
    asked.push({ about: "unit", choices: ["celsius", "fahrenheit"], suggested: unit.unit, examples });
  }
  if (!order.isSettled) {
    const suggestion = order.order === undefined ? {} : { suggested: order.order };
    asked.push({
      about: "dateOrder",
      choices: ["day-first", "month-first"],
      examples: survey.dateExamples,
      ...suggestion,
    });
  }
  if (!survey.allHaveOffset && offsetMin === undefined)
    asked.push({ about: "clock", choices: [{ zone: shopZone }, { offsetMin: 0 }], suggested: clock });

  return accept({
    columns: table.columns,
    dataRows: survey.rows,
    answers: {
      delimiter: cut.delimiter,
      firstDataLine: table.firstDataLine,
      ...places,
      temperatureDecimal: temperatureDecimal.mark,
      humidityDecimal: humidityDecimal.mark,
      unit: unit.unit,
      ...(order.order === undefined ? {} : { dateOrder: order.order }),
      clock,
      ...chosen,
    },
    questions: asked.filter((question) => chosen[question.about] === undefined),
  });
}

/** By what the headers say, else by what the columns hold; asked unless the headers leave one choice. */
function pickColumns(columns: readonly LoggerColumn[], chosen: Partial<LoggerAnswers>): Result<Picked, LoggerRefusal> {
  const holding = (sort: LoggerColumn["holds"]) => columns.filter((column) => column.holds === sort);
  const moments = holding("moment");
  const times = moments.length > 0 ? moments : holding("date");
  const numbers = holding("number");
  const temperatures = numbers.filter((column) => column.measures === "temperature");
  const humidities = numbers.filter((column) => column.measures === "humidity");
  const others = numbers.filter((column) => column.measures === undefined);
  // unnamed columns: in °C, the air's number is below its humidity's
  const byValue = [...others].sort((a, b) => meanOf(a) - meanOf(b));
  const temperature = temperatures[0] ?? byValue[0];
  const humidity = humidities[0] ?? byValue.filter((column) => column !== temperature).at(-1);
  if (times[0] === undefined) return refuse({ kind: "malformed", field: "time", expected: "a column of times" });
  if (temperature === undefined)
    return refuse({ kind: "malformed", field: "temperature", expected: "a column of numbers" });
  if (humidity === undefined) return refuse({ kind: "malformed", field: "humidity", expected: "a column of numbers" });

  const clockColumn = moments.length > 0 ? undefined : holding("clock")[0]?.index;
  const indexes = (choices: readonly LoggerColumn[]) => choices.map((column) => column.index);
  const questions: LoggerQuestion[] = [];
  if (times.length > 1) questions.push({ about: "timeColumn", choices: indexes(times), suggested: times[0].index });
  if (temperatures.length !== 1)
    questions.push({ about: "temperatureColumn", choices: indexes(numbers), suggested: temperature.index });
  if (humidities.length !== 1)
    questions.push({ about: "humidityColumn", choices: indexes(numbers), suggested: humidity.index });
  return accept({
    places: {
      timeColumn: chosen.timeColumn ?? times[0].index,
      ...(clockColumn === undefined ? {} : { clockColumn }),
      temperatureColumn: chosen.temperatureColumn ?? temperature.index,
      humidityColumn: chosen.humidityColumn ?? humidity.index,
    },
    questions,
  });
}

function meanOf({ sample }: LoggerColumn): number {
  const values = sample.map((cell) => readNumber(cell, decimalEvidence(cell) ?? "point") ?? 0);
  return values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
}
