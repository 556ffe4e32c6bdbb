import { expect, test } from "vitest";
import { proposeLogger } from "~/core/climate/logger-csv/propose";
import { readLogger } from "~/core/climate/logger-csv/read";
import { definitionOf } from "~/core/shop/intents";
import { importOf, textOf } from "~/ui/rooms/logger-file";
import { asked, badRowWords } from "~/ui/rooms/logger-words";
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
