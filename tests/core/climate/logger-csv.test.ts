import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { LoggerAnswers } from "~/core/climate/logger-csv/answers";
import { measuredBy, offsetIn, unitIn } from "~/core/climate/logger-csv/header-words";
import { type DateOrder, readMoment } from "~/core/climate/logger-csv/moment";
import { readNumber } from "~/core/climate/logger-csv/number";
import { type LoggerProposal, proposeLogger } from "~/core/climate/logger-csv/propose";
import { type LoggerReadings, readLogger } from "~/core/climate/logger-csv/read";
import { type Delimiter, detectDelimiter, recordsOf } from "~/core/climate/logger-csv/records";

const newYork = "America/New_York";

function proposed(text: string, chosen: Partial<LoggerAnswers> = {}): LoggerProposal {
  const result = proposeLogger(text, newYork, chosen);
  if (!result.ok) throw new Error(JSON.stringify(result.refusal));
  return result.value;
}
function readings(text: string, chosen: Partial<LoggerAnswers> = {}): LoggerReadings {
  const { answers } = proposed(text, chosen);
  const result = readLogger(text, { dateOrder: "day-first", ...answers });
  if (!result.ok) throw new Error(JSON.stringify(result.refusal));
  return result.value;
}
const asked = (text: string, chosen: Partial<LoggerAnswers> = {}) =>
  proposed(text, chosen).questions.map((question) => question.about);
const lines = (...rows: string[]) => rows.join("\n");
const cellsOf = (text: string, delimiter: Delimiter = ",") =>
  [...recordsOf(text, delimiter)].map((record) => record.cells);

// Source: RFC 4180, section 2, by number of its rules.
test.each([
  {
    rule: "1: records end with CRLF",
    text: "aaa,bbb\r\nzzz,yyy\r\n",
    cells: [
      ["aaa", "bbb"],
      ["zzz", "yyy"],
    ],
  },
  {
    rule: "2: the last one need not",
    text: "aaa,bbb\r\nzzz,yyy",
    cells: [
      ["aaa", "bbb"],
      ["zzz", "yyy"],
    ],
  },
  { rule: "4: spaces are part of a cell", text: "a a, b", cells: [["a a", " b"]] },
  {
    rule: "5: cells may be quoted",
    text: '"aaa","bbb"\r\nzzz,yyy',
    cells: [
      ["aaa", "bbb"],
      ["zzz", "yyy"],
    ],
  },
  {
    rule: "6: quotes hold commas and line ends",
    text: '"a,b","b\r\nbb"\r\nz,y',
    cells: [
      ["a,b", "b\r\nbb"],
      ["z", "y"],
    ],
  },
  { rule: "7: a quote inside is doubled", text: '"aaa","b""bb"', cells: [["aaa", 'b"bb']] },
  {
    rule: "none: LF alone, CR alone and blank lines, as loggers write them",
    text: "a,b\n\nc,d\re,f",
    cells: [
      ["a", "b"],
      ["c", "d"],
      ["e", "f"],
    ],
  },
  {
    rule: "none: a quote that never closes is a character",
    text: '"a,b\nc,d',
    cells: [
      ['"a', "b"],
      ["c", "d"],
    ],
  },
  {
    rule: "none: an empty last cell is a cell",
    text: "a,\nb,",
    cells: [
      ["a", ""],
      ["b", ""],
    ],
  },
])("records as in RFC 4180 rule $rule", ({ text, cells }) => {
  expect(cellsOf(text)).toEqual(cells);
});

test("a record knows the line of the file on which it starts", () => {
  expect([...recordsOf('a,"b\nb"\n\nc,d', ",")].map((record) => record.line)).toEqual([1, 4]);
});

// A table of the shop's pieces with a byte order mark, decimal commas and semicolons
test("the separator is the one under which the lines have the same number of cells", () => {
  expect(detectDelimiter("Piece;Price;Weight\nTable;1.234,50;0,75\nChair;260,00;12,5")).toMatchObject({
    delimiter: ";",
    width: 3,
  });
  expect(detectDelimiter("a,b\tc,d\n1,2\t3,4")?.delimiter).toBe("\t");
  expect(detectDelimiter("no separators\nat all")).toBeUndefined();
});

