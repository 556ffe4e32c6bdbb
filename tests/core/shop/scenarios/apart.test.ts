import { describe, expect, test } from "vitest";
import { spanOf, spanSeconds } from "~/core/labour/entry";
import { helpJudge } from "~/core/labour/help";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { minuteMs } from "~/core/units";
import {
  aClaim,
  anEntry,
  aPiece,
  aSheet,
  aSurface,
  aTask,
  envelopeOf,
  eventKinds,
  fern,
  id,
  loft,
  paintSheet,
  refusalOf,
  rule,
  shopWith,
  shopWithDresser,
  silas,
  top,
} from "../../support/shop";
import { at } from "./demo-floor";

// scenario 1
describe("a task that two claim while apart", () => {
  const [k204, rails, claimF, claimR, timer] = [id(0x204), id(201), id(301), id(302), id(401)];
  const facts = () =>
    shopWith({
      piece: [aPiece({ id: k204, number: "K-204", name: "Four chairs", stage: "repair" })],
      task: [aTask({ id: rails, pieceId: k204, title: "Seat rails", sort: "repair" })],
    });
  const claims = (claimId: string, by: string, when: string, seenSeq: number) =>
    envelopeOf("claim-task", { claimId, taskId: rails, memberIds: [by] }, by, { at: at(when), seenSeq });
  const arrives = at("10-27 20:12 EDT");
  const work = [{ pieceId: k204, taskId: rails }];
  const apart = { seenSeq: 410 };
  const queue = () => [
    claims(claimR, silas, "10-27 18:55 EDT", 410),
    envelopeOf("start-timer", { entryId: timer, subjects: work, workKind: "bench" }, silas, {
      at: at("10-27 19:30 EDT"),
      ...apart,
    }),
    envelopeOf("stop-timer", { entryId: timer }, silas, { at: at("10-27 20:10 EDT"), ...apart }),
  ];

  test("stays with the one whom the shop heard first; the other's 40 minutes stay as help, and both are told", () => {
    const floor = facts();
    expect(rule(floor, claims(claimF, fern, "10-27 19:05 EDT", 411), undefined, { seq: 412 }).verdict).toBe("accepted");
    const [claim, ...work40] = queue();
    const lost = rule(floor, claim as NonNullable<typeof claim>, arrives, { seq: 413, coming: work40 });
    expect(refusalOf(lost)).toEqual({
      kind: "claimed-while-apart",
      taskId: rails,
      holderId: fern,
      claimedAt: at("10-27 19:05 EDT"),
      leaseEndsAt: at("10-30 19:05 EDT"),
      keptSeconds: 2400,
      subjectIds: [rails],
    });
    expect(floor.where("notice", "memberId", fern)).toMatchObject([
      { about: "claim-contested", byMemberId: silas, taskId: rails, detail: { keptSeconds: 2400 } },
    ]);
    for (const intent of work40) expect(rule(floor, intent, arrives).verdict).toBe("accepted");
    const entries = [fern, silas].flatMap((who) => floor.entries(who, 0));
    expect(entries.map((entry) => [entry.memberId, spanSeconds(spanOf(entry, arrives))])).toEqual([[silas, 2400]]);
    const isHelp = helpJudge(floor.where("claim", "taskId", rails), arrives);
    const [entry] = entries;
    if (!entry?.subjects[0]) throw new Error("the 40 minutes are gone");
    expect(isHelp(entry, entry.subjects[0])).toBe(true);
    // one tap of the holder hands it over
    const hand = { taskId: rails, claimId: claimR, toMemberId: silas };
    expect(eventKinds(rule(floor, envelopeOf("hand-over-claim", hand, fern, { at: arrives })))).toEqual([
      "claim-handed-over",
    ]);
    expect(floor.get("claim", claimR)?.memberIds).toEqual([silas]);
  });

  test("stays with the other when the other was heard first; the late one could have seen it", () => {
    const floor = facts();
    rule(floor, claims(claimR, silas, "10-27 19:00 EDT", 410), undefined, { seq: 411 });
    expect(refusalOf(rule(floor, claims(claimF, fern, "10-27 19:05 EDT", 411), undefined, { seq: 412 }))).toEqual({
      kind: "already-claimed",
      taskId: rails,
      holderId: silas,
      claimedAt: at("10-27 19:00 EDT"),
      leaseEndsAt: at("10-30 19:00 EDT"),
      subjectIds: [rails],
    });
    expect(floor.all("notice")).toEqual([]);
  });
});

