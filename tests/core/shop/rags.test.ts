import { expect, test } from "vitest";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  aClaim,
  aPiece,
  aTask,
  aWetCoat,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  refusalOf,
  rule,
  shopWith,
  silas,
} from "../support/shop";

const [rags, coat] = [id(201), id(121)];
/** Oiled until seven; the rags wait. */
const withRags = (claim: ReturnType<typeof aClaim>[] = []) =>
  shopWith({
    piece: [aPiece()],
    coat: [aWetCoat({ id: coat })],
    task: [
      aTask({ id: rags, title: "Put the rags away", sort: "close-out", coatId: coat, dueAt: monday8 - 30 * minuteMs }),
      aTask({ id: id(202) }),
    ],
    claim,
  });

test.each(["flat-outdoors", "water-can"])("oily rags that lie %s are put away, by a named person at a time", (how) => {
  const facts = withRags();
  const ruling = rule(
    facts,
    envelopeOf("close-out-rags", { taskId: rags, how }, hanna, { happenedAt: monday8 - 40 * minuteMs }),
  );
  expect(eventKinds(ruling)).toEqual(["task-finished"]);
  expect(facts.get("task", rags)).toMatchObject({
    state: "finished",
    finished: { at: monday8 - 40 * minuteMs, by: hanna, how },
  });
});

test.each(["bin", "heap", "bag", "postponed"])("oily rags in a %s are not put away", (how) => {
  const facts = withRags();
  const refusal = refusalOf(rule(facts, envelopeOf("close-out-rags", { taskId: rags, how }, fern)));
  expect(refusal).toEqual({ kind: "rags-not-safe", taskId: rags, how });
  expect(facts.get("task", rags)?.state).toBe("open");
});

test("the first who put the rags away stays named", () => {
  const facts = withRags();
  rule(facts, envelopeOf("close-out-rags", { taskId: rags, how: "water-can" }, hanna));
  const second = rule(facts, envelopeOf("close-out-rags", { taskId: rags, how: "flat-outdoors" }, fern));
  expect(second).toEqual({ verdict: "accepted", events: [] });
  expect(facts.get("task", rags)?.finished?.by).toBe(hanna);
});

test("whoever held the task is told that another has done it", () => {
  const facts = withRags([aClaim({ id: id(211), taskId: rags, memberIds: [silas] })]);
  rule(facts, envelopeOf("close-out-rags", { taskId: rags, how: "water-can" }, hanna));
  expect(facts.get("claim", id(211))).toMatchObject({ endedAt: monday8, ending: "finished" });
  expect(facts.where("notice", "memberId", silas)).toMatchObject([
    { about: "task-finished-by-other", taskId: rags, pieceId: dresser, byMemberId: hanna },
  ]);
});

test("only a close-out is closed out", () => {
  for (const taskId of [id(202), id(99)]) {
    const refusal = refusalOf(rule(withRags(), envelopeOf("close-out-rags", { taskId, how: "water-can" }, fern)));
    expect(refusal).toEqual({ kind: "unknown-thing", field: "taskId" });
  }
});

test("rags are not put away before the oil went on", () => {
  const startedAt = monday8 - hourMs - 10 * minuteMs;
  const early = envelopeOf("close-out-rags", { taskId: rags, how: "water-can" }, fern, { happenedAt: startedAt - 1 });
  expect(refusalOf(rule(withRags(), early))).toEqual({
    kind: "before-it-existed",
    thing: "Put the rags away",
    happenedAt: startedAt - 1,
    cameAt: startedAt,
  });
});

test("a helper says so within a day, partners within three", () => {
  const late = { happenedAt: monday8 - dayMs - 1 };
  const body = { taskId: rags, how: "water-can" };
  expect(refusalOf(rule(withRags(), envelopeOf("close-out-rags", body, hanna, late)))).toEqual({
    kind: "too-far-back",
    happenedAt: late.happenedAt,
    oldestAt: monday8 - dayMs,
    role: "helper",
    mayAsk: ["owner", "partner"],
  });
  const later = { happenedAt: monday8 - 3 * dayMs - 1 };
  expect(refusalOf(rule(withRags(), envelopeOf("close-out-rags", body, silas, later)))).toMatchObject({
    kind: "too-far-back",
  });
});

test("the bookkeeper handles no rags", () => {
  const ruling = rule(withRags(), envelopeOf("close-out-rags", { taskId: rags, how: "water-can" }, bruno));
  expect(refusalOf(ruling)).toMatchObject({ kind: "may-not", role: "bookkeeper" });
});

test("rags are not made to wait by an edit, nor set aside, nor finished without saying how", () => {
  const refusedFor = (kind: string, body: object) => refusalOf(rule(withRags(), envelopeOf(kind, body, fern)));
  const later = { taskId: rags, field: "dueAt", was: monday8 - 30 * minuteMs, value: monday8 + dayMs };
  expect(refusedFor("edit-task", later)).toEqual({ kind: "rags-not-safe", taskId: rags, how: "changed" });
  const behind = { taskId: rags, field: "after", was: [], value: [id(202)] };
  expect(refusedFor("edit-task", behind)).toEqual({ kind: "rags-not-safe", taskId: rags, how: "changed" });
  expect(refusedFor("set-aside-task", { taskId: rags, why: "Tomorrow" })).toMatchObject({ kind: "rags-not-safe" });
  expect(refusedFor("finish-task", { taskId: rags, stance: "done" })).toMatchObject({ kind: "rags-not-safe" });
});

test("a piece does not leave while its rags lie about: they would go out of sight and heat up all the same", () => {
  const facts = withRags();
  const leave = envelopeOf("archive-piece", { pieceId: dresser, how: "thrown-out", why: "Rotten" }, fern);
  expect(refusalOf(rule(facts, leave))).toEqual({
    kind: "rags-open",
    taskIds: [rags],
    dueAt: monday8 - 30 * minuteMs,
    subjectIds: [dresser],
  });
  rule(facts, envelopeOf("close-out-rags", { taskId: rags, how: "water-can" }, hanna));
  expect(
    rule(facts, envelopeOf("archive-piece", { pieceId: dresser, how: "thrown-out", why: "Rotten" }, fern)).verdict,
  ).toBe("accepted");
});

test("rags that were put away and come out again are due again", () => {
  const facts = withRags();
  rule(facts, envelopeOf("close-out-rags", { taskId: rags, how: "water-can" }, hanna));
  rule(facts, envelopeOf("reopen-task", { taskId: rags, cause: "The lid was off" }, silas));
  expect(facts.get("task", rags)).toMatchObject({ state: "open", dueAt: monday8 - 30 * minuteMs });
  expect(facts.get("task", rags)?.finished).toBeUndefined();
  rule(facts, envelopeOf("close-out-rags", { taskId: rags, how: "flat-outdoors" }, silas));
  expect(facts.get("task", rags)?.finished).toMatchObject({ by: silas, how: "flat-outdoors" });
});
