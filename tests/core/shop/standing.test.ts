import { describe, expect, test } from "vitest";
import type { Role } from "~/core/shop/entities/people";
import { definitionOf, intentKinds } from "~/core/shop/intents";
import { lesserRole, roleAt } from "~/core/shop/roles";
import { dayMs, hourMs } from "~/core/units";
import {
  aPiece,
  aStay,
  aSurface,
  aTask,
  bench,
  dresser,
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
  top,
} from "../support/shop";

const since = monday8 - 300 * dayMs;
type Spans = { role: Role; fromAt: number; toAt?: number; toSeq?: number }[];
/** Silas with another past. */
const withPast = (roleSpans: Spans) => {
  const facts = shopWith({
    piece: [aPiece({ stage: "repair" })],
    surface: [aSurface()],
    task: [aTask({ id: id(201) })],
    roomStay: [aStay()],
  });
  const row = facts.get("member", silas);
  if (!row) throw new Error("Silas is missing");
  facts.put("member", { ...row, skills: [], roleSpans });
  return facts;
};
/** Made at eight on Monday, heard of at ten; the role changed at nine. */
const [eight, nine, ten] = [monday8, monday8 + hourMs, monday8 + 2 * hourMs];
const demoted: Spans = [
  { role: "partner", fromAt: since, toAt: nine },
  { role: "helper", fromAt: nine },
];
const promoted: Spans = [
  { role: "helper", fromAt: since, toAt: nine },
  { role: "partner", fromAt: nine },
];
const send = (spans: Spans, kind: string, body: unknown, at = eight, heardAt = ten) =>
  rule(withPast(spans), envelopeOf(kind, body, silas, { at }), heardAt);

describe("whose role counts", () => {
  // a test of two days ago is a partner's to tell and not a helper's
  const test3 = { testId: id(601), pieceId: dresser, subject: { of: "surface", surfaceId: top }, kind: "paper-drop" };
  const stage = { pieceId: dresser, fromStage: "repair", toStage: "acquisition", reason: "mistake" };
  const wood = { pieceId: dresser, field: "wood", value: "Oak" };
  const promise = {
    promiseId: id(501),
    pieceId: dresser,
    sort: "photos",
    due: { day: "2026-10-30" },
    toWhom: "ourselves",
  };

  test("of a report, the one in which it was made", () => {
    const twoDaysAgo = (spans: Spans) => {
      const intent = envelopeOf("record-test", { ...test3, result: "pass" }, silas, {
        at: eight,
        happenedAt: eight - 2 * dayMs,
      });
      return rule(withPast(spans), intent, ten);
    };
    expect(twoDaysAgo(demoted).verdict).toBe("accepted");
    expect(refusalOf(twoDaysAgo(promoted))).toMatchObject({ kind: "too-far-back", role: "helper" });
  });

  test("of a taking, the one of now", () => {
    expect(refusalOf(send(demoted, "move-stage", stage))).toMatchObject({ kind: "may-not", role: "helper" });
    expect(send(promoted, "move-stage", stage).verdict).toBe("accepted");
  });

  test("of a plan, the one of now", () => {
    expect(refusalOf(send(demoted, "edit-piece", wood))).toEqual({
      kind: "may-not",
      role: "helper",
      needs: ["owner", "partner"],
    });
    expect(send(promoted, "edit-piece", wood).verdict).toBe("accepted");
  });

  test("of a word, the lesser of then and now", () => {
    for (const spans of [demoted, promoted]) {
      expect(refusalOf(send(spans, "promise", promise))).toEqual({
        kind: "may-not",
        role: "helper",
        needs: ["owner", "partner"],
      });
    }
    expect(send(promoted, "promise", promise, nine).verdict).toBe("accepted");
  });
});

test("the lesser of two roles is the one that may do less on the floor", () => {
  const ladder: Role[] = ["outlet", "bookkeeper", "helper", "partner", "owner"];
  ladder.forEach((less, index) => {
    for (const more of ladder.slice(index)) {
      expect([lesserRole(less, more), lesserRole(more, less)]).toEqual([less, less]);
    }
  });
});

test("a role is held from its first instant to just before the next one's", () => {
  const at = (instant: number) => roleAt({ roleSpans: demoted }, instant);
  expect([at(since - 1), at(since), at(nine - 1), at(nine)]).toEqual([undefined, "partner", "partner", "helper"]);
});

