import { describe, expect, test } from "vitest";
import { gate } from "~/core/cure/gate";
import type { Picture } from "~/core/cure/picture";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { pictureOf } from "~/core/shop/picture";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  aCoat,
  aPair,
  aPiece,
  aProduct,
  aSheet,
  aStay,
  aSurface,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  loft,
  monday8,
  paint,
  type Rows,
  readEveryHour,
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
    const press = { subject: { of: "pair", pairId: pair }, kind: "paper-press" };
    expect(rule(withPiece(), record(press)).verdict).toBe("accepted");
    const layer = { subject: { of: "paint-layer", layer: "Green, second" }, kind: "lead-swab" };
    expect(rule(withPiece(), record(layer)).verdict).toBe("accepted");
    const strange = [
      [{ pieceId: id(99) }, "pieceId"],
      [{ subject: { of: "surface", surfaceId: id(161) } }, "surfaceId"],
      [{ subject: { of: "surface", surfaceId: id(99) } }, "surfaceId"],
      [{ subject: { of: "pair", pairId: id(162) }, kind: "paper-press" }, "pairId"],
      [{ subject: { of: "joint", jointId: id(99) }, kind: "pull-or-tap" }, "jointId"],
      [{ subject: { of: "can", canId: id(99) }, kind: "drop-on-glass" }, "canId"],
      [{ subject: { of: "patch", surfaceId: top, productId: id(99) }, kind: "bleed-patch" }, "productId"],
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
    [
      "by a test that speaks of one face's hardness",
      { isApart: false },
      { ...fail, subject: onTop, kind: "fingernail" },
    ],
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
      itsKind: "record-test",
      untilAt: monday8 + 10 * minuteMs,
    });
    expect(refusalOf(rule(tested(), takeBack(fern)))).toMatchObject({ kind: "may-not", role: "owner" });
    expect(refusalOf(rule(withPiece(), takeBack()))).toEqual({ kind: "unknown-thing", field: "testId" });
  });
});

describe("each kind of test", () => {
  test.each([
    ["a thumb twist", "thumb-twist", { of: "can", canId: id(170) }, "surface"],
    ["a drop on glass", "drop-on-glass", onTop, "can"],
    ["a moisture meter", "moisture-meter", onTop, "washed"],
    ["a pull", "pull-or-tap", onTop, "joint"],
    ["a swab", "lead-swab", onTop, "paint-layer"],
    ["a paper press", "paper-press", { of: "washed", surfaceId: top }, "surface or pair"],
  ])("%s is refused on what it does not speak of, with what it does", (_what, kind, subject, expected) => {
    expect(refusalOf(rule(withPiece(), record({ kind, subject })))).toEqual({
      kind: "malformed",
      field: "subject",
      expected,
    });
  });

  const washed = { of: "washed", surfaceId: top };
  test("with a scale needs the number that was read, in its unit and within what the instrument can show", () => {
    const meter = (measured?: unknown) =>
      rule(withPiece(), record({ kind: "moisture-meter", subject: washed, measured }));
    expect(meter({ value: 11.5, unit: "percent" }).verdict).toBe("accepted");
    expect(refusalOf(meter())).toMatchObject({ kind: "malformed", field: "measured" });
    expect(refusalOf(meter({ value: 11.5, unit: "gram" }))).toMatchObject({ kind: "malformed", field: "measured" });
    expect(refusalOf(meter({ value: 60.1, unit: "percent" }))).toMatchObject({
      kind: "out-of-bounds",
      min: 0,
      max: 60,
    });
    const scale = (value: number) =>
      rule(withPiece(), record({ kind: "weight", subject: washed, measured: { value, unit: "gram" } }));
    expect(scale(1_000_000).verdict).toBe("accepted");
    expect(scale(0).verdict).toBe("refused");
    const thumb = record({ measured: { value: 3, unit: "percent" } });
    expect(refusalOf(rule(withPiece(), thumb))).toMatchObject({ kind: "malformed", field: "measured" });
  });
});

