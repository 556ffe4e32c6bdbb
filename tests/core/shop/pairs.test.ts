import { describe, expect, test } from "vitest";
import { dayMs, hourMs } from "~/core/units";
import {
  alreadySo,
  aPair,
  aSurface,
  aWetCoat,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  readEveryHour,
  refusalOf,
  rule,
  shopWithDresser,
  silas,
  top,
} from "../support/shop";

const [pair, drawer] = [id(104), id(105)];
/** Painted until seven on Monday at the sheet's own air, read every hour for nine days after. */
const painted = (row: Partial<ReturnType<typeof aPair>> = {}) =>
  shopWithDresser({
    surface: [aSurface(), aSurface({ id: drawer, name: "Drawer" })],
    pair: [aPair(row)],
    coat: [aWetCoat({ id: id(121) })],
    reading: readEveryHour(monday8 - 8 * dayMs, monday8 + 9 * dayMs),
  });
/** On the sheet: 1440 min to handling, 10 080 min to faces in contact. */
const [handled, pressed] = [monday8 - hourMs + dayMs, monday8 - hourMs + 7 * dayMs];
const press = (at: number, more: Record<string, unknown> = {}, by = hanna) =>
  envelopeOf("press-together", { pairId: pair, stance: "asking", ...more }, by, { at });
const apart = (at: number, by = hanna) => envelopeOf("set-apart", { pairId: pair }, by, { at });

describe("two faces", () => {
  test("lie together from the minute when the later film is ready, not a millisecond before", () => {
    const facts = painted();
    expect(refusalOf(rule(facts, press(pressed - 1)))).toMatchObject({
      kind: "gate-shut",
      action: "press-together",
      heldBy: { milestone: "press-together", surfaceId: top, surfaceB: drawer, pairId: pair },
      safeAt: pressed,
      earliestAt: pressed,
      neededMin: 10_080,
    });
    expect(eventKinds(rule(facts, press(pressed)))).toEqual(["pair-pressed"]);
    expect(facts.get("pair", pair)).toEqual(aPair({ isApart: false, changedAt: pressed }));
    expect(rule(facts, press(pressed + hourMs))).toEqual(alreadySo);
  });

  test("may lie on felt once they may be handled", () => {
    const facts = painted();
    expect(refusalOf(rule(facts, press(handled - 1, { spacer: "felt" })))).toMatchObject({
      kind: "gate-shut",
      heldBy: { milestone: "handle" },
      safeAt: handled,
    });
    rule(facts, press(handled, { spacer: "felt" }));
    expect(facts.get("pair", pair)).toMatchObject({ isApart: false, spacer: "felt" });
    // without the felt it is another matter
    expect(refusalOf(rule(facts, press(handled)))).toMatchObject({ kind: "gate-shut", safeAt: pressed });
  });

  test("that were shut early are recorded so, and somebody looks for prints", () => {
    const facts = painted();
    const ruling = rule(facts, press(monday8, { stance: "done" }));
    expect(eventKinds(ruling)).toEqual(["pair-pressed"]);
    expect(facts.get("pair", pair)?.isApart).toBe(false);
    expect(facts.where("passedOver", "pieceId", dresser)).toMatchObject([
      { by: hanna, at: monday8, evidence: { action: "press-together", state: "shut", safeAt: pressed } },
    ]);
    expect(facts.where("task", "pieceId", dresser)).toMatchObject([{ sort: "inspect", surfaceIds: [top, drawer] }]);
  });

  test("are set apart at any time, once", () => {
    const facts = painted({ isApart: false, spacer: "felt" });
    expect(eventKinds(rule(facts, apart(monday8)))).toEqual(["pair-apart"]);
    expect(facts.get("pair", pair)).toEqual(aPair({ changedAt: monday8 }));
    expect(rule(facts, apart(monday8))).toEqual(alreadySo);
  });
});

describe("reports of a pair that arrive in the wrong order leave it as the last one said", () => {
  test("pressed at ten and taken apart at eleven, it is apart", () => {
    const [ten, eleven] = [pressed + 2 * hourMs, pressed + 3 * hourMs];
    const inOrder = painted();
    rule(inOrder, press(ten));
    rule(inOrder, apart(eleven));
    const swapped = painted({ isApart: false });
    rule(swapped, apart(eleven));
    expect(rule(swapped, press(ten), eleven + hourMs)).toEqual(alreadySo);
    expect(swapped.get("pair", pair)).toEqual(inOrder.get("pair", pair));
    expect(swapped.get("pair", pair)).toMatchObject({ isApart: true, changedAt: eleven });
  });

  test("an early pressing that is told of after the pair was taken apart still asks somebody to look", () => {
    const facts = painted({ changedAt: monday8 + 2 * hourMs });
    rule(facts, press(monday8, { stance: "done" }), monday8 + 3 * hourMs);
    expect(facts.get("pair", pair)).toMatchObject({ isApart: true, changedAt: monday8 + 2 * hourMs });
    expect(facts.where("task", "pieceId", dresser)).toMatchObject([{ sort: "inspect" }]);
  });

  test("taken apart before it was pressed again, it stays pressed", () => {
    const facts = painted({ isApart: false, changedAt: pressed });
    expect(rule(facts, apart(pressed - hourMs), pressed + hourMs)).toEqual(alreadySo);
    expect(facts.get("pair", pair)?.isApart).toBe(false);
  });
});

test.each(["press-together", "set-apart"])("%s speaks of a pair that there is, by hands of the floor", (kind) => {
  const body = { pairId: id(99), stance: "asking" };
  expect(refusalOf(rule(painted(), envelopeOf(kind, body, fern)))).toEqual({ kind: "unknown-thing", field: "pairId" });
  expect(refusalOf(rule(painted(), envelopeOf(kind, { ...body, pairId: pair }, bruno)))).toMatchObject({
    kind: "may-not",
    role: "bookkeeper",
  });
  const unmeasured = envelopeOf(kind, { ...body, pairId: pair }, silas, { offsetMs: null });
  expect(refusalOf(rule(painted(), unmeasured)).kind).toBe("clock-not-trusted");
});