// By the two conventions: the decimal mark splits off the fraction, the other one, a space or ' groups thousands.
test.each([
  ["1.234,50", "comma", 1234.5],
  ["1,234.50", "point", 1234.5],
  ["0,75", "comma", 0.75],
  ["1.000", "point", 1],
  ["1.000", "comma", 1000],
  ["19.5 °C", "point", 19.5],
  ["48%", "point", 48],
  ["48.2 %RH", "point", 48.2],
  ["66.4°F", "point", 66.4],
  ["-3.5", "point", -3.5],
  ["\u22123,5", "comma", -3.5],
  ["19,5", "point", undefined],
  ["1.5.2", "point", undefined],
  ["1.234,50", "point", undefined],
  ["--", "point", undefined],
  ["", "point", undefined],
  ["NaN", "point", undefined],
] as const)("%j with a decimal %s is %s", (cell, decimal, value) => {
  expect(readNumber(cell, decimal)).toBe(value);
});

const morning = Date.UTC(2026, 9, 5, 8, 30);
// Source: ISO 8601 (year first, T, Z, offsets, 24:00); 12 a.m. is midnight and 12 p.m. noon (common usage).
test.each([
  ["2026-10-05T08:30", "day-first", { wall: morning }],
  ["2026-10-05 08:30:00.250", "month-first", { wall: morning }],
  ["2026/10/05 8:30", "day-first", { wall: morning }],
  ["2026-10-05T08:30Z", "day-first", { at: morning }],
  ["2026-10-05T08:30:00-04:00", "day-first", { at: morning + 4 * 3_600_000 }],
  ["2026-10-05T08:30+0530", "day-first", { at: morning - 5.5 * 3_600_000 }],
  ["05.10.2026 08:30", "month-first", { wall: morning }],
  ["05.10.26 08:30", "day-first", { wall: morning }],
  ["05/10/2026 08:30", "day-first", { wall: morning }],
  ["10/05/2026 08:30", "month-first", { wall: morning }],
  ["10/05/26 8:30:00 AM", "month-first", { wall: morning }],
  ["10/05/2026 8:30 p.m.", "month-first", { wall: morning + 12 * 3_600_000 }],
  ["10/05/2026 12:30 AM", "month-first", { wall: morning - 8 * 3_600_000 }],
  ["10/05/2026 12:30 PM", "month-first", { wall: morning + 4 * 3_600_000 }],
  ["2026-10-04 24:00", "day-first", { wall: Date.UTC(2026, 9, 5) }],
  ["2026-10-05", "day-first", { wall: Date.UTC(2026, 9, 5) }],
  // Source: POSIX time of 2001-09-09T01:46:40Z
  ["1000000000", "day-first", { at: Date.UTC(2001, 8, 9, 1, 46, 40) }],
  ["1000000000000", "day-first", { at: Date.UTC(2001, 8, 9, 1, 46, 40) }],
  ["2026-02-30 08:30", "day-first", undefined],
  ["31/04/2026 08:30", "day-first", undefined],
  ["10/25/2026 08:30", "day-first", undefined],
  ["2026-10-05 25:00", "day-first", undefined],
  ["2026-10-05 08:61", "day-first", undefined],
  ["10/05/2026 13:30 PM", "month-first", undefined],
  ["soon", "day-first", undefined],
  ["12345", "day-first", undefined],
] as const)("%j, %s, is %j", (cell, order, moment) => {
  expect(readMoment(cell, order as DateOrder)).toEqual(moment);
});

// From memory: words of common logger software in these languages.
test.each([
  ["Temperature (°C)", "temperature", "celsius"],
  ["Temp, °F", "temperature", "fahrenheit"],
  ["Temperatur[C]", "temperature", "celsius"],
  ["Température °C", "temperature", "celsius"],
  ["Lämpötila", "temperature", undefined],
  ["°C", "temperature", "celsius"],
  ["RH, %", "humidity", undefined],
  ["R.H.", "humidity", undefined],
  ["Humidité relative", "humidity", undefined],
  ["rel. Luftfeuchte [%]", "humidity", undefined],
  ["Umidità", "humidity", undefined],
  ["Luftfuktighet", "humidity", undefined],
  ["rel. hum.", "humidity", undefined],
  ["Dew Point (°C)", "other", "celsius"],
  ["Taupunkt", "other", undefined],
  ["Battery %", "other", undefined],
  ["Note", undefined, undefined],
])("the header %j is %s in %s", (header, measured, unit) => {
  expect(measuredBy(header)).toBe(measured);
  expect(unitIn(header)).toBe(unit);
});