// scenario 8, as far as rules go: the ledger keeps one ruling per intent
test("a coat that is told of twice in two envelopes lies once, with one task for its rags", () => {
  const facts = shopWithDresser({ sheet: [aSheet({ isOilBearing: "yes" })] });
  const moment = at("10-27 10:00 EDT");
  const coat = {
    coatId: id(121),
    surfaceId: top,
    sheetId: paintSheet,
    startedAt: moment,
    endedAt: moment,
    by: [silas],
    roomId: loft,
    wetFilmMicrometres: 90,
    stance: "done",
  };
  rule(facts, envelopeOf("log-coat", coat, silas, { at: moment }));
  const again = envelopeOf("log-coat", { ...coat, wetFilmMicrometres: 150 }, silas, { at: moment });
  expect(refusalOf(rule(facts, again))).toEqual({
    kind: "coat-already-applied",
    coatId: id(121),
    appliedAt: moment,
    byMemberId: silas,
  });
  expect(facts.all("coat")).toMatchObject([{ applied: { wetFilmMicrometres: 90 } }]);
  expect(facts.all("task").filter((task) => task.sort === "close-out")).toHaveLength(1);
});

// scenario 14
describe("a piece in repair that one moves to prep and another to finish while apart", () => {
  const k1 = id(0x301);
  const floor = () =>
    shopWith({ piece: [aPiece({ id: k1, number: "K-1", stage: "repair" })], surface: [aSurface({ pieceId: k1 })] });
  const move = (toStage: string, by: string, when: string) =>
    envelopeOf("move-stage", { pieceId: k1, fromStage: "repair", toStage }, by, { at: at(when), seenSeq: 5 });
  const [first, second] = ["10-27 10:00 EDT", "10-27 10:20 EDT"];
  const arrives = at("10-27 12:00 EDT");
  const send = (...moves: [string, string, string][]) => {
    const facts = floor();
    const rulings = moves.map(([to, by, when]) => rule(facts, move(to, by, when), arrives));
    return { facts, rulings };
  };
  const told = (facts: MemoryFacts) =>
    facts.all("notice").map(({ memberId, about, byMemberId, detail }) => ({ memberId, about, byMemberId, detail }));

  test("stands in prep once when that arrives first, and both are shown what the other meant", () => {
    const { facts, rulings } = send(["prep", fern, first], ["finish", silas, second]);
    expect(refusalOf(rulings[1] as (typeof rulings)[0])).toEqual({
      kind: "moved-meanwhile",
      fromStage: "repair",
      to: "prep",
      byMemberId: fern,
      at: at(first),
    });
    expect(facts.get("piece", k1)?.stage).toBe("prep");
    expect(facts.where("stageMove", "pieceId", k1)).toHaveLength(1);
    expect(told(facts)).toEqual([
      { memberId: fern, about: "stage-moved-meanwhile", byMemberId: silas, detail: { toStage: "finish" } },
    ]);
  });

  test("stands in finish when that arrives first and its guards hold", () => {
    const { facts, rulings } = send(["finish", silas, second], ["prep", fern, first]);
    expect(refusalOf(rulings[1] as (typeof rulings)[0])).toMatchObject({
      kind: "moved-meanwhile",
      to: "finish",
      byMemberId: silas,
      at: at(second),
    });
    expect(facts.get("piece", k1)?.stage).toBe("finish");
    expect(told(facts)).toMatchObject([{ memberId: silas, byMemberId: fern, detail: { toStage: "prep" } }]);
  });

  test("both to prep is one move", () => {
    const { facts, rulings } = send(["prep", fern, first], ["prep", silas, second]);
    expect(rulings[1]).toEqual({ verdict: "accepted", events: [] });
    expect(facts.where("stageMove", "pieceId", k1)).toMatchObject([{ by: fern }]);
  });
});

// scenario 22
test.each(["the phone first", "the tablet first"])(
  "a timer stopped on the phone at 13:07 and on the tablet at 13:20 ends at 13:07 whichever arrives, %s",
  (order) => {
    const [timer, task] = [id(401), id(201)];
    const facts = shopWith({
      piece: [aPiece()],
      task: [aTask({ id: task })],
      claim: [aClaim({ id: id(301), taskId: task, memberIds: [silas] })],
      entry: [anEntry({ id: timer, memberId: silas, startedAt: at("10-27 09:00 EDT") })],
    });
    const [phoneAt, tabletAt] = [at("10-27 13:07 EDT"), at("10-27 13:20 EDT")];
    const stop = (when: number) => envelopeOf("stop-timer", { entryId: timer }, silas, { at: when });
    const stops = [stop(phoneAt), stop(tabletAt)];
    if (order === "the tablet first") stops.reverse();
    for (const intent of stops) {
      expect(rule(facts, intent, tabletAt + 30 * minuteMs).verdict).toBe("accepted");
    }
    const entry = facts.get("entry", timer);
    expect(entry?.endedAt).toBe(phoneAt);
    expect(entry?.versions.map((version) => version.was)).toEqual([{ endedAt: tabletAt }]);
  },
);
