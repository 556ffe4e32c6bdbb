import { describe, expect, test } from "vitest";
import type { Row } from "~/core/shop/tables";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  aClaim,
  aPiece,
  aProduct,
  aSheet,
  aTask,
  bench,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  loft,
  monday8,
  type Rows,
  readEveryHour,
  refusalOf,
  rule,
  shopWithDresser,
  silas,
  van,
} from "../support/shop";

const [glue, glueSheet, rails, gluing] = [id(201), id(202), id(203), id(204)];

/** A dresser in repair in a loft read every hour, warm enough for glue to count every minute. */
const inRepair = (rows: Rows = {}, celsiusAt: (hour: number) => number = () => 22) =>
  shopWithDresser({
    piece: [aPiece({ stage: "repair" })],
    product: [aProduct({ id: glue, name: "White glue", family: "glue" }), aProduct()],
    sheet: [
      aSheet({
        id: glueSheet,
        productId: glue,
        mechanism: "glue",
        clampMin: 60,
        fullStrengthMin: 24 * 60,
        chalkCelsius: 10,
      }),
      aSheet(),
    ],
    task: [aTask({ id: gluing, title: "Glue the rails", sort: "repair", methods: ["glue"] })],
    reading: readEveryHour(monday8 - 10 * dayMs, monday8 + 4 * dayMs, (at) => celsiusAt((at - monday8) / hourMs)),
    ...rows,
  });
const aJoint = (row: Partial<Row<"joint">> = {}): Row<"joint"> => ({
  id: rails,
  pieceId: dresser,
  name: "Rails",
  sheetId: glueSheet,
  roomId: loft,
  gluedAt: monday8,
  by: silas,
  squeeze: "clamped",
  isStressed: false,
  ...row,
});
const glued = (body: Record<string, unknown> = {}, by = silas, at = monday8) =>
  envelopeOf(
    "log-joint",
    {
      jointId: rails,
      pieceId: dresser,
      name: "Rails",
      sheetId: glueSheet,
      roomId: loft,
      squeeze: "clamped",
      stance: "asking",
      ...body,
    },
    by,
    { at },
  );
const released = (at: number, stance = "asking", by = silas) =>
  envelopeOf("release-joint", { jointId: rails, stance }, by, { at });
const tried = (kind: string, result: string, at: number, by = fern, testId = id(300 + (at % 97))) =>
  envelopeOf("record-test", { testId, pieceId: dresser, subject: { of: "joint", jointId: rails }, kind, result }, by, {
    at,
  });
const stage = (fromStage: string, toStage: string, at: number) =>
  envelopeOf("move-stage", { pieceId: dresser, fromStage, toStage }, fern, { at });

describe("gluing", () => {
  test("is kept with who, where and when, and its task knows which joint it was", () => {
    const facts = inRepair();
    expect(eventKinds(rule(facts, glued({ taskId: gluing })))).toEqual(["joint-glued"]);
    expect(facts.get("joint", rails)).toMatchObject({ by: silas, roomId: loft, gluedAt: monday8, isStressed: false });
    expect(facts.get("task", gluing)?.jointId).toBe(rails);
  });

  test.each([
    ["with paint", { sheetId: id(112) }, "sheetId"],
    ["in a room that is not there", { roomId: id(999) }, "roomId"],
    ["for a task that glues nothing", { taskId: id(205) }, "taskId"],
    ["on a piece that is not there", { pieceId: id(999) }, "pieceId"],
  ])("%s is not known here", (_title, body, field) => {
    const facts = inRepair();
    facts.put("task", aTask({ id: id(205), title: "Scrape", sort: "repair" }));
    expect(refusalOf(rule(facts, glued(body)))).toEqual({ kind: "unknown-thing", field });
  });

  test("in a van is nobody's to allow: no thermometer is read there", () => {
    expect(refusalOf(rule(inRepair(), glued({ roomId: van }))).kind).toBe("gate-needs-reading");
  });

  test("before the piece came is refused with the day on which it came; a bookkeeper glues nothing", () => {
    const facts = inRepair({ piece: [aPiece({ stage: "repair", acquiredOn: "2026-10-27" })] });
    expect(refusalOf(rule(facts, glued())).kind).toBe("before-it-existed");
    expect(refusalOf(rule(inRepair(), glued({}, bruno))).kind).toBe("may-not");
  });

  test("told twice is one joint", () => {
    const facts = inRepair();
    rule(facts, glued());
    expect(rule(facts, glued())).toEqual({ verdict: "accepted", events: [] });
  });
});