test.each([
  ["Date Time, GMT-04:00", -240],
  ["Time (UTC+5:30)", 330],
  ["Timestamp UTC", 0],
  ["Date", undefined],
])("the clock of %j stands at %s min", (header, minutes) => {
  expect(offsetIn(header)).toBe(minutes);
});

const plain = lines(
  "Logger 7;serial 0042",
  "Interval;10 min",
  "",
  "Zeit;Temperatur °C;Feuchte %rF;Taupunkt °C",
  "26.10.2026 08:00;19,5;48,2;8,3",
  "26.10.2026 08:10;19,4;48,0;8,2",
);

describe("a proposal", () => {
  test("finds separator, header, columns, decimal comma and unit below a preamble, and asks only where the clock stood", () => {
    const { answers, questions, columns, dataRows } = proposed(`\uFEFF${plain}`);
    expect(answers).toEqual({
      delimiter: ";",
      firstDataLine: 5,
      timeColumn: 0,
      temperatureColumn: 1,
      humidityColumn: 2,
      temperatureDecimal: "comma",
      humidityDecimal: "comma",
      unit: "celsius",
      dateOrder: "day-first",
      clock: { zone: newYork },
    });
    expect(questions).toEqual([
      { about: "clock", choices: [{ zone: newYork }, { offsetMin: 0 }], suggested: { zone: newYork } },
    ]);
    expect(columns.map((column) => column.header)).toEqual(["Zeit", "Temperatur °C", "Feuchte %rF", "Taupunkt °C"]);
    expect(dataRows).toBe(2);
  });
  test("asks nothing of a file that says everything", () => {
    expect(asked(lines("time,temp C,RH", "2026-10-26T08:00:00-04:00,19.5,48", "1793016600,19.4,48"))).toEqual([]);
  });
  test("asks nothing about the clock when the header names it", () => {
    const text = lines(
      '"#","Date Time, GMT-04:00","Temp, °C","RH, %"',
      '1,"10/26/26 08:00:00 AM","19.5","48.2"',
      '2,"10/26/26 08:10:00 AM","19.4","48.2"',
    );
    expect(asked(text)).toEqual([]);
    expect(readings(text).fromAt).toBe(Date.parse("2026-10-26T12:00Z"));
  });
  test("joins a date and a time of day from two columns", () => {
    const text = lines("Date\tTime\tTemp °C\tHum %", "2026-10-26\t08:00\t19.5\t48", "2026-10-26\t08:10\t19.4\t48");
    expect(readings(text).toAt).toBe(Date.parse("2026-10-26T12:10Z"));
  });
  test("asks which is the day when no date tells, and suggests the order that keeps the file together", () => {
    const text = lines("Time,Temp C,RH", "11/01/2026 08:00,19,48", "11/02/2026 08:00,19,48", "11/03/2026 08:00,19,48");
    const question = proposed(text).questions.find(({ about }) => about === "dateOrder");
    expect(question).toMatchObject({ choices: ["day-first", "month-first"], suggested: "month-first" });
  });
  test("suggests no order for a single day", () => {
    const { questions, answers } = proposed(
      lines("Time,Temp C,RH", "03/04/2026 08:00,19,48", "03/04/2026 08:10,19,48"),
    );
    expect(questions.find(({ about }) => about === "dateOrder")).not.toHaveProperty("suggested");
    expect(answers).not.toHaveProperty("dateOrder");
  });
  test("knows the order from one date that can be read one way only", () => {
    const text = (last: string) => lines("Time,Temp C,RH", "11/10/2026 08:00,19,48", `${last} 08:00,19,48`);
    expect(proposed(text("13/10/2026")).answers.dateOrder).toBe("day-first");
    expect(proposed(text("11/13/2026")).answers.dateOrder).toBe("month-first");
    expect(asked(text("13/10/2026"))).toEqual(["clock"]);
  });
  test("asks for the unit when the numbers could be either, but not when they are too hot for °C", () => {
    const text = (temp: number) =>
      lines("Time,Temp,RH", `2026-10-26T08:00Z,${temp},48`, `2026-10-26T08:10Z,${temp},48`);
    expect(proposed(text(19)).questions).toMatchObject([{ about: "unit", suggested: "celsius" }]);
    expect(proposed(text(50)).questions).toMatchObject([{ about: "unit", suggested: "fahrenheit" }]);
    expect(asked(text(66))).toEqual([]);
    expect(readings(text(68)).rows[0]?.airCelsius).toBe(20);
  });
  test("asks about the decimal mark when one column has both", () => {
    const text = lines("Time;Temp C;RH", "2026-10-26T08:00Z;19,5;48", "2026-10-26T08:10Z;19.4;48");
    expect(proposed(text).questions).toMatchObject([{ about: "temperatureDecimal", examples: ["19.4", "19,5"] }]);
  });
  test("asks which column is which when nothing stands over them, and suggests by the numbers", () => {
    const { questions } = proposed(lines("2026-10-26T08:00Z,48,19.5", "2026-10-26T08:10Z,48,19.4"));
    expect(questions).toMatchObject([
      { about: "temperatureColumn", choices: [1, 2], suggested: 2 },
      { about: "humidityColumn", choices: [1, 2], suggested: 1 },
      { about: "unit" },
    ]);
  });
  test("does not ask again what was answered, and looks at the column that was chosen", () => {
    const text = lines(
      "Time,Temp in °C,Temp out °F,RH",
      "2026-10-26T08:00Z,19.5,40.1,48",
      "2026-10-26T08:10Z,19.5,40.1,48",
    );
    expect(asked(text)).toEqual(["temperatureColumn"]);
    expect(proposed(text, { temperatureColumn: 2 })).toMatchObject({ questions: [], answers: { unit: "fahrenheit" } });
  });

  test.each([
    ["an empty file", "", { kind: "import-empty" }],
    ["a letter", "Dear shop,\nthe logger broke.", { kind: "import-empty" }],
    [
      "a file without humidity",
      lines("Time,Temp C", "2026-10-26T08:00Z,19.5"),
      { kind: "malformed", field: "humidity" },
    ],
  ])("is not made for %s", (_, text, refusal) => {
    expect(proposeLogger(text, newYork)).toMatchObject({ ok: false, refusal });
  });
});

