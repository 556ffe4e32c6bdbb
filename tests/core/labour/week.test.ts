import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { weekFrom } from "~/core/calendar";
import { workedAreas } from "~/core/labour/split";
import { type WeekInput, weekReport } from "~/core/labour/week";
import { stages } from "~/core/shop/entities/pieces";
import { splitRules, workKinds } from "~/core/shop/entities/work";
import type { Row } from "~/core/shop/tables";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import { fern, hanna, id, monday8, silas } from "../support/people";
import { aClaim, anEntry, aSurface } from "../support/pieces";

const week = weekFrom("2026-10-26", "America/New_York");
const [k201, k203, k204, k207] = [id(201), id(203), id(204), id(207)];
const pieces = [
  { id: k201, number: "K-201" },
  { id: k203, number: "K-203" },
  { id: k204, number: "K-204" },
  { id: k207, number: "K-207" },
];
const report = (entries: Row<"entry">[], input: Partial<WeekInput> = {}, now = week.toAt) =>
  weekReport({ week, entries, claims: [], pieces, ...input }, now);
const entry = (number: number, fromHour: number, toHour: number, row: Partial<Row<"entry">> = {}) =>
  anEntry({ id: id(number), startedAt: monday8 + fromHour * hourMs, endedAt: monday8 + toHour * hourMs, ...row });

describe("the week of the night that repeats an hour", () => {
  const surfaces = [
    aSurface({ id: id(401), pieceId: k201, squareDecimetres: 430 }),
    aSurface({ id: id(402), pieceId: k203, squareDecimetres: 320 }),
    aSurface({ id: id(403), pieceId: k207, squareDecimetres: 560 }),
  ];
  const session = anEntry({
    id: id(301),
    startedAt: Date.parse("2026-11-01T00:30-04:00"),
    endedAt: Date.parse("2026-11-01T02:10-05:00"),
    splitRule: "area",
    subjects: [k201, k203, k207].map((pieceId) => ({ pieceId, stage: "finish" })),
  });

  test("holds all 9600 s of Sunday night's session, by area", () => {
    const found = report([session], { areaOf: workedAreas([], surfaces) });
    expect(found.byPiece).toEqual([
      { pieceId: k201, seconds: 3151 },
      { pieceId: k203, seconds: 2345 },
      { pieceId: k207, seconds: 4104 },
    ]);
    expect(found.bookedSeconds).toBe(9600);
    expect(found.pieceCells.map((cell) => cell.entryIds)).toEqual([[id(301)], [id(301)], [id(301)]]);
  });
  test("counts and says so when nobody knows the areas", () => {
    const found = report([session]);
    expect(found.byPiece.map((row) => row.seconds)).toEqual([3200, 3200, 3200]);
    expect(found.sharedEquallyIds).toEqual([id(301)]);
  });
});

describe("help", () => {
  const seatRails = id(601);
  const work = entry(302, 11.5, 11.5 + 40 / 60, {
    memberId: silas,
    subjects: [{ pieceId: k204, taskId: seatRails, stage: "repair" }],
  });
  const claim = (row: Partial<Row<"claim">>) =>
    aClaim({ id: id(610), taskId: seatRails, claimedAt: monday8 + 11 * hourMs, ...row });

  test("forty minutes on a task that another held meanwhile count once, as help", () => {
    const found = report([work], { claims: [claim({ memberIds: [fern] })] });
    expect(found.pieceCells).toEqual([
      { pieceId: k204, memberId: silas, stage: "repair", seconds: 2400, helpSeconds: 2400, entryIds: [id(302)] },
    ]);
    expect(found.bookedSeconds).toBe(2400);
  });
  test.each([
    ["held by oneself", [claim({ memberIds: [silas] })], 0],
    ["held together", [claim({ memberIds: [fern, silas] })], 0],
    ["held by nobody", [], 0],
    ["claimed by another only afterwards", [claim({ memberIds: [fern], claimedAt: monday8 + 20 * hourMs })], 0],
    [
      "held by oneself then and handed over since",
      [
        claim({ memberIds: [silas], endedAt: monday8 + 15 * hourMs, ending: "handed-over" }),
        claim({ id: id(611), memberIds: [fern], claimedAt: monday8 + 15 * hourMs, claimedSeq: 20 }),
      ],
      0,
    ],
    [
      "last held by another, whose claim has lapsed",
      [claim({ memberIds: [fern], claimedAt: monday8, endedAt: monday8 + hourMs, ending: "lapsed" })],
      2400,
    ],
  ])("work on a task %s", (_, claims, helpSeconds) => {
    expect(report([work], { claims }).pieceCells[0]?.helpSeconds).toBe(helpSeconds);
  });
});

