import { expect, test } from "vitest";
import { weekFrom } from "~/core/calendar";
import { weekReport } from "~/core/labour/week";
import type { TimeEntry } from "~/core/shop/tables";
import { hourMs, minuteMs } from "~/core/units";
import { thingsToSettle } from "~/ui/week/to-settle";
import {
  clockChangeWords,
  labourByPerson,
  labourByPiece,
  labourCells,
  stageSums,
  type WeekAnswer,
} from "~/ui/week/week-shown";
import { fern, hanna, id, monday8 } from "../../core/support/people";
import { anEntry } from "../../core/support/pieces";

const zone = "America/New_York";
const week = weekFrom("2026-10-26", zone);
const [k201, k203] = [id(201), id(203)];
const pieces = [
  { id: k201, number: "K-201", name: "dresser" },
  { id: k203, number: "K-203", name: "table" },
];

const answer = (entries: TimeEntry[], now: number): WeekAnswer => ({
  week,
  seesAll: true,
  entries,
  pieces,
  report: weekReport({ week, entries, claims: [], pieces }, now),
});

const entry = (number: number, fromAt: number, seconds: number, row: Partial<TimeEntry> = {}): TimeEntry =>
  anEntry({ id: id(number), startedAt: fromAt, endedAt: fromAt + seconds * 1000, ...row });

/** Stretches that end between minutes, as timers do. */
const ragged = [
  entry(301, monday8, 3 * 3600 + 31, { memberId: fern, subjects: [{ pieceId: k201, stage: "prep" }] }),
  entry(302, monday8 + 4 * hourMs, 1800 + 31, { memberId: fern, subjects: [{ pieceId: k201, stage: "finish" }] }),
  entry(303, monday8, 2 * 3600 + 47, {
    memberId: hanna,
    splitRule: "equal",
    subjects: [
      { pieceId: k201, stage: "prep" },
      { pieceId: k203, stage: "repair" },
    ],
  }),
  entry(304, monday8 + 6 * hourMs, 1000, { memberId: hanna, subjects: [], workKind: "clean-up" }),
];

test("pieces, people, stages and the week show the same hours, although every stretch ends between minutes", () => {
  const cells = labourCells(answer(ragged, week.toAt).report);
  const sum = (rows: readonly { minutes: number }[]) => rows.reduce((total, { minutes }) => total + minutes, 0);
  // by hand: 10831 + 1831 + 7247 + 1000 = 20909 s, 348.48 min
  expect(sum(labourByPiece(cells))).toBe(348);
  expect(sum(labourByPerson(cells))).toBe(348);
  expect([...stageSums(cells).values()].reduce((total, minutes) => total + minutes, 0)).toBe(348);
  for (const row of labourByPiece(cells)) {
    expect(sum(row.parts)).toBe(row.minutes);
    expect(sum(row.members)).toBe(row.minutes);
  }
  for (const person of labourByPerson(cells)) expect(sum(person.rows)).toBe(person.minutes);
});

test("the first row is a piece, and work without a piece comes last as the shop's", () => {
  const rows = labourByPiece(labourCells(answer(ragged, week.toAt).report));
  expect(rows.map((row) => row.pieceId)).toEqual([k201, k203, undefined]);
  expect(rows.at(-1)?.parts.map(({ stage }) => stage)).toEqual(["shop"]);
  expect(rows[0]?.parts.map(({ stage }) => stage)).toEqual(["prep", "finish"]);
});

test("every figure opens to the entries that it is the sum of", () => {
  const rows = labourByPiece(labourCells(answer(ragged, week.toAt).report));
  expect(rows[0]?.cells.flatMap((cell) => cell.entryIds).sort()).toEqual([id(301), id(302), id(303)]);
});

// 2026-11-01 is the Sunday on which New York's clocks go back (IANA time zone data)
test.each([
  { startsOn: "2026-10-26", words: "169 hours: the clocks go back in it" },
  { startsOn: "2026-03-02", words: "167 hours: the clocks go forward in it" },
  { startsOn: "2026-10-19", words: undefined },
])("the week of $startsOn says “$words” about its length", ({ startsOn, words }) => {
  expect(clockChangeWords(weekFrom(startsOn, zone))).toBe(words);
});

test("a timer left running overnight is asked about first; one that just runs is only listed", () => {
  const now = monday8 + 13 * hourMs;
  const running = (number: number, startedAt: number, memberId: string) =>
    anEntry({ id: id(number), memberId, startedAt, endedAt: undefined, source: "timer" });
  const rows = thingsToSettle(
    answer([running(311, now - 20 * minuteMs, hanna), running(312, monday8 + hourMs, fern)], now),
    now,
    zone,
  );
  expect(rows.map(({ sort, memberId }) => [sort, memberId])).toEqual([
    ["forgotten", fern],
    ["running", hanna],
  ]);
});

test("two entries over each other are one thing to settle, with both of them in hand", () => {
  const entries = [
    entry(321, monday8, 7200, { memberId: fern }),
    entry(322, monday8 + hourMs, 7200, { memberId: fern }),
  ];
  const [row, ...others] = thingsToSettle(answer(entries, week.toAt), week.toAt, zone);
  expect(others).toEqual([]);
  expect(row).toMatchObject({ sort: "overlap", entryIds: [id(321), id(322)] });
  expect(row?.found).toContain("1 h twice");
});

test("hours that wait for a word are listed with the reason and are in no total", () => {
  const late = entry(331, monday8, 3600, { memberId: fern, needsWord: "after-the-end" });
  const shown = answer([late], week.toAt);
  expect(labourCells(shown.report)).toEqual([]);
  const [row] = thingsToSettle(shown, week.toAt, zone);
  expect(row?.sort).toBe("needs-word");
  expect(row?.found).toContain("after the membership ended");
});

test("eleven hours in one go are counted, and worth a look", () => {
  const shown = answer([entry(341, monday8, 11 * 3600, { memberId: fern })], week.toAt);
  expect(thingsToSettle(shown, week.toAt, zone).map(({ sort }) => sort)).toEqual(["long-run"]);
});