describe("clamps", () => {
  test("asked off before their time are refused with the joint and when; they come off to the minute", () => {
    const facts = inRepair({ joint: [aJoint()] });
    expect(refusalOf(rule(facts, released(monday8 + 59 * minuteMs)))).toMatchObject({
      kind: "joint-not-ready",
      jointId: rails,
      clampOffAt: monday8 + hourMs,
      fullStrengthAt: monday8 + dayMs,
      earliestAt: monday8 + hourMs,
    });
    expect(rule(facts, released(monday8 + hourMs)).verdict).toBe("accepted");
    expect(facts.get("joint", rails)?.releasedAt).toBe(monday8 + hourMs);
    expect(facts.where("passedOver", "pieceId", dresser)).toEqual([]);
    expect(rule(facts, released(monday8 + 2 * hourMs))).toEqual({ verdict: "accepted", events: [] });
  });

  test("that are off already are kept as told, marked, and that joint is looked at", () => {
    const facts = inRepair({ joint: [aJoint()] });
    expect(rule(facts, released(monday8 + 20 * minuteMs, "done")).verdict).toBe("accepted");
    expect(facts.get("joint", rails)?.releasedAt).toBe(monday8 + 20 * minuteMs);
    const [passed] = facts.where("passedOver", "pieceId", dresser);
    expect(passed?.evidence).toMatchObject({ action: "release", state: "shut", neededMin: 60 });
    expect(facts.where("task", "pieceId", dresser)).toMatchObject([
      { id: gluing },
      { sort: "inspect", jointId: rails },
    ]);
  });

  test("cannot come off before they went on", () => {
    const facts = inRepair({ joint: [aJoint()] });
    expect(refusalOf(rule(facts, released(monday8 - hourMs))).kind).toBe("before-it-existed");
  });

  test("hold a piece that is gripped, not one on bearers", () => {
    const facts = inRepair({ joint: [aJoint()] });
    const carry = (carried: string, roomId: string, at: number) =>
      envelopeOf("move-room", { pieceId: dresser, roomId, carried, stance: "asking" }, silas, { at });
    const soon = monday8 + 30 * minuteMs;
    expect(refusalOf(rule(facts, carry("hands", bench, soon)))).toMatchObject({
      kind: "joint-not-ready",
      jointId: rails,
      earliestAt: monday8 + hourMs,
    });
    expect(rule(facts, carry("bearers", bench, soon)).verdict).toBe("accepted");
  });
});

describe("the stages of a piece with a joint", () => {
  const past = { task: [aTask({ id: gluing, sort: "repair", methods: ["glue"], state: "finished" })] };

  test("leave repair once its clamps are off, and prep at full strength", () => {
    const facts = inRepair({ ...past, joint: [aJoint()] });
    expect(refusalOf(rule(facts, stage("repair", "prep", monday8 + 30 * minuteMs)))).toMatchObject({
      kind: "joint-not-ready",
      earliestAt: monday8 + hourMs,
    });
    expect(rule(facts, stage("repair", "prep", monday8 + hourMs)).verdict).toBe("accepted");
    expect(refusalOf(rule(facts, stage("prep", "finish", monday8 + 20 * hourMs)))).toMatchObject({
      kind: "joint-not-ready",
      earliestAt: monday8 + dayMs,
    });
    expect(rule(facts, stage("prep", "finish", monday8 + dayMs)).verdict).toBe("accepted");
  });

  test("wait for the last of several joints", () => {
    const later = aJoint({ id: id(206), name: "Stretcher", gluedAt: monday8 + 6 * hourMs });
    const facts = inRepair({ ...past, joint: [aJoint(), later] });
    expect(refusalOf(rule(facts, stage("repair", "prep", monday8 + 6 * hourMs)))).toMatchObject({
      jointId: later.id,
      earliestAt: monday8 + 7 * hourMs,
    });
  });

  const cold = (hour: number) => (hour >= 4 && hour < 9 ? 7 : 22);

  test("do not go on over a suspect joint, whatever the hours, until a hand has judged it", () => {
    const facts = inRepair({ ...past, joint: [aJoint()] }, cold);
    const at = monday8 + 40 * hourMs;
    expect(refusalOf(rule(facts, stage("repair", "prep", at)))).toMatchObject({
      kind: "joint-suspect",
      lowestCelsius: 7,
    });
    expect(rule(facts, tried("pull-or-tap", "pass", at)).verdict).toBe("accepted");
    expect(rule(facts, stage("repair", "prep", at)).verdict).toBe("accepted");
  });

  test("go on after a helper's pull only when a partner has confirmed it", () => {
    const facts = inRepair({ ...past, joint: [aJoint()] }, cold);
    const at = monday8 + 40 * hourMs;
    const testId = id(310);
    rule(facts, tried("pull-or-tap", "pass", at, hanna, testId));
    expect(refusalOf(rule(facts, stage("repair", "prep", at))).kind).toBe("joint-suspect");
    const yes = envelopeOf("confirm-test", { confirmationId: id(311), testId }, silas, { at: at + minuteMs });
    expect(rule(facts, yes).verdict).toBe("accepted");
    expect(rule(facts, stage("repair", "prep", at + 2 * minuteMs)).verdict).toBe("accepted");
  });
});