/** An enamelled top in a loft at its sheet's own 21 °C: handled after a day by the clock. */
const curing = () => {
  const laidAt = monday8 - 2 * dayMs;
  const facts = withPiece({
    roomStay: [aStay()],
    product: [aProduct()],
    sheet: [aSheet()],
    reading: readEveryHour(laidAt - dayMs, laidAt + 2 * dayMs),
    coat: [
      aCoat({
        id: id(171),
        state: "applied",
        applied: { startedAt: laidAt, endedAt: laidAt, by: [fern], roomId: loft, scuffedBefore: false },
      }),
    ],
  });
  return { facts, laidAt };
};
const observations = (facts: MemoryFacts) => facts.get("product", paint)?.observations ?? [];
const carry = { action: "move", carried: "hands" } as const;
const carried = (facts: MemoryFacts, at: number) => gate(pictureOf(facts, dresser) as Picture, carry, at);

describe("a test of film", () => {
  test("teaches its product how far the film had come, and says when it opens or shuts a gate", () => {
    const { facts, laidAt } = curing();
    const half = laidAt + 12 * hourMs;
    const pass = rule(facts, record({}, fern, { at: half }));
    expect(eventKinds(pass)).toEqual(["test-recorded", "gate-opened-by-test"]);
    expect(observations(facts)).toEqual([{ testId: test1, at: half, result: "pass", ratio: 0.5 }]);
    const fail = rule(facts, record({ testId: id(602), result: "fail" }, hanna, { at: half + 6 * hourMs }));
    expect(eventKinds(fail)).toEqual(["test-recorded", "gate-shut-by-test"]);
    expect(observations(facts)).toMatchObject([{ ratio: 0.5 }, { result: "fail", ratio: 0.75 }]);
    // it shuts whatever the clock says
    expect(carried(facts, monday8).needs).toMatchObject([{ kind: "test-says-no", testId: id(602) }]);
  });

  test("by a helper turns no gate early, and teaches all the same", () => {
    const { facts, laidAt } = curing();
    expect(eventKinds(rule(facts, record({}, hanna, { at: laidAt + 12 * hourMs })))).toEqual(["test-recorded"]);
    expect(observations(facts)).toHaveLength(1);
  });

  test("that is taken back has taught nothing", () => {
    const { facts, laidAt } = curing();
    rule(facts, record({}, fern, { at: laidAt + 12 * hourMs }));
    rule(facts, envelopeOf("take-back-test", { testId: test1 }, fern, { at: laidAt + 12 * hourMs + minuteMs }));
    expect(observations(facts)).toEqual([]);
  });

  test("is one of the last two hundred that a product remembers", () => {
    const { facts, laidAt } = curing();
    const old = { at: laidAt, result: "pass" as const, ratio: 1 };
    const many = Array.from({ length: 200 }, (_, index) => ({ testId: id(10_000 + index), ...old }));
    facts.put("product", aProduct({ observations: many }));
    rule(facts, record({}, fern, { at: laidAt + 12 * hourMs }));
    expect(observations(facts)).toHaveLength(200);
    expect([observations(facts)[0]?.testId, observations(facts).at(-1)?.testId]).toEqual([id(10_001), test1]);
  });

  test("told twice is written down once", () => {
    const { facts, laidAt } = curing();
    rule(facts, record({}, fern, { at: laidAt + 12 * hourMs }));
    expect(rule(facts, record({}, fern, { at: laidAt + 13 * hourMs }))).toEqual({ verdict: "accepted", events: [] });
    expect(observations(facts)).toHaveLength(1);
  });
});

