import { expect, test } from "vitest";
import type { Row } from "~/core/shop/tables";
import { dayMs, hourMs } from "~/core/units";
import {
  aCoat,
  alreadySo,
  aPair,
  aPiece,
  aSurface,
  aWetCoat,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  loft,
  monday8,
  readEveryHour,
  refusalOf,
  rule,
  shopWith,
  shopWithDresser,
  silas,
  top,
} from "../support/shop";

const made = id(501);
const next = id(502);
const onFriday = { day: "2026-10-30" };
/** The first instant after Friday 30 October in New York, still at UTC−4. Source: IANA time zone data. */
const fridayEnds = Date.UTC(2026, 9, 31, 4);
const body = { promiseId: made, pieceId: dresser, sort: "photos", due: onFriday, toWhom: "ourselves" };

const aPromise = (row: Partial<Row<"promise">> = {}): Row<"promise"> => ({
  id: made,
  pieceId: dresser,
  sort: "photos",
  dueAt: fridayEnds,
  isWholeDay: true,
  toWhom: "ourselves",
  state: "made",
  isKnowinglyEarly: false,
  ...row,
});
const withPromise = (row: Partial<Row<"promise">> = {}) => shopWith({ piece: [aPiece()], promise: [aPromise(row)] });

test("a promise to a day is kept until that day is over in the shop", () => {
  const facts = shopWith({ piece: [aPiece()] });
  expect(eventKinds(rule(facts, envelopeOf("promise", body, silas)))).toEqual(["promised"]);
  expect(facts.get("promise", made)).toEqual(aPromise());
});

test("a promise to an hour is due at that hour", () => {
  const facts = shopWith({ piece: [aPiece()] });
  const at = monday8 + 2 * dayMs;
  rule(facts, envelopeOf("promise", { ...body, sort: "collection", toWhom: "buyer", due: { at } }, silas));
  expect(facts.get("promise", made)).toMatchObject({ dueAt: at, isWholeDay: false });
});

test("a piece has one promise of a sort that stands; another sort is another promise", () => {
  const facts = withPromise();
  const second = { ...body, promiseId: next };
  expect(refusalOf(rule(facts, envelopeOf("promise", second, silas)))).toEqual({
    kind: "promise-stands",
    promiseId: made,
    dueAt: fridayEnds,
  });
  expect(rule(facts, envelopeOf("promise", { ...second, sort: "delivery" }, silas)).verdict).toBe("accepted");
  for (const state of ["kept", "moved", "dropped"] as const) {
    expect(rule(withPromise({ state }), envelopeOf("promise", second, silas)).verdict).toBe("accepted");
  }
});

test("nothing is promised for before now, nor for more than two years ahead", () => {
  const facts = shopWith({ piece: [aPiece()] });
  const [min, max] = [monday8, monday8 + 731 * dayMs];
  for (const at of [min - 1, max + 1]) {
    expect(refusalOf(rule(facts, envelopeOf("promise", { ...body, due: { at } }, silas)))).toEqual({
      kind: "out-of-bounds",
      field: "due",
      found: at,
      min,
      max,
    });
  }
  const today = { ...body, due: { day: "2026-10-26" } };
  expect(rule(facts, envelopeOf("promise", today, silas)).verdict).toBe("accepted");
});

test("the 30th of February is no day to promise", () => {
  const refusal = refusalOf(
    rule(shopWith({ piece: [aPiece()] }), envelopeOf("promise", { ...body, due: { day: "2027-02-30" } }, silas)),
  );
  expect(refusal).toEqual({ kind: "malformed", field: "due.day", expected: "a day that exists" });
});

