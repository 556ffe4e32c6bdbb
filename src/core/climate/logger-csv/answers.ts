/** What must be known to read a logger's file, and what is asked when the file does not say it. */
import type { LoggerLayout } from "./columns";
import type { TemperatureUnit } from "./header-words";
import type { DateOrder } from "./moment";
import type { DecimalMark } from "./number";

/** Where the logger's clock stood: in a zone with its summer time, or at a fixed offset east of UTC all year. */
export type LoggerClock = { zone: string } | { offsetMin: number };

export type LoggerAnswers = LoggerLayout & {
  timeColumn: number;
  /** When date and time of day stand in two columns. */
  clockColumn?: number;
  temperatureColumn: number;
  humidityColumn: number;
  temperatureDecimal: DecimalMark;
  humidityDecimal: DecimalMark;
  unit: TemperatureUnit;
  dateOrder: DateOrder;
  /** Only for times that do not carry their own offset. */
  clock: LoggerClock;
};

/** `about` is the answer's name. `suggested` is what a person will mostly want; a question without it has to be answered. */
export type LoggerQuestion =
  | { about: "timeColumn" | "temperatureColumn" | "humidityColumn"; choices: number[]; suggested: number }
  | {
      about: "temperatureDecimal" | "humidityDecimal";
      choices: DecimalMark[];
      suggested: DecimalMark;
      examples: string[];
    }
  | { about: "unit"; choices: TemperatureUnit[]; suggested: TemperatureUnit; examples: string[] }
  | { about: "dateOrder"; choices: DateOrder[]; suggested?: DateOrder; examples: string[] }
  | { about: "clock"; choices: LoggerClock[]; suggested: LoggerClock };

/** Settled and suggested answers; the order of the date is missing while nothing speaks for either. */
export type ProposedAnswers = Omit<LoggerAnswers, "dateOrder"> & Partial<Pick<LoggerAnswers, "dateOrder">>;
