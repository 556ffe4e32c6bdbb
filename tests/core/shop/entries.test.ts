import { describe, expect, test } from "vitest";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  aClaim,
  anEntry,
  aPiece,
  aTask,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  odile,
  type Rows,
  refusalOf,
  rule,
  shopWith,
  silas,
} from "../support/shop";

const [entry, desk, scrape, claim] = [id(401), id(170), id(201), id(301)];
const alreadyThere = (row: Partial<ReturnType<typeof anEntry>> = {}, rows: Rows = {}) =>
  shopWith({
    piece: [aPiece(), aPiece({ id: desk, number: "K-202" })],
    task: [aTask({ id: scrape })],
    entry: [anEntry({ id: entry, memberId: hanna, endedAt: monday8, ...row })],
    ...rows,
  });
const empty = () => alreadyThere({}, { entry: [] });
/** Typed on Monday at eight: nine to ten on Sunday. */
const [nine, ten] = [monday8 - 23 * hourMs, monday8 - 22 * hourMs];
const body = {
  entryId: entry,
  memberId: hanna,
  startedAt: nine,
  endedAt: ten,
  workKind: "bench",
  subjects: [{ pieceId: dresser }],
};
const add = (more: Record<string, unknown> = {}, by = hanna) => envelopeOf("add-entry", { ...body, ...more }, by);
const correct = (more: Record<string, unknown>, by = hanna) =>
  envelopeOf("correct-entry", { entryId: entry, why: "I forgot the van", ...more }, by);
const forOthers = ["owner", "bookkeeper"];