describe("readings", () => {
  test("come in order of time, to a tenth, in °C", () => {
    const text = lines("Time,Temp °F,RH", "2026-10-26T08:10Z,66.44,48.26", "2026-10-26T08:00Z,-40,48");
    // by the definition of the scale: (66.44 − 32) × 5 / 9 = 19.13; −40 °F is −40 °C
    expect(readings(text).rows).toEqual([
      { at: Date.parse("2026-10-26T08:00Z"), airCelsius: -40, humidityPercent: 48 },
      { at: Date.parse("2026-10-26T08:10Z"), airCelsius: 19.1, humidityPercent: 48.3 },
    ]);
  });
  test("leave out rows that cannot be used and list each with its line and what was found", () => {
    const text = lines(
      "Time,Temp °C,RH",
      "2026-10-26T08:00Z,19.5,48",
      "2026-10-26T08:10Z,190,48",
      "2026-10-26T08:20Z,19.5,0",
      "2026-10-26T08:30Z,--,48",
      "2026-10-26T08:40Z,19.5,",
      "2026-10-66T08:50Z,19.5,48",
      "end of file",
      "2026-10-26T08:00Z,19.6,48",
      "2026-10-26T08:00Z,19.5,48",
    );
    const found = readings(text);
    expect(found.rows).toHaveLength(1);
    expect(found.duplicatesDropped).toBe(1);
    expect(found.duplicateLines).toEqual([10]);
    expect(found.badRowCount).toBe(7);
    expect(found.badRows).toEqual([
      { line: 3, found: "190", why: "out-of-bounds", field: "airCelsius", min: -40, max: 60, unit: "°C" },
      { line: 4, found: "0", why: "out-of-bounds", field: "humidityPercent", min: 1, max: 100, unit: "% RH" },
      { line: 5, found: "--", why: "no-temperature" },
      { line: 6, found: "", why: "no-humidity" },
      { line: 7, found: "2026-10-66T08:50Z", why: "no-time" },
      { line: 8, found: "end of file", why: "no-time" },
      { line: 9, found: "19.6 °C 48 %", why: "differs-at-same-time", keptLine: 2 },
    ]);
  });
  test("out of order are put where they belong, each named by its line; newest first is an order", () => {
    const at = ["08:00", "08:20", "08:10", "08:30", "07:50", "08:40"];
    const rows = at.map((clock) => `2026-10-26T${clock}Z,19.5,48`);
    const mixed = readings(lines("Time,Temp °C,RH", ...rows));
    expect(mixed).toMatchObject({ outOfOrderRows: 2, outOfOrderLines: [4, 6] });
    expect(mixed.rows.map((row) => new Date(row.at).toISOString().slice(11, 16))).toEqual([...at].sort());
    const newestFirst = readings(lines("Time,Temp °C,RH", ...[...rows].sort().reverse()));
    expect(newestFirst).toMatchObject({ outOfOrderRows: 0, outOfOrderLines: [], badRowCount: 0 });
  });
  test("survive marks that nobody can see, and quotes and lines without end", () => {
    const text = lines(
      "\uFEFFTime,Temp \u200E°C,RH",
      "2026-10-26T08:00Z,\u202E19.5\u0000,48",
      `"${"x".repeat(2_000_000)}`,
      `2026-10-26T08:10Z,19.5${" ".repeat(100_000)}x,48`,
      ",".repeat(2_000_000),
      "2026-10-26T08:20Z,19.4,48",
    );
    const found = readings(text);
    expect(found.rows.map((row) => row.airCelsius)).toEqual([19.5, 19.4]);
    expect(found.toAt).toBe(Date.parse("2026-10-26T08:20Z"));
    expect(found.badRows.map((row) => row.why)).toEqual(["no-time", "no-temperature", "no-time"]);
    expect(found.badRows.every((row) => row.found.length <= 64)).toBe(true);
  });
  test("are refused over 200,000 rows, with their number", () => {
    const text = `Time,Temp °C,RH\n${"1793016000,19.5,48\n".repeat(200_001)}`;
    const refusal = { kind: "out-of-bounds", field: "rows", found: 200_001, min: 1, max: 200_000, unit: "rows" };
    expect(proposeLogger(text, newYork)).toEqual({ ok: false, refusal });
    const { answers } = proposed(text.slice(0, 100));
    expect(readLogger(text, { dateOrder: "day-first", ...answers })).toEqual({ ok: false, refusal });
  }, 60_000);
});

