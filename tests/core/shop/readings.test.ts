import { expect, test } from "vitest";
import { importReadings } from "~/core/shop/intents/readings";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  alreadySo,
  aReading,
  aRoom,
  bruno,
  envelopeOf,
  fern,
  hanna,
  id,
  loft,
  monday8,
  refusalOf,
  rule,
  shopWith,
  silas,
} from "../support/shop";

const reading = { readingId: id(401), roomId: loft, at: monday8 - hourMs, airCelsius: 19.5, humidityPercent: 52 };

test("whoever works on the floor writes down what a thermometer shows", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("record-reading", { ...reading, surfaceCelsius: 18.2 }, hanna));
  const { readingId, ...fields } = reading;
  expect(facts.get("reading", readingId)).toEqual({ id: readingId, ...fields, surfaceCelsius: 18.2, source: "hand" });
});

test("the bookkeeper reads no thermometers, and there is none in a room that we do not have", () => {
  expect(refusalOf(rule(shopWith(), envelopeOf("record-reading", reading, bruno)))).toMatchObject({ kind: "may-not" });
  const elsewhere = { ...reading, roomId: id(99) };
  expect(refusalOf(rule(shopWith(), envelopeOf("record-reading", elsewhere, fern)))).toEqual({
    kind: "unknown-thing",
    field: "roomId",
  });
});

test("the same reading twice is one reading; another value at the same time is shown the first", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("record-reading", reading, hanna));
  expect(rule(facts, envelopeOf("record-reading", { ...reading, readingId: id(402) }, silas))).toEqual(alreadySo);
  const other = rule(facts, envelopeOf("record-reading", { ...reading, readingId: id(403), airCelsius: 21 }, silas));
  expect(refusalOf(other)).toEqual({
    kind: "reading-differs",
    roomId: loft,
    at: reading.at,
    airCelsius: 19.5,
    humidityPercent: 52,
  });
});

test("a sensor and a hand may differ at the same moment, and a retracted reading stands in nobody's way", () => {
  const facts = shopWith({
    reading: [aReading({ id: id(400), at: reading.at, airCelsius: 5, retractedAt: monday8 - 1 })],
  });
  expect(rule(facts, envelopeOf("record-reading", reading, hanna)).events).toHaveLength(1);
  const sensor = { ...reading, readingId: id(402), airCelsius: 20.1, source: "logger" };
  expect(rule(facts, envelopeOf("record-reading", sensor, hanna)).events).toHaveLength(1);
});

test("a helper writes a reading down for two days, partners for thirty", () => {
  const older = { ...reading, at: monday8 - 48 * hourMs - 1 };
  expect(refusalOf(rule(shopWith(), envelopeOf("record-reading", older, hanna)))).toEqual({
    kind: "too-far-back",
    happenedAt: older.at,
    oldestAt: monday8 - 48 * hourMs,
    role: "helper",
    mayAsk: ["owner", "partner"],
  });
  expect(rule(shopWith(), envelopeOf("record-reading", { ...older, at: older.at + 1 }, hanna)).verdict).toBe(
    "accepted",
  );
  expect(rule(shopWith(), envelopeOf("record-reading", older, silas)).verdict).toBe("accepted");
  const oldest = { ...reading, at: monday8 - 30 * dayMs - 1 };
  expect(refusalOf(rule(shopWith(), envelopeOf("record-reading", oldest, fern)))).toMatchObject({
    kind: "too-far-back",
    mayAsk: [],
  });
});

test("a thermometer is not read in the future; a clock that runs a minute ahead is set back", () => {
  const future = { ...reading, at: monday8 + 2 * minuteMs + 1 };
  expect(refusalOf(rule(shopWith(), envelopeOf("record-reading", future, fern)))).toEqual({
    kind: "in-the-future",
    happenedAt: future.at,
    latestAt: monday8,
  });
  const facts = shopWith();
  rule(facts, envelopeOf("record-reading", { ...reading, at: monday8 + minuteMs }, fern));
  expect(facts.get("reading", id(401))?.at).toBe(monday8);
});