describe("an entry that is typed", () => {
  test("says who worked on what from when to when", () => {
    const facts = empty();
    const ruling = rule(facts, add({ restMin: 15, note: "Second pass" }));
    expect(eventKinds(ruling)).toEqual(["entry-added"]);
    expect(facts.get("entry", entry)).toEqual({
      id: entry,
      memberId: hanna,
      startedAt: nine,
      endedAt: ten,
      restMin: 15,
      workKind: "bench",
      subjects: [{ pieceId: dresser, stage: "finish" }],
      splitRule: "one",
      source: "typed",
      note: "Second pass",
      versions: [],
    });
    expect(facts.all("notice")).toEqual([]);
  });

  test("for another is the owner's and the bookkeeper's to write, and that person is told", () => {
    for (const by of [fern, bruno]) {
      const facts = empty();
      rule(facts, add({}, by));
      expect(facts.get("entry", entry)?.memberId).toBe(hanna);
      expect(facts.where("notice", "memberId", hanna)).toMatchObject([
        { about: "entry-corrected", byMemberId: by, detail: { entryId: entry } },
      ]);
    }
    expect(refusalOf(rule(empty(), add({}, silas)))).toEqual({ kind: "may-not", role: "partner", needs: forOthers });
    expect(refusalOf(rule(empty(), add({}, odile)))).toMatchObject({ kind: "may-not", role: "outlet" });
  });

  test("is at most sixteen hours long, and ends after it starts", () => {
    const long = { startedAt: monday8 - 16 * hourMs, endedAt: monday8 };
    expect(rule(empty(), add(long)).verdict).toBe("accepted");
    expect(refusalOf(rule(empty(), add({ ...long, startedAt: long.startedAt - 1 })))).toEqual({
      kind: "entry-too-long",
      startedAt: long.startedAt - 1,
      endedAt: monday8,
      maxMin: 960,
    });
    for (const endedAt of [nine, nine - 1]) {
      expect(refusalOf(rule(empty(), add({ endedAt })))).toEqual({
        kind: "ends-before-start",
        startedAt: nine,
        endedAt,
      });
    }
  });

  test("has not still to come, two minutes of rounding aside", () => {
    const until = (endedAt: number) => rule(empty(), add({ endedAt, startedAt: endedAt - hourMs }));
    expect(until(monday8 + 2 * minuteMs).verdict).toBe("accepted");
    expect(refusalOf(until(monday8 + 2 * minuteMs + 1))).toEqual({
      kind: "in-the-future",
      happenedAt: monday8 + 2 * minuteMs + 1,
      latestAt: monday8,
    });
  });

  test("goes back a fortnight for a helper and as far as wanted for a partner", () => {
    const from = (startedAt: number, by: string) =>
      rule(empty(), add({ memberId: by, startedAt, endedAt: startedAt + hourMs }, by));
    expect(from(monday8 - 14 * dayMs, hanna).verdict).toBe("accepted");
    expect(refusalOf(from(monday8 - 14 * dayMs - 1, hanna))).toEqual({
      kind: "too-far-back",
      happenedAt: monday8 - 14 * dayMs - 1,
      oldestAt: monday8 - 14 * dayMs,
      role: "helper",
      mayAsk: ["partner", "owner"],
    });
    expect(from(monday8 - 60 * dayMs, silas).verdict).toBe("accepted");
  });

  test("leaves some work after the rest", () => {
    expect(rule(empty(), add({ restMin: 59 })).verdict).toBe("accepted");
    expect(refusalOf(rule(empty(), add({ restMin: 60 })))).toEqual({
      kind: "out-of-bounds",
      field: "rest",
      found: 60,
      min: 0,
      max: 60,
      unit: "min",
    });
    expect(refusalOf(rule(empty(), add({ restMin: 481 })))).toEqual({
      kind: "out-of-bounds",
      field: "rest",
      found: 481,
      min: 0,
      max: 480,
      unit: "min",
    });
  });

  test("shared by typed weights gives one of them something", () => {
    const weights = (one: number, other: number) =>
      rule(
        empty(),
        add({
          splitRule: "typed",
          subjects: [
            { pieceId: dresser, weight: one },
            { pieceId: desk, weight: other },
          ],
        }),
      );
    expect(weights(0, 3).verdict).toBe("accepted");
    expect(refusalOf(weights(0, 0))).toEqual({ kind: "weights-empty", pieceIds: [dresser, desk] });
  });

  test("names people, pieces and tasks that are here", () => {
    expect(refusalOf(rule(empty(), add({ memberId: id(99) }, fern)))).toEqual({
      kind: "unknown-thing",
      field: "memberId",
    });
    expect(refusalOf(rule(empty(), add({ subjects: [{ pieceId: id(99) }] })))).toEqual({
      kind: "unknown-thing",
      field: "pieceId",
    });
    expect(refusalOf(rule(empty(), add({ subjects: [{ pieceId: desk, taskId: scrape }] })))).toEqual({
      kind: "unknown-thing",
      field: "taskId",
    });
  });

  test("on a piece that has left is kept all the same: hours always are", () => {
    const gone = alreadyThere({}, { piece: [aPiece({ archivedAt: monday8 - 10 * dayMs })], entry: [] });
    expect(rule(gone, add()).verdict).toBe("accepted");
  });

  test("on a task is a sign of its holder", () => {
    const facts = alreadyThere({}, { entry: [], claim: [aClaim({ id: claim, taskId: scrape, memberIds: [hanna] })] });
    rule(facts, add({ subjects: [{ pieceId: dresser, taskId: scrape }] }));
    expect(facts.get("claim", claim)?.lastSignAt).toBe(monday8);
  });

  test("over another of the same person is accepted: they settle it later", () => {
    const facts = alreadyThere({ startedAt: nine, endedAt: ten });
    expect(rule(facts, add({ entryId: id(402) })).verdict).toBe("accepted");
  });
});

