/** What is asked about a logger's file and what could not be read in it, in words. */
import type { LoggerAnswers, LoggerClock, LoggerQuestion } from "~/core/climate/logger-csv/answers";
import type { LoggerColumn } from "~/core/climate/logger-csv/columns";
import type { BadRow } from "~/core/climate/logger-csv/read";

export type AskedQuestion = {
  about: LoggerQuestion["about"];
  label: string;
  note?: string;
  choices: { id: string; words: string; detail?: string }[];
  suggestedId?: string;
  /** The answer that a choice stands for. */
  answerOf: (id: string) => Partial<LoggerAnswers>;
};

const columnWords = (columns: readonly LoggerColumn[], index: number) => {
  const column = columns.find((found) => found.index === index);
  return {
    id: String(index),
    words: column?.header ? `${index + 1}: ${column.header}` : `Column ${index + 1}`,
    detail: column?.sample.filter((cell) => cell !== "").join(" · "),
  };
};

const clockId = (clock: LoggerClock): string => ("zone" in clock ? clock.zone : `UTC ${clock.offsetMin}`);
const clockWords = (clock: LoggerClock): string => {
  if ("zone" in clock) return `As the shop’s clock, with summer time (${clock.zone})`;
  return clock.offsetMin === 0
    ? "UTC all year"
    : `UTC ${clock.offsetMin > 0 ? "+" : "−"}${Math.abs(clock.offsetMin) / 60} h all year`;
};

const labels: Record<LoggerQuestion["about"], string> = {
  timeColumn: "Which column is the time?",
  temperatureColumn: "Which column is the air’s temperature?",
  humidityColumn: "Which column is the humidity?",
  temperatureDecimal: "How are tenths of a degree written?",
  humidityDecimal: "How are tenths of a percent written?",
  unit: "Which degrees are these?",
  dateOrder: "What comes first in the date?",
  clock: "By which clock did the logger write?",
};

const words: Record<string, string> = {
  point: "With a point: 18.5",
  comma: "With a comma: 18,5",
  celsius: "°C",
  fahrenheit: "°F",
  "day-first": "The day, then the month",
  "month-first": "The month, then the day",
};

/** A question with its choices, ready for a field. */
export function asked(question: LoggerQuestion, columns: readonly LoggerColumn[]): AskedQuestion {
  const { about } = question;
  const label = labels[about];
  if (question.about === "clock") {
    const { choices, suggested } = question;
    return {
      about,
      label,
      note: "A logger that is never set keeps one time all year.",
      choices: choices.map((clock) => ({ id: clockId(clock), words: clockWords(clock) })),
      suggestedId: clockId(suggested),
      answerOf: (id) => ({ clock: choices.find((clock) => clockId(clock) === id) }),
    };
  }
  const note =
    "examples" in question && question.examples.length > 0 ? `In the file: ${question.examples.join("; ")}` : undefined;
  const isColumn = question.about.endsWith("Column");
  return {
    about,
    label,
    note,
    choices: question.choices.map((choice) =>
      typeof choice === "number" ? columnWords(columns, choice) : { id: choice, words: words[choice] ?? choice },
    ),
    suggestedId: question.suggested === undefined ? undefined : String(question.suggested),
    answerOf: (id) => ({ [about]: isColumn ? Number(id) : id }),
  };
}

/** "Line 14: “ERR” is no temperature." */
export function badRowWords(row: BadRow): string {
  const found = row.found === "" ? "nothing" : `“${row.found}”`;
  switch (row.why) {
    case "no-time":
      return `Line ${row.line}: ${found} is no time.`;
    case "no-temperature":
      return `Line ${row.line}: ${found} is no temperature.`;
    case "no-humidity":
      return `Line ${row.line}: ${found} is no humidity.`;
    case "differs-at-same-time":
      return `Line ${row.line}: ${row.found} for the same time as line ${row.keptLine}, which counts.`;
    case "out-of-bounds":
      return row.field === "at"
        ? `Line ${row.line}: ${found} is no time of this century.`
        : `Line ${row.line}: ${found} cannot be; possible is ${row.min} to ${row.max} ${row.unit}.`;
  }
}

/** "Line 4", "Lines 4, 9 and 12", "Lines 4, 9, 12 and 30 more" */
export function linesWords(lines: readonly number[], count: number): string {
  const more = count - lines.length;
  const named = more > 0 ? [...lines, `${more} more`] : lines.map(String);
  const last = named.at(-1);
  return named.length === 1 ? `Line ${last}` : `Lines ${named.slice(0, -1).join(", ")} and ${last}`;
}