test("a minimum-maximum thermometer speaks for a week at most, and for a time before it was read", () => {
  const facts = shopWith();
  const span = (spanFromAt: number) => envelopeOf("record-reading", { ...reading, spanFromAt }, hanna);
  expect(refusalOf(rule(facts, span(reading.at)))).toEqual({
    kind: "ends-before-start",
    startedAt: reading.at,
    endedAt: reading.at,
  });
  const weekBefore = reading.at - 7 * dayMs;
  expect(refusalOf(rule(facts, span(weekBefore - 1)))).toEqual({
    kind: "out-of-bounds",
    field: "spanFromAt",
    found: weekBefore - 1,
    min: weekBefore,
    max: reading.at,
  });
  expect(rule(facts, span(weekBefore)).verdict).toBe("accepted");
});

test("a room that was closed is not read after that", () => {
  const facts = shopWith({ room: [aRoom({ id: loft, closedAt: reading.at })] });
  expect(refusalOf(rule(facts, envelopeOf("record-reading", reading, fern)))).toEqual({
    kind: "after-it-left",
    thing: "Loft",
    happenedAt: reading.at,
    leftAt: reading.at,
  });
});

test("air of 61 °C and of half a percent is no reading", () => {
  const hot = rule(shopWith(), envelopeOf("record-reading", { ...reading, airCelsius: 61 }, fern));
  expect(refusalOf(hot)).toEqual({
    kind: "out-of-bounds",
    field: "air temperature",
    found: 61,
    min: -40,
    max: 60,
    unit: "°C",
  });
  const dry = rule(shopWith(), envelopeOf("record-reading", { ...reading, humidityPercent: 0.5 }, fern));
  expect(refusalOf(dry)).toMatchObject({ kind: "out-of-bounds", field: "relative humidity", found: 0.5, min: 1 });
});

test("a partner takes a wrong reading back with a reason, once; a helper asks one to", () => {
  const facts = shopWith({ reading: [aReading({ id: id(401) })] });
  const body = { readingId: id(401), why: "The sensor lay in the sun" };
  expect(refusalOf(rule(facts, envelopeOf("retract-reading", body, hanna)))).toMatchObject({
    kind: "may-not",
    role: "helper",
  });
  rule(facts, envelopeOf("retract-reading", body, silas));
  expect(facts.get("reading", id(401))).toMatchObject({ retractedAt: monday8, retractedWhy: body.why });
  expect(rule(facts, envelopeOf("retract-reading", body, fern))).toEqual(alreadySo);
  expect(refusalOf(rule(facts, envelopeOf("retract-reading", { ...body, readingId: id(99) }, fern)))).toEqual({
    kind: "unknown-thing",
    field: "readingId",
  });
});

const file = {
  roomId: loft,
  at: [monday8 - 30 * minuteMs, monday8 - 20 * minuteMs, monday8 - 10 * minuteMs],
  airTenths: [195, 197, 201],
  humidityTenths: [520, 515, 508],
};
const importId = id(0x1_0000_0000);
const importing = (body: unknown, by = silas, intentId = importId) =>
  envelopeOf("import-readings", body, by, { intentId });

test("a logger's file becomes readings of its room, all of one import", () => {
  const facts = shopWith();
  const ruling = rule(facts, importing(file));
  expect(ruling.events.map((event) => event.kind)).toEqual(["readings-imported"]);
  const rows = facts.where("reading", "importId", importId);
  expect(rows.map(({ id: _, ...fields }) => fields)).toEqual([
    { roomId: loft, at: file.at[0], airCelsius: 19.5, humidityPercent: 52, source: "import", importId },
    { roomId: loft, at: file.at[1], airCelsius: 19.7, humidityPercent: 51.5, source: "import", importId },
    { roomId: loft, at: file.at[2], airCelsius: 20.1, humidityPercent: 50.8, source: "import", importId },
  ]);
});

test("rows that an earlier file brought are dropped; a file that brings nothing new is refused with their count", () => {
  const facts = shopWith();
  rule(facts, importing(file));
  const longer = {
    ...file,
    at: [...file.at, monday8],
    airTenths: [...file.airTenths, 203],
    humidityTenths: [1, 2, 3, 50].map((tens) => tens * 10),
  };
  const second = rule(facts, importing(longer, silas, id(0x2_0000_0000)));
  expect(second.events[0]?.changes).toEqual([
    {
      table: "reading",
      importId: id(0x2_0000_0000),
      roomId: loft,
      at: [monday8],
      airTenths: [203],
      humidityTenths: [500],
    },
  ]);
  expect(refusalOf(rule(facts, importing(file, silas, id(0x3_0000_0000))))).toEqual({
    kind: "import-empty",
    badRows: 3,
  });
});