describe("a joint that failed its pull", () => {
  const cold = (hour: number) => (hour >= 4 && hour < 9 ? 7 : 22);
  const at = monday8 + 40 * hourMs;
  const finished = aTask({ id: gluing, sort: "repair", methods: ["glue"], state: "finished", jointId: rails });

  test("opens its gluing again as rework with the cold as its cause, and nobody need look any more", () => {
    const look = aTask({ id: id(207), sort: "inspect", jointId: rails, state: "held" });
    const held = aClaim({ id: id(208), taskId: look.id });
    const facts = inRepair({ task: [finished, look], claim: [held], joint: [aJoint()] }, cold);
    expect(rule(facts, tried("chalk-look", "fail", at, hanna)).verdict).toBe("accepted");
    expect(facts.get("joint", rails)?.verdict).toMatchObject({ result: "failed", by: hanna });
    expect(facts.get("task", gluing)).toMatchObject({ state: "open", reworkCause: "cold glue" });
    expect(facts.get("task", gluing)?.finished).toBeUndefined();
    expect(facts.get("task", look.id)).toMatchObject({ state: "finished", finished: { by: hanna } });
    expect(facts.get("claim", held.id)?.ending).toBe("finished");
  });

  test("names the test as the cause where it was never cold, and makes the work where none was a task", () => {
    const facts = inRepair({ task: [], joint: [aJoint()] });
    rule(facts, tried("pull-or-tap", "fail", at));
    expect(facts.where("task", "pieceId", dresser)).toMatchObject([
      { sort: "repair", methods: ["glue"], jointId: rails, reworkCause: "failed the pull or tap", state: "open" },
    ]);
  });

  test("is not there any more once it is glued again under its name: the new gluing counts", () => {
    const facts = inRepair({ task: [finished], joint: [aJoint()] }, cold);
    rule(facts, tried("pull-or-tap", "fail", at));
    rule(facts, envelopeOf("finish-task", { taskId: gluing }, silas, { at }));
    expect(refusalOf(rule(facts, stage("repair", "prep", at)))).toMatchObject({
      kind: "joint-not-ready",
      isFailed: true,
    });
    const again = glued({ jointId: id(209), name: "rails ", taskId: gluing }, silas, at + hourMs);
    expect(rule(facts, again).verdict).toBe("accepted");
    expect(refusalOf(rule(facts, stage("repair", "prep", at + hourMs)))).toMatchObject({ jointId: id(209) });
    expect(rule(facts, stage("repair", "prep", at + 2 * hourMs)).verdict).toBe("accepted");
  });
});

describe("joints to be looked at", () => {
  const look = (jointIds: string[], by = hanna) => envelopeOf("inspect-joints", { jointIds }, by);

  test("are a task each, once: one that somebody is asked to look at is left", () => {
    const other = id(210);
    const facts = inRepair({ joint: [aJoint(), aJoint({ id: other, name: "Stretcher" })] });
    rule(facts, look([rails]));
    expect(eventKinds(rule(facts, look([rails, other, other])))).toEqual(["inspection-asked"]);
    const asked = facts.where("task", "pieceId", dresser).filter(({ sort }) => sort === "inspect");
    expect(asked.map(({ jointId }) => jointId)).toEqual([rails, other]);
  });

  test("may be given a task by hand, if they are the piece's own", () => {
    const facts = inRepair({ joint: [aJoint()] });
    const task = (jointId: string) => ({
      taskId: id(211),
      pieceId: dresser,
      title: "Look again",
      sort: "inspect",
      jointId,
    });
    expect(refusalOf(rule(facts, envelopeOf("add-task", task(id(999)), hanna)))).toEqual({
      kind: "unknown-thing",
      field: "jointId",
    });
    expect(rule(facts, envelopeOf("add-task", task(rails), hanna)).verdict).toBe("accepted");
    expect(facts.get("task", id(211))?.jointId).toBe(rails);
  });

  test("that are not there are not known; a bookkeeper asks for no inspection", () => {
    expect(refusalOf(rule(inRepair(), look([rails])))).toEqual({ kind: "unknown-thing", field: "jointIds" });
    expect(refusalOf(rule(inRepair({ joint: [aJoint()] }), look([rails], bruno))).kind).toBe("may-not");
  });
});
