import { describe, expect, test } from "vitest";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  aPair,
  aPiece,
  aSurface,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  type Rows,
  refusalOf,
  rule,
  shopWith,
  silas,
  top,
} from "../support/shop";

const [test1, pair, drawer, elsewhere] = [id(601), id(104), id(105), id(160)];
const withPiece = (rows: Rows = {}) =>
  shopWith({
    piece: [aPiece(), aPiece({ id: elsewhere, number: "K-202" })],
    surface: [aSurface(), aSurface({ id: drawer }), aSurface({ id: id(161), pieceId: elsewhere })],
    pair: [aPair(), aPair({ id: id(162), pieceId: elsewhere })],
    ...rows,
  });
const onTop = { of: "surface", surfaceId: top };
const record = (more: Record<string, unknown> = {}, by = hanna, travel: Parameters<typeof envelopeOf>[3] = {}) =>
  envelopeOf(
    "record-test",
    { testId: test1, pieceId: dresser, subject: onTop, kind: "thumb-twist", result: "pass", ...more },
    by,
    travel,
  );

describe("a hand test", () => {
  test("is kept with whose hand it was, when, and what it found", () => {
    const facts = withPiece();
    const happenedAt = monday8 - hourMs;
    const ruling = rule(facts, record({ result: "unclear", note: "Cold hands" }, hanna, { happenedAt }));
    expect(eventKinds(ruling)).toEqual(["test-recorded"]);
    expect(facts.get("test", test1)).toEqual({
      id: test1,
      pieceId: dresser,
      subject: onTop,
      kind: "thumb-twist",
      result: "unclear",
      note: "Cold hands",
      at: happenedAt,
      by: hanna,
    });
  });

  test("is of a surface, a pair or a layer of this piece's own", () => {
    expect(rule(withPiece(), record({ subject: { of: "pair", pairId: pair } })).verdict).toBe("accepted");
    const layer = { subject: { of: "paint-layer", layer: "Green, second" }, kind: "lead-swab" };
    expect(rule(withPiece(), record(layer)).verdict).toBe("accepted");
    const strange = [
      [{ pieceId: id(99) }, "pieceId"],
      [{ subject: { of: "surface", surfaceId: id(161) } }, "surfaceId"],
      [{ subject: { of: "surface", surfaceId: id(99) } }, "surfaceId"],
      [{ subject: { of: "pair", pairId: id(162) } }, "pairId"],
    ] as const;
    for (const [more, field] of strange) {
      expect(refusalOf(rule(withPiece(), record({ ...more })))).toEqual({ kind: "unknown-thing", field });
    }
  });

  test("is told of at most a day later by a helper, three by a partner, and is not the office's", () => {
    expect(rule(withPiece(), record({}, hanna, { happenedAt: monday8 - dayMs })).verdict).toBe("accepted");
    expect(refusalOf(rule(withPiece(), record({}, hanna, { happenedAt: monday8 - dayMs - 1 })))).toEqual({
      kind: "too-far-back",
      happenedAt: monday8 - dayMs - 1,
      oldestAt: monday8 - dayMs,
      role: "helper",
      mayAsk: ["owner", "partner"],
    });
    expect(rule(withPiece(), record({}, silas, { happenedAt: monday8 - 3 * dayMs })).verdict).toBe("accepted");
    expect(refusalOf(rule(withPiece(), record({}, silas, { happenedAt: monday8 - 3 * dayMs - 1 })))).toMatchObject({
      kind: "too-far-back",
      role: "partner",
      mayAsk: [],
    });
    expect(refusalOf(rule(withPiece(), record({}, bruno)))).toMatchObject({ kind: "may-not", role: "bookkeeper" });
  });

  test("is not made on a piece that has left", () => {
    const facts = withPiece({ piece: [aPiece({ archivedAt: monday8 - hourMs })] });
    expect(rule(facts, record({}, silas, { happenedAt: monday8 - hourMs - 1 })).verdict).toBe("accepted");
    expect(refusalOf(rule(facts, record({ testId: id(602) }, silas, { happenedAt: monday8 - hourMs })))).toEqual({
      kind: "after-it-left",
      thing: "K-201",
      happenedAt: monday8 - hourMs,
      leftAt: monday8 - hourMs,
    });
  });
});

describe("a press test that fails after somebody has pressed the pair in good faith", () => {
  const fail = { subject: { of: "pair", pairId: pair }, kind: "paper-press", result: "fail" };
  const pressed = () => withPiece({ pair: [aPair({ isApart: false })] });

  test("leaves the pair as it is, asks somebody to look, and tells the owner and the partners", () => {
    const facts = pressed();
    const ruling = rule(facts, record(fail, hanna));
    expect(eventKinds(ruling)).toEqual(["test-recorded", "inspection-asked"]);
    expect(facts.get("pair", pair)?.isApart).toBe(false);
    expect(facts.where("task", "pieceId", dresser)).toMatchObject([
      { sort: "inspect", state: "open", surfaceIds: [top, drawer] },
    ]);
    const told = facts.all("notice").map((notice) => [notice.memberId, notice.about]);
    expect(told).toEqual([
      [fern, "test-after-passing"],
      [silas, "test-after-passing"],
    ]);
  });

  test.each([
    ["while the pair stands apart", {}, fail],
    ["by a test that speaks of less than contact", { isApart: false }, { ...fail, kind: "fingertip-on-glass" }],
    ["when it passes", { isApart: false }, { ...fail, result: "pass" }],
  ])("asks for nothing %s", (_when, row, more) => {
    const facts = withPiece({ pair: [aPair(row)] });
    expect(eventKinds(rule(facts, record(more, hanna)))).toEqual(["test-recorded"]);
    expect(facts.all("task")).toEqual([]);
  });
});

describe("a test is taken back", () => {
  const tested = () => {
    const facts = withPiece();
    rule(facts, record());
    return facts;
  };
  const takeBack = (by = hanna, at = monday8 + 10 * minuteMs) =>
    envelopeOf("take-back-test", { testId: test1 }, by, { at });

  test("by its maker within ten minutes, once", () => {
    const facts = tested();
    expect(eventKinds(rule(facts, takeBack()))).toEqual(["test-taken-back"]);
    expect(facts.get("test", test1)?.takenBackAt).toBe(monday8 + 10 * minuteMs);
    expect(rule(facts, takeBack(hanna, monday8 + hourMs))).toEqual({ verdict: "accepted", events: [] });
    expect(facts.get("test", test1)?.takenBackAt).toBe(monday8 + 10 * minuteMs);
  });

  test("not a millisecond later, nor by another, nor when it was never made", () => {
    expect(refusalOf(rule(tested(), takeBack(hanna, monday8 + 10 * minuteMs + 1)))).toEqual({
      kind: "too-late-to-take-back",
      untilAt: monday8 + 10 * minuteMs,
    });
    expect(refusalOf(rule(tested(), takeBack(fern)))).toMatchObject({ kind: "may-not", role: "owner" });
    expect(refusalOf(rule(withPiece(), takeBack()))).toEqual({ kind: "unknown-thing", field: "testId" });
  });
});