test("readings by hand do not stand in the way of a logger's", () => {
  const facts = shopWith({ reading: [aReading({ id: id(401), at: file.at[0] as number })] });
  rule(facts, importing(file));
  expect(facts.where("reading", "importId", importId)).toHaveLength(3);
});

test.each([
  ["columns of different length", { airTenths: [195, 197] }, { kind: "malformed", field: "airTenths" }],
  ["humidity of different length", { humidityTenths: [520] }, { kind: "malformed", field: "humidityTenths" }],
  ["rows out of their order", { at: [...file.at].reverse() }, { kind: "malformed", field: "at" }],
  ["a row of 60.1 °C", { airTenths: [195, 601, 201] }, { kind: "out-of-bounds", found: 601, max: 600 }],
  ["a row of half a percent", { humidityTenths: [5, 515, 508] }, { kind: "out-of-bounds", found: 5, min: 10 }],
  ["no row", { at: [], airTenths: [], humidityTenths: [] }, { kind: "malformed", field: "at" }],
  ["a room that we do not have", { roomId: id(99) }, { kind: "unknown-thing", field: "roomId" }],
])("a file with %s is refused whole", (_, part, expected) => {
  const facts = shopWith();
  expect(refusalOf(rule(facts, importing({ ...file, ...part })))).toMatchObject(expected);
  expect(facts.all("reading")).toEqual([]);
});

test("a file reaches 400 days back and not into the future, and only partners bring one", () => {
  const old = { ...file, at: [monday8 - 400 * dayMs - 1, file.at[1], file.at[2]] };
  expect(refusalOf(rule(shopWith(), importing(old)))).toEqual({
    kind: "too-far-back",
    happenedAt: old.at[0],
    oldestAt: monday8 - 400 * dayMs,
    role: "partner",
    mayAsk: [],
  });
  const ahead = { ...file, at: [file.at[0], file.at[1], monday8 + hourMs] };
  expect(refusalOf(rule(shopWith(), importing(ahead)))).toEqual({
    kind: "in-the-future",
    happenedAt: monday8 + hourMs,
    latestAt: monday8,
  });
  expect(refusalOf(rule(shopWith(), importing(file, hanna)))).toMatchObject({ kind: "may-not", role: "helper" });
});

const rowsEveryMinute = (rows: number) => {
  const at = Array.from({ length: rows }, (_, row) => monday8 - (rows - row) * minuteMs);
  return { roomId: loft, at, airTenths: at.map(() => 200), humidityTenths: at.map(() => 500) };
};

test("two weeks of readings every minute are one import", () => {
  const facts = shopWith();
  expect(rule(facts, importing(rowsEveryMinute(14 * 24 * 60))).verdict).toBe("accepted");
  expect(facts.where("reading", "importId", importId)).toHaveLength(20_160);
});

test("an import holds two hundred thousand rows and not one more", () => {
  expect(importReadings.body.safeParse(rowsEveryMinute(200_000)).success).toBe(true);
  expect(refusalOf(rule(shopWith(), importing(rowsEveryMinute(200_001))))).toMatchObject({
    kind: "malformed",
    field: "at",
  });
});

test("an import is taken back whole, once, and can then be brought again", () => {
  const facts = shopWith();
  rule(facts, importing(file));
  const body = { importId, why: "Wrong room" };
  rule(facts, envelopeOf("retract-import", body, fern));
  const rows = facts.where("reading", "importId", importId);
  expect(rows.map((row) => row.retractedAt)).toEqual([monday8, monday8, monday8]);
  expect(rows.map((row) => row.retractedWhy)).toEqual(["Wrong room", "Wrong room", "Wrong room"]);
  expect(rule(facts, envelopeOf("retract-import", body, fern))).toEqual(alreadySo);
  expect(rule(facts, importing(file, silas, id(0x2_0000_0000))).events).toHaveLength(1);
  expect(refusalOf(rule(facts, envelopeOf("retract-import", { ...body, importId: id(99) }, fern)))).toEqual({
    kind: "unknown-thing",
    field: "importId",
  });
});
