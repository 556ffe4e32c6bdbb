import { describe, expect, test } from "vitest";
import { proposeLogger } from "~/core/climate/logger-csv/propose";
import { readLogger } from "~/core/climate/logger-csv/read";
import { definitionOf } from "~/core/shop/intents";
import { clockDoubtWords } from "~/ui/rooms/clock-doubt-words";
import { importOf, textOf } from "~/ui/rooms/logger-file";
import { asked, badRowWords, linesWords } from "~/ui/rooms/logger-words";
import { id } from "../../core/support/people";

const zone = "America/New_York";

/** 3 and 4 can each be a day or a month, and nothing in the file says which. */
const undecided = [
  "Time,Temperature (°C),Humidity (%)",
  "03/04/2026 10:00,18.5,50.1",
  "03/04/2026 10:10,18.6,50",
  "03/04/2026 10:20,ERR,50",
  "03/04/2026 10:20,130,50",
].join("\n");

const bytes = (text: string) => new TextEncoder().encode(text);

test("a date that can be read two ways is asked about, with the file's own example beside the choices", () => {
  const proposal = proposeLogger(undecided, zone);
  if (!proposal.ok) throw new Error(proposal.refusal.kind);
  const { questions, columns } = proposal.value;
  const question = questions.map((found) => asked(found, columns)).find(({ about }) => about === "dateOrder");
  expect(question?.note).toContain("03/04/2026");
  expect(question?.choices.map(({ id: choice }) => choice)).toEqual(["day-first", "month-first"]);
  expect(question?.answerOf("month-first")).toEqual({ dateOrder: "month-first" });
});

test("every row that is left out says its line, what stood there and what is possible", () => {
  const proposal = proposeLogger(undecided, zone, { dateOrder: "month-first" });
  if (!proposal.ok) throw new Error(proposal.refusal.kind);
  const { dateOrder = "month-first", ...answers } = proposal.value.answers;
  const read = readLogger(undecided, { ...answers, dateOrder });
  if (!read.ok) throw new Error(read.refusal.kind);
  expect(read.value.badRows.map(badRowWords)).toEqual([
    "Line 4: “ERR” is no temperature.",
    "Line 5: “130” cannot be; possible is -40 to 60 °C.",
  ]);
  const body = importOf(id(11), read.value.rows);
  expect(body.airTenths).toEqual([185, 186]);
  expect(body.humidityTenths).toEqual([501, 500]);
  expect(definitionOf("import-readings")?.body.safeParse(body).success).toBe(true);
});

// byte sequences: U+00B0 is C2 B0 in UTF-8, B0 in windows-1252, B0 00 in UTF-16LE (Unicode 16, WHATWG Encoding Standard)
test.each([
  { name: "UTF-8", given: bytes("18 °C") },
  { name: "windows-1252", given: Uint8Array.from([0x31, 0x38, 0x20, 0xb0, 0x43]) },
  { name: "UTF-16", given: Uint8Array.from([0xff, 0xfe, 0x31, 0, 0x38, 0, 0x20, 0, 0xb0, 0, 0x43, 0]) },
])("a degree sign written in $name is a degree sign", ({ given }) => {
  expect(textOf(given)).toBe("18 °C");
});

test("rows are named by their lines, the first of them and how many more", () => {
  expect(linesWords([4], 1)).toBe("Line 4");
  expect(linesWords([4, 9, 12], 3)).toBe("Lines 4, 9 and 12");
  expect(linesWords([4, 9], 32)).toBe("Lines 4, 9 and 30 more");
});

describe("a logger's clock that does not seem right", () => {
  const compared = {
    why: "agrees-shifted",
    hoursCompared: 41,
    scatterCelsius: 4.31,
    scatterShiftedCelsius: 0.2,
  } as const;

  test.each([
    { shiftMin: 300, title: "This logger’s clock seems 5 h behind", set: "Set it on by 5 h" },
    { shiftMin: -60, title: "This logger’s clock seems 1 h ahead", set: "Set it back by 1 h" },
    { shiftMin: 1440, title: "This logger’s clock seems a day behind", set: "Set it on by a day" },
  ])(
    "by $shiftMin minutes is said so before anything is taken in, with the answer that sets it",
    ({ shiftMin, ...words }) => {
      const found = clockDoubtWords({ ...compared, shiftMin }, zone);
      expect(found).toMatchObject(words);
      expect(found.found).toMatch(/41 hours.*4\.3 °C.*0\.2 °C/);
    },
  );

  test("may be called right, and then the rows that are still to come stay out", () => {
    const lastAt = Date.UTC(2026, 9, 26, 18);
    const { found, keep } = clockDoubtWords({ why: "still-to-come", shiftMin: -180, rows: 9, lastAt }, zone);
    // 18:00 UTC is 14:00 in New York in October
    expect(found).toContain("14:00");
    expect(keep).toContain("9 rows");
  });

  test("is only asked about where there is nothing to hold it against", () => {
    const { title } = clockDoubtWords({ why: "warm-at-night", shiftMin: 720, warmestHour: 3.2 }, zone);
    expect(title).toBe("Is this logger’s clock 12 h off?");
  });
});