describe("a member whose place ended at nine", () => {
  const ended: Spans = [{ role: "partner", fromAt: since, toAt: nine }];
  const gone = { kind: "no-longer-a-member", endedAt: nine };
  const hours = {
    entryId: id(401),
    memberId: silas,
    startedAt: eight - 2 * hourMs,
    endedAt: eight - hourMs,
    workKind: "bench",
    subjects: [],
  };
  const reports = [
    ["add-entry", hours],
    ["start-timer", { entryId: id(401), subjects: [], workKind: "bench" }],
    ["record-reading", { readingId: id(701), roomId: loft, at: eight, airCelsius: 18, humidityPercent: 50 }],
    [
      "record-test",
      {
        testId: id(601),
        pieceId: dresser,
        subject: { of: "surface", surfaceId: top },
        kind: "paper-drop",
        result: "pass",
      },
    ],
    ["move-room", { pieceId: dresser, roomId: bench, carried: "hands", stance: "done" }],
  ] as const;

  test.each(reports)("has reported before: %s stands", (kind, body) => {
    expect(send(ended, kind, body).verdict).toBe("accepted");
  });

  test("has worked before: the hours stand, and wait for the owner's word", () => {
    const facts = withPast(ended);
    rule(facts, envelopeOf("add-entry", hours, silas, { at: eight }), ten);
    expect(facts.get("entry", id(401))?.needsWord).toBe("delivered-after-the-end");
  });

  test("has worked up to a day after without knowing: those hours wait for a word too, and are marked", () => {
    const after = { ...hours, startedAt: nine, endedAt: nine + hourMs };
    const late = (at: number) => {
      const facts = withPast(ended);
      return { facts, ruling: rule(facts, envelopeOf("add-entry", after, silas, { at }), at + dayMs) };
    };
    const counted = late(nine + dayMs - 1);
    expect(counted.ruling.verdict).toBe("accepted");
    expect(counted.facts.get("entry", id(401))?.needsWord).toBe("after-the-end");
    expect(refusalOf(late(nine + dayMs).ruling)).toEqual(gone);
  });

  test("has worked on knowing of the end: those hours are no shop's", () => {
    const spans: Spans = [{ role: "partner", fromAt: since, toAt: nine, toSeq: 500 }];
    const after = { ...hours, startedAt: nine, endedAt: nine + hourMs };
    const madeSeeing = (seenSeq: number) =>
      rule(withPast(spans), envelopeOf("add-entry", after, silas, { at: nine + hourMs, seenSeq }), ten + dayMs);
    expect(madeSeeing(499).verdict).toBe("accepted");
    expect(refusalOf(madeSeeing(500))).toEqual(gone);
    // what was worked before the end counts, whatever the device knew when it was written down
    const before = envelopeOf("add-entry", hours, silas, { at: eight, seenSeq: 500 });
    expect(rule(withPast(spans), before, ten).verdict).toBe("accepted");
  });

  test("records no test after it", () => {
    const [, body] = reports[3];
    expect(send(ended, "record-test", body, nine - 1).verdict).toBe("accepted");
    expect(refusalOf(send(ended, "record-test", body, nine))).toEqual(gone);
  });

  test.each([
    ["claim-task", { claimId: id(301), taskId: id(201), memberIds: [silas] }],
    ["move-stage", { pieceId: dresser, fromStage: "repair", toStage: "prep" }],
    ["edit-piece", { pieceId: dresser, field: "wood", value: "Oak" }],
    ["drop-promise", { promiseId: id(501), why: "Changed" }],
    ["finish-task", { taskId: id(201) }],
    ["see-notice", { noticeId: id(801) }],
  ])("takes, plans, finishes and gives no word, not even from before: %s", (kind, body) => {
    expect(refusalOf(send(ended, kind, body))).toEqual(gone);
  });
});

test("somebody who joins only now has no power over what was made before", () => {
  const joining: Spans = [{ role: "helper", fromAt: ten + hourMs }];
  expect(refusalOf(send(joining, "edit-piece", { pieceId: dresser, field: "wood", value: "Oak" }))).toEqual({
    kind: "may-not",
    role: "nobody",
    needs: ["owner", "partner"],
  });
});

test("the shared tablet takes reports by hand and the claims of tasks, and takes them back; no word, no plan and no other taking", () => {
  const sortOf = (kind: string) => definitionOf(kind)?.sort;
  const takes = (kind: string) => definitionOf(kind)?.onSharedTablet;
  expect(intentKinds.filter((kind) => sortOf(kind) !== "report" && takes(kind)).sort()).toEqual([
    "claim-task",
    "hand-over-claim",
    "release-task",
    // of a report or a claim that was made there
    "take-back",
  ]);
  // a logger is read out at one's own device
  expect(intentKinds.filter((kind) => sortOf(kind) === "report" && !takes(kind))).toEqual(["import-readings"]);
  const facts = shopWith({ piece: [aPiece()] });
  const wood = envelopeOf("edit-piece", { pieceId: dresser, field: "wood", value: "Oak" }, fern);
  expect(refusalOf(rule(facts, wood, monday8, { isSharedTablet: true }))).toEqual({ kind: "not-on-shared-tablet" });
  expect(facts.get("piece", dresser)?.wood).toBeUndefined();
});

test("an intent that this shop does not know, and a member that it does not have, come to nothing", () => {
  expect(refusalOf(rule(shopWith(), envelopeOf("burn-down", {}, fern)))).toEqual({
    kind: "malformed",
    field: "kind",
    expected: "an intent that this shop knows",
  });
  const stranger = rule(shopWith(), envelopeOf("finish-task", { taskId: id(201) }, id(99)));
  expect(refusalOf(stranger)).toEqual({ kind: "unknown-thing", field: "memberId" });
  expect(refusalOf(rule(shopWith(), envelopeOf("finish-task", { taskId: "201" }, hanna)))).toMatchObject({
    kind: "malformed",
    field: "taskId",
  });
});