describe("what a week counts", () => {
  test("only the seconds inside it", () => {
    const spanning = anEntry({ id: id(303), startedAt: week.fromAt - hourMs, endedAt: week.fromAt + 2 * hourMs });
    expect(report([spanning]).bookedSeconds).toBe(2 * 3600);
    const before = weekFrom("2026-10-19", "America/New_York");
    expect(report([spanning], { week: before }).bookedSeconds).toBe(3600);
  });
  test("a running timer until now, said to be running and when it looks forgotten", () => {
    const running = anEntry({ id: id(304), startedAt: monday8 });
    const found = report([running], { lastSignAtOf: () => monday8 + hourMs }, monday8 + 2 * hourMs);
    expect(found.bookedSeconds).toBe(2 * 3600);
    expect(found.running).toEqual([
      {
        entryId: id(304),
        memberId: fern,
        startedAt: monday8,
        seconds: 7200,
        forgottenAt: monday8 + 5 * hourMs,
        suggestedEndAt: monday8 + hourMs,
      },
    ]);
  });
  test("nothing of an entry that needs a word, but lists it", () => {
    const found = report([entry(305, 0, 17, { needsWord: "over-sixteen-hours" }), entry(306, 20, 21)]);
    expect(found.bookedSeconds).toBe(3600);
    expect(found.needingWord).toEqual([
      { entryId: id(305), memberId: fern, why: "over-sixteen-hours", seconds: 17 * 3600 },
    ]);
  });
  test("nothing of a timer left running past sixteen hours, as it would after being stopped", () => {
    const found = report([anEntry({ id: id(304), startedAt: monday8 })], {}, monday8 + 17 * hourMs);
    expect(found.bookedSeconds).toBe(0);
    expect(found.needingWord.map((waiting) => waiting.why)).toEqual(["over-sixteen-hours"]);
    expect(found.running.map((timer) => timer.seconds)).toEqual([0]);
  });
  test("nothing of an entry that was struck", () => {
    expect(report([entry(307, 0, 2, { struckAt: monday8 + 3 * hourMs })]).byMember).toEqual([]);
  });
  test("time without a piece apart, by kind of work", () => {
    const found = report([entry(308, 0, 1, { subjects: [], workKind: "van" }), entry(309, 1, 3)]);
    expect(found.shopCells).toEqual([{ memberId: fern, workKind: "van", seconds: 3600, entryIds: [id(308)] }]);
    expect([found.pieceSeconds, found.shopSeconds, found.bookedSeconds]).toEqual([7200, 3600, 10_800]);
  });
  test("runs over ten hours, and names them for a look", () => {
    const found = report([entry(310, 0, 10), entry(311, 12, 22.5)]);
    expect(found.longRunIds).toEqual([id(311)]);
    expect(found.bookedSeconds).toBe(20.5 * 3600);
  });
  test("two timers from eight to five: eighteen hours booked, nine worked, nine to settle", () => {
    const found = report([entry(312, 0, 9), entry(313, 0, 9)]);
    expect(found.byMember).toEqual([
      { memberId: fern, pieceSeconds: 18 * 3600, shopSeconds: 0, bookedSeconds: 18 * 3600, workedSeconds: 9 * 3600 },
    ]);
    expect(found.overlaps.map(({ memberId, seconds }) => [memberId, seconds])).toEqual([[fern, 9 * 3600]]);
  });
  test("two people at the same time without any overlap", () => {
    const found = report([entry(312, 0, 9), entry(313, 0, 9, { memberId: hanna })]);
    expect(found.overlaps).toEqual([]);
    expect(found.workedSeconds).toBe(18 * 3600);
  });
});