describe("a correction", () => {
  const startedAt = monday8 - hourMs;

  test("keeps what the entry was, with who changed it and why", () => {
    const facts = alreadyThere();
    const endedAt = monday8 - 10 * minuteMs;
    expect(eventKinds(rule(facts, correct({ endedAt, workKind: "van", restMin: 5 })))).toEqual(["entry-corrected"]);
    expect(facts.get("entry", entry)).toMatchObject({
      startedAt,
      endedAt,
      workKind: "van",
      restMin: 5,
      versions: [
        {
          by: hanna,
          at: monday8,
          why: "I forgot the van",
          was: {
            startedAt,
            endedAt: monday8,
            restMin: 0,
            workKind: "bench",
            splitRule: "one",
            subjects: [{ pieceId: dresser, stage: "finish" }],
          },
        },
      ],
    });
    expect(facts.all("notice")).toEqual([]);
  });

  test("of another's hours is the owner's and the bookkeeper's, and that person reads why", () => {
    for (const by of [fern, bruno]) {
      const facts = alreadyThere();
      rule(facts, correct({ workKind: "van" }, by));
      expect(facts.where("notice", "memberId", hanna)).toMatchObject([
        { about: "entry-corrected", byMemberId: by, detail: { entryId: entry, why: "I forgot the van" } },
      ]);
    }
    expect(refusalOf(rule(alreadyThere(), correct({ workKind: "van" }, silas)))).toEqual({
      kind: "may-not",
      role: "partner",
      needs: forOthers,
    });
  });

  test("obeys the same limits as an entry that is typed", () => {
    const refuse = (more: Record<string, unknown>) => refusalOf(rule(alreadyThere(), correct(more)));
    expect(refuse({ endedAt: startedAt })).toEqual({ kind: "ends-before-start", startedAt, endedAt: startedAt });
    expect(refuse({ startedAt: monday8 - 16 * hourMs - 1 })).toMatchObject({ kind: "entry-too-long", maxMin: 960 });
    expect(refuse({ endedAt: monday8 + 2 * minuteMs + 1 })).toMatchObject({ kind: "in-the-future" });
    expect(refuse({ restMin: 60 })).toEqual({
      kind: "out-of-bounds",
      field: "rest",
      found: 60,
      min: 0,
      max: 60,
      unit: "min",
    });
    expect(refuse({ subjects: [{ pieceId: id(99) }] })).toEqual({ kind: "unknown-thing", field: "pieceId" });
    const weightless = [{ pieceId: dresser }, { pieceId: desk, weight: 0 }];
    expect(refuse({ subjects: weightless, splitRule: "typed" })).toEqual({
      kind: "weights-empty",
      pieceIds: [dresser, desk],
    });
    expect(refuse({ why: " " })).toMatchObject({ kind: "text-not-fit", field: "why", reason: "empty" });
  });

  test("shares it anew when a second piece is named", () => {
    const facts = alreadyThere();
    rule(facts, correct({ subjects: [{ pieceId: dresser }, { pieceId: desk, stage: "prep" }] }));
    expect(facts.get("entry", entry)).toMatchObject({
      splitRule: "equal",
      subjects: [{ stage: "finish" }, { pieceId: desk, stage: "prep" }],
    });
  });

  test("strikes an entry that never was; nothing is left to correct", () => {
    const facts = alreadyThere();
    expect(eventKinds(rule(facts, correct({ isStruck: true })))).toEqual(["entry-struck"]);
    expect(facts.get("entry", entry)?.struckAt).toBe(monday8);
    expect(refusalOf(rule(facts, correct({ workKind: "van" })))).toEqual({ kind: "unknown-thing", field: "entryId" });
    expect(refusalOf(rule(empty(), correct({ isStruck: true })))).toEqual({
      kind: "unknown-thing",
      field: "entryId",
    });
  });

  test("that shortens a timer of more than sixteen hours needs no word; one that leaves it as it was does", () => {
    const long = { startedAt: monday8 - 20 * hourMs, needsWord: "over-sixteen-hours" as const };
    const shortened = alreadyThere(long);
    rule(shortened, correct({ endedAt: monday8 - 12 * hourMs }));
    expect(shortened.get("entry", entry)?.needsWord).toBeUndefined();
    const same = alreadyThere(long);
    rule(same, correct({ workKind: "van" }));
    expect(same.get("entry", entry)?.needsWord).toBe("over-sixteen-hours");
  });

  test("with the owner's yes counts an entry that waited for it; neither a helper nor a partner says it", () => {
    const waiting = { needsWord: "delivered-after-the-end" as const };
    const facts = alreadyThere(waiting);
    for (const by of [hanna, silas]) {
      expect(refusalOf(rule(facts, correct({ isConfirmed: true }, by)))).toMatchObject({
        kind: "may-not",
        needs: forOthers,
      });
    }
    rule(facts, correct({ isConfirmed: true }, fern));
    expect(facts.get("entry", entry)?.needsWord).toBeUndefined();
  });
});