// Source: IANA time zone data, New York 2026: back at 06:00Z on 1 November, forward at 07:00Z on 8 March.
describe("the night that repeats an hour", () => {
  const file = (day: string, ...times: string[]) =>
    lines("Time,Temp °C,RH", ...times.map((time, index) => `${day} ${time},${10 + index},48`));
  const instants = (text: string) => readings(text).rows.map((row) => new Date(row.at).toISOString().slice(11, 16));

  test("is read in two passes by the order of the rows", () => {
    const text = file("2026-11-01", "00:30", "01:00", "01:30", "01:00", "01:30", "02:00");
    expect(instants(text)).toEqual(["04:30", "05:00", "05:30", "06:00", "06:30", "07:00"]);
    expect(readings(text)).toMatchObject({ settledByOrder: 4, takenForFirst: 0 });
  });
  test("is read in two passes from a file that has the newest first", () => {
    const text = file("2026-11-01", "02:00", "01:30", "01:00", "01:30", "01:00", "00:30");
    expect(readings(text).rows.map((row) => row.airCelsius)).toEqual([15, 14, 13, 12, 11, 10]);
    expect(instants(text)).toEqual(["04:30", "05:00", "05:30", "06:00", "06:30", "07:00"]);
  });
  test("is read in two passes by a repetition when there is one reading an hour", () => {
    expect(instants(file("2026-11-01", "00:30", "01:30", "01:30", "02:30"))).toEqual([
      "04:30",
      "05:30",
      "06:30",
      "07:30",
    ]);
  });
  test("is taken for the first pass, and said to be, when the file has it once", () => {
    const text = file("2026-11-01", "00:30", "01:00", "01:30", "02:00");
    expect(instants(text)).toEqual(["04:30", "05:00", "05:30", "07:00"]);
    expect(readings(text)).toMatchObject({ settledByOrder: 0, takenForFirst: 2 });
  });
  test("is no question for a logger that keeps one offset all year", () => {
    const text = file("2026-11-01", "00:30", "01:30", "02:30");
    expect(readings(text, { clock: { offsetMin: -240 } })).toMatchObject({
      takenForFirst: 0,
      toAt: Date.parse("2026-11-01T06:30Z"),
    });
  });
  test("in spring, rows in the missing hour are read an hour on and counted", () => {
    const text = file("2026-03-08", "01:30", "02:30");
    expect(instants(text)).toEqual(["06:30", "07:30"]);
    expect(readings(text)).toMatchObject({ skippedHourRows: 1, skippedHourLines: [3] });
  });
});