const someEntries = fc.array(
  fc
    .record({
      memberId: fc.constantFrom(fern, silas, hanna),
      fromMs: fc.integer({ min: -2 * dayMs, max: 8 * dayMs }),
      length: fc.option(fc.integer({ min: 1, max: 20 * hourMs }), { nil: undefined }),
      restMin: fc.integer({ min: 0, max: 90 }),
      splitRule: fc.constantFrom(...splitRules),
      workKind: fc.constantFrom(...workKinds),
      subjects: fc.array(
        fc.record({
          pieceId: fc.constantFrom(k201, k203, k204, k207),
          stage: fc.constantFrom(...stages),
          weight: fc.option(fc.integer({ min: 0, max: 50 }), { nil: undefined }),
        }),
        { maxLength: 6 },
      ),
      source: fc.constantFrom("timer" as const, "typed" as const),
    })
    .map(({ fromMs, length, ...row }) => ({
      ...row,
      startedAt: monday8 + fromMs,
      endedAt: length === undefined ? undefined : monday8 + fromMs + length,
    })),
  { maxLength: 25 },
);
const sum = (list: readonly number[]) => list.reduce((total, part) => total + part, 0);

test("in every week each total is the sum of its parts, to the second", () => {
  fc.assert(
    fc.property(someEntries, (rows) => {
      const found = report(rows.map((row, index) => anEntry({ id: id(800 + index), ...row })));
      const cells = sum(found.pieceCells.map((cell) => cell.seconds));
      expect(sum(found.byPiece.map((row) => row.seconds))).toBe(cells);
      expect(sum(found.byStage.map((row) => row.seconds))).toBe(cells);
      expect(found.pieceSeconds).toBe(cells);
      expect(sum(found.shopCells.map((cell) => cell.seconds))).toBe(found.shopSeconds);
      expect(found.bookedSeconds).toBe(cells + found.shopSeconds);
      expect(sum(found.byMember.map((row) => row.bookedSeconds))).toBe(found.bookedSeconds);
      expect(sum(found.byMember.map((row) => row.workedSeconds))).toBe(found.workedSeconds);
      for (const row of found.byMember) {
        const hasOverlap = found.overlaps.some((overlap) => overlap.memberId === row.memberId);
        if (hasOverlap) expect(row.workedSeconds).toBeLessThanOrEqual(row.bookedSeconds);
        else expect(row.workedSeconds).toBe(row.bookedSeconds);
      }
    }),
  );
});

test("a week and the next add up to both together, for every piece", () => {
  fc.assert(
    fc.property(someEntries, (rows) => {
      const entries = rows.map((row, index) =>
        anEntry({ id: id(800 + index), ...row, endedAt: row.endedAt ?? row.startedAt + minuteMs }),
      );
      const next = weekFrom("2026-11-02", "America/New_York");
      const total = (from: number, to: number) => {
        const found = report(entries, { week: { fromAt: from, toAt: to } }, next.toAt);
        return pieces.map((piece) => found.byPiece.find((row) => row.pieceId === piece.id)?.seconds ?? 0);
      };
      const [one, other] = [total(week.fromAt, week.toAt), total(next.fromAt, next.toAt)];
      expect(total(week.fromAt, next.toAt)).toEqual(one.map((seconds, index) => seconds + (other[index] ?? 0)));
    }),
  );
});