describe("a helper's passed test is confirmed", () => {
  const confirm = (by: string, at = monday8 - 30 * hourMs, body = { confirmationId: id(650), testId: test1 }) =>
    envelopeOf("confirm-test", body, by, { at });
  const passed = (more: Record<string, unknown> = {}, by = hanna) => {
    const { facts, laidAt } = curing();
    rule(facts, record(more, by, { at: laidAt + 12 * hourMs }));
    return facts;
  };

  test("by a partner, and opens from that moment on", () => {
    const facts = passed();
    const yesAt = monday8 - 30 * hourMs;
    expect(carried(facts, yesAt).state).toBe("shut");
    expect(eventKinds(rule(facts, confirm(silas)))).toEqual(["test-confirmed"]);
    expect(facts.get("confirmation", id(650))).toEqual({
      id: id(650),
      pieceId: dresser,
      testId: test1,
      by: silas,
      at: yesAt,
    });
    expect(carried(facts, yesAt - 1).state).toBe("shut");
    expect(carried(facts, yesAt)).toMatchObject({ state: "open", evidence: "test", sinceAt: yesAt });
    expect(rule(facts, confirm(fern, yesAt, { confirmationId: id(651), testId: test1 })).events).toEqual([]);
  });

  test("not by a helper; a failed one needs nobody's yes, a partner's own neither", () => {
    expect(refusalOf(rule(passed(), confirm(hanna)))).toMatchObject({ kind: "may-not", needs: ["owner", "partner"] });
    expect(refusalOf(rule(passed({ result: "fail" }), confirm(fern)))).toMatchObject({ kind: "malformed" });
    expect(rule(passed({}, silas), confirm(fern))).toEqual({ verdict: "accepted", events: [] });
    const nothing = confirm(fern, monday8, { confirmationId: id(650), testId: id(699) });
    expect(refusalOf(rule(passed(), nothing))).toEqual({ kind: "unknown-thing", field: "testId" });
  });
});

describe("a drop on glass", () => {
  const drop = (result: string, number = 1, at = monday8) =>
    envelopeOf(
      "record-test",
      { testId: id(660 + number), subject: { of: "can", canId: id(172) }, kind: "drop-on-glass", result },
      hanna,
      { at },
    );
  const can = { id: id(172), productId: paint, label: "Can 4", filledMillilitres: 1000, isLabelled: true };
  const shelf = () => withPiece({ product: [aProduct()], can: [can] });

  test("is told of a can without a piece, and is the can's latest word", () => {
    const facts = shelf();
    expect(rule(facts, drop("pass")).verdict).toBe("accepted");
    expect(facts.get("test", id(661))).not.toHaveProperty("pieceId");
    expect(facts.get("can", can.id)?.dropTest).toEqual({ testId: id(661), at: monday8, result: "pass" });
    rule(facts, drop("fail", 2, monday8 + hourMs));
    expect(facts.get("can", can.id)?.dropTest?.result).toBe("fail");
    rule(facts, drop("pass", 3, monday8 + minuteMs));
    expect(facts.get("can", can.id)?.dropTest?.result).toBe("fail");
  });

  test("that still waits, or is taken back, says nothing of the can", () => {
    const facts = shelf();
    rule(facts, drop("pending"));
    expect(facts.get("can", can.id)).not.toHaveProperty("dropTest");
    rule(facts, drop("pass", 2));
    rule(facts, envelopeOf("take-back-test", { testId: id(662) }, hanna, { at: monday8 + minuteMs }));
    expect(facts.get("can", can.id)?.dropTest).toBeUndefined();
  });
});

describe("what tests have taught of a product", () => {
  const switched = (isFactorOn: boolean, by = fern) => envelopeOf("set-factor", { productId: paint, isFactorOn }, by);
  test("is switched off and on by a partner, and is on unless somebody did", () => {
    const facts = withPiece({ product: [aProduct()] });
    expect(rule(facts, switched(true)).events).toEqual([]);
    expect(eventKinds(rule(facts, switched(false)))).toEqual(["factor-switched-off"]);
    expect(facts.get("product", paint)?.isFactorOn).toBe(false);
    expect(eventKinds(rule(facts, switched(true, silas)))).toEqual(["factor-switched-on"]);
    expect(refusalOf(rule(facts, switched(false, hanna)))).toMatchObject({ kind: "may-not" });
  });
});