test("nothing is promised of a piece that has left or that we never had, and a helper promises nothing", () => {
  const left = shopWith({ piece: [aPiece({ archivedAt: monday8 - dayMs })] });
  expect(refusalOf(rule(left, envelopeOf("promise", body, silas)))).toEqual({
    kind: "after-it-left",
    thing: "K-201",
    happenedAt: monday8,
    leftAt: monday8 - dayMs,
  });
  expect(refusalOf(rule(shopWith(), envelopeOf("promise", body, silas)))).toEqual({
    kind: "unknown-thing",
    field: "pieceId",
  });
  const refusal = refusalOf(rule(shopWith({ piece: [aPiece()] }), envelopeOf("promise", body, hanna)));
  expect(refusal).toMatchObject({ kind: "may-not", role: "helper", needs: ["owner", "partner"] });
});

/** Painted until seven on Monday, in a loft read every hour at exactly the sheet's own 21 °C and 50 % RH. */
const painted = (promise: Row<"promise">[] = []) =>
  shopWithDresser({
    coat: [aWetCoat({ id: id(121) })],
    reading: readEveryHour(monday8 - 8 * dayMs, monday8),
    promise,
  });
/** At the sheet's own air a minute is a minute: 1440 of them after seven on Monday it may be carried for photos. */
const tuesday7 = monday8 - hourMs + dayMs;

test("photos are not promised for before the film may be handled; the refusal names the earliest honest time", () => {
  const early = { ...body, due: { at: tuesday7 - hourMs } };
  expect(refusalOf(rule(painted(), envelopeOf("promise", early, silas)))).toMatchObject({
    kind: "promise-too-early",
    dueAt: tuesday7 - hourMs,
    safeAt: tuesday7,
    earliestAt: tuesday7,
    heldBy: { surfaceId: top },
  });
  expect(rule(painted(), envelopeOf("promise", { ...body, due: { at: tuesday7 } }, silas)).verdict).toBe("accepted");
});

test("a collection waits until the drawer may lie shut against its carcass; photos do not", () => {
  const drawer = id(105);
  const facts = painted();
  facts.put("surface", aSurface({ id: drawer, name: "Drawer" }));
  facts.put("pair", aPair({ surfaceB: drawer }));
  const atTuesday7 = { ...body, due: { at: tuesday7 } };
  const collection = { ...atTuesday7, promiseId: next, sort: "collection", toWhom: "buyer" };
  expect(refusalOf(rule(facts, envelopeOf("promise", collection, silas)))).toMatchObject({
    kind: "promise-too-early",
    // 10 080 min on the sheet from seven on Monday, at the sheet's own air
    safeAt: monday8 - hourMs + 7 * dayMs,
  });
  expect(rule(facts, envelopeOf("promise", atTuesday7, silas)).verdict).toBe("accepted");
});

test("coats that are still planned do not hide that the one below is too wet", () => {
  const facts = painted();
  facts.put("coat", aCoat({ id: id(122), position: 2 }));
  const early = { ...body, due: { at: tuesday7 - hourMs } };
  expect(refusalOf(rule(facts, envelopeOf("promise", early, silas)))).toMatchObject({
    kind: "promise-too-early",
    safeAt: tuesday7,
  });
});

test("a film in a room that nobody reads has no honest date", () => {
  const facts = painted();
  for (const reading of facts.readings(loft, 0)) facts.put("reading", { ...reading, retractedAt: monday8 });
  const refusal = refusalOf(rule(facts, envelopeOf("promise", body, silas)));
  expect(refusal).toMatchObject({ kind: "promise-too-early", dueAt: fridayEnds });
  expect(refusal.earliestAt).toBeUndefined();
});

test("whoever promises too early knowingly says why, and the board shows that it is at risk", () => {
  const facts = painted();
  const knowingly = { ...body, due: { at: tuesday7 - hourMs }, knowingly: true };
  expect(refusalOf(rule(facts, envelopeOf("promise", knowingly, silas)))).toEqual({
    kind: "reason-missing",
    reasons: ["why"],
  });
  rule(facts, envelopeOf("promise", { ...knowingly, why: "They bring their own blankets" }, silas));
  expect(facts.get("promise", made)).toMatchObject({ isKnowinglyEarly: true, why: "They bring their own blankets" });
});