// A file written in any style reads back to the same rows: the writer below shares nothing with the reader.
describe("a file in any style", () => {
  type Row = { at: number; tenthsCelsius: number; tenthsPercent: number };
  const someRows: fc.Arbitrary<Row[]> = fc
    .array(
      fc.record({
        step: fc.integer({ min: 1, max: 600 }),
        tenthsCelsius: fc.integer({ min: -400, max: 600 }),
        tenthsPercent: fc.integer({ min: 10, max: 1000 }),
      }),
      { minLength: 1, maxLength: 40 },
    )
    .map((list) => {
      let at = Date.UTC(2026, 5, 13, 6);
      return list.map(({ step, ...row }) => {
        at += step * 60_000;
        return { ...row, at };
      });
    });
  const two = (value: number) => String(value).padStart(2, "0");
  const clock = (date: Date) => `${two(date.getUTCHours())}:${two(date.getUTCMinutes())}`;
  const dateStyles = {
    iso: (date: Date) => date.toISOString(),
    epoch: (date: Date) => String(date.getTime() / 1000),
    pointed: (date: Date) =>
      `${two(date.getUTCDate())}.${two(date.getUTCMonth() + 1)}.${date.getUTCFullYear()} ${clock(date)}`,
    american: (date: Date) =>
      `${date.getUTCMonth() + 1}/${date.getUTCDate()}/${date.getUTCFullYear()} ${date.getUTCHours() % 12 || 12}:${two(date.getUTCMinutes())} ${date.getUTCHours() < 12 ? "AM" : "PM"}`,
    european: (date: Date) =>
      `${two(date.getUTCDate())}/${two(date.getUTCMonth() + 1)}/${date.getUTCFullYear()} ${clock(date)}`,
  };
  const style = fc.record({
    delimiter: fc.constantFrom<Delimiter>(",", ";", "\t"),
    mark: fc.constantFrom(".", ","),
    date: fc.constantFrom(...(Object.keys(dateStyles) as (keyof typeof dateStyles)[])),
    isQuoted: fc.boolean(),
    lineEnd: fc.constantFrom("\n", "\r\n", "\r"),
    hasPreamble: fc.boolean(),
    isNewestFirst: fc.boolean(),
  });

  test("reads back to the same rows", () => {
    fc.assert(
      fc.property(someRows, style, (rows, { delimiter, mark, date, isQuoted, lineEnd, hasPreamble, isNewestFirst }) => {
        const quote = (cell: string) => (isQuoted || cell.includes(delimiter) ? `"${cell}"` : cell);
        const decimal = (tenths: number) => (tenths / 10).toFixed(1).replace(".", mark);
        const written = rows.map((row) =>
          [dateStyles[date](new Date(row.at)), decimal(row.tenthsCelsius), decimal(row.tenthsPercent)]
            .map(quote)
            .join(delimiter),
        );
        if (isNewestFirst) written.reverse();
        const header = ["Time", "Temperature °C", "Humidity %"].map(quote).join(delimiter);
        const text = [...(hasPreamble ? ["Logger export", "Room: loft"] : []), header, ...written, ""].join(lineEnd);
        const dateOrder: DateOrder = date === "american" ? "month-first" : "day-first";
        const found = readings(text, { clock: { offsetMin: 0 }, dateOrder });
        expect(found.badRows).toEqual([]);
        expect(found.rows).toEqual(
          rows.map((row) => ({
            at: row.at,
            airCelsius: row.tenthsCelsius / 10 + 0,
            humidityPercent: row.tenthsPercent / 10,
          })),
        );
      }),
      { numRuns: 300 },
    );
  });

  test("never makes the reader throw, whatever is in it", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom(...'0123456789.,;:-/\t\n\r" TZaPM°%C'), maxLength: 300 }),
        (text) => {
          const result = proposeLogger(text, newYork);
          if (result.ok) readLogger(text, { dateOrder: "day-first", ...result.value.answers });
          expect(typeof result.ok).toBe("boolean");
        },
      ),
      { numRuns: 500 },
    );
  });
});