test("a promise that is not too early is not marked as one, whatever was ticked", () => {
  const facts = painted();
  rule(facts, envelopeOf("promise", { ...body, knowingly: true }, silas));
  expect(facts.get("promise", made)?.isKnowinglyEarly).toBe(false);
});

const move = {
  promiseId: made,
  newPromiseId: next,
  due: { day: "2026-11-02" },
  why: "The heater tripped",
  was: fridayEnds,
};

test("a moved promise stays on record with the one that takes its place", () => {
  const facts = withPromise();
  expect(eventKinds(rule(facts, envelopeOf("move-promise", move, fern)))).toEqual(["promise-moved"]);
  expect(facts.get("promise", made)).toEqual(aPromise({ state: "moved", movedTo: next }));
  // Monday 2 November ends at UTC−5: the clocks have changed. Source: IANA time zone data
  expect(facts.get("promise", next)).toEqual(
    aPromise({ id: next, dueAt: Date.UTC(2026, 10, 3, 5), why: "The heater tripped" }),
  );
});

test("a promise is moved with a reason, from where it is, and not to too early", () => {
  const { why: _, ...silent } = move;
  expect(refusalOf(rule(withPromise(), envelopeOf("move-promise", silent, fern)))).toMatchObject({
    kind: "malformed",
    field: "why",
  });
  const stale = { ...move, was: fridayEnds - dayMs };
  expect(refusalOf(rule(withPromise(), envelopeOf("move-promise", stale, fern)))).toEqual({
    kind: "changed-meanwhile",
    field: "dueAt",
    was: fridayEnds - dayMs,
    theirs: fridayEnds,
  });
  const early = { ...move, due: { at: tuesday7 - hourMs } };
  expect(refusalOf(rule(painted([aPromise()]), envelopeOf("move-promise", early, fern)))).toMatchObject({
    kind: "promise-too-early",
    safeAt: tuesday7,
  });
});

test("a promise is dropped with a reason or kept, and either is said once", () => {
  const dropped = withPromise();
  const drop = { promiseId: made, why: "The buyer changed their mind" };
  expect(eventKinds(rule(dropped, envelopeOf("drop-promise", drop, silas)))).toEqual(["promise-dropped"]);
  expect(dropped.get("promise", made)).toEqual(aPromise({ state: "dropped", why: drop.why }));
  expect(rule(dropped, envelopeOf("drop-promise", drop, fern))).toEqual(alreadySo);

  const kept = withPromise();
  expect(eventKinds(rule(kept, envelopeOf("keep-promise", { promiseId: made }, silas)))).toEqual(["promise-kept"]);
  expect(kept.get("promise", made)).toEqual(aPromise({ state: "kept" }));
  expect(rule(kept, envelopeOf("keep-promise", { promiseId: made }, fern))).toEqual(alreadySo);
});

const ends = {
  "move-promise": move,
  "drop-promise": { promiseId: made, why: "Changed" },
  "keep-promise": { promiseId: made },
};

test.each(Object.entries(ends))(
  "%s comes too late for a promise that was moved, and finds none that was never made",
  (kind, ending) => {
    const moved = withPromise({ state: "moved", movedTo: id(503) });
    expect(refusalOf(rule(moved, envelopeOf(kind, ending, fern)))).toEqual({
      kind: "changed-meanwhile",
      field: "state",
      was: "made",
      theirs: "moved",
    });
    const never = rule(withPromise(), envelopeOf(kind, { ...ending, promiseId: id(99) }, fern));
    expect(refusalOf(never)).toEqual({ kind: "unknown-thing", field: "promiseId" });
    expect(refusalOf(rule(withPromise(), envelopeOf(kind, ending, hanna)))).toMatchObject({
      kind: "may-not",
      role: "helper",
    });
  },
);
