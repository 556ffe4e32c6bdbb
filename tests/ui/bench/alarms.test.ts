import { expect, test } from "vitest";
import { minuteMs } from "~/core/units";
import { alarmsOf, minutesLeft } from "~/ui/bench/alarms";
import {
  aClaim,
  anEntry,
  aPiece,
  aProduct,
  aSheet,
  aSurface,
  aTask,
  aWetCoat,
  fern,
  id,
  monday8,
  type Rows,
  shopWith,
  silas,
  top,
} from "../../core/support/shop";

const leaf = id(106);
// an invented wipe-on sheet: wipe from 10 to 20 minutes after the coat
const wipeOn = aSheet({ wipeFromMin: 10, wipeLatestMin: 20, isOilBearing: "yes" });
const oiled = (more: Rows = {}) =>
  shopWith({
    piece: [aPiece()],
    surface: [aSurface(), aSurface({ id: leaf, name: "Leaf" })],
    product: [aProduct({ name: "O2", family: "oil-varnish" })],
    sheet: [wipeOn],
    coat: [aWetCoat({ id: id(121) }), aWetCoat({ id: id(122), surfaceId: leaf })],
    ...more,
  });
// aWetCoat ended an hour before Monday 08:00
const laidAt = monday8 - 60 * minuteMs;

test("two faces of one piece wiped on together ring one alarm, by the earlier time", () => {
  const { due } = alarmsOf(oiled(), fern, laidAt + 12 * minuteMs);
  expect(due).toHaveLength(1);
  expect(due[0]).toMatchObject({
    kind: "wipe",
    tag: "K-201",
    surfaces: ["top", "leaf"],
    dueAt: laidAt + 20 * minuteMs,
  });
});

test("the alarm rings for whoever laid the coat, not for everybody", () => {
  expect(alarmsOf(oiled(), silas, laidAt + 12 * minuteMs).due).toEqual([]);
});

test("a coat that was wiped, taken off or buried under another rings no longer", () => {
  const wiped = { state: "wiped" as const, wiped: { at: laidAt + 15 * minuteMs, by: fern } };
  const removed = { state: "removed" as const, removed: { at: monday8, how: "sanded" as const, why: "dust" } };
  const facts = oiled({
    coat: [aWetCoat({ id: id(121), ...wiped }), aWetCoat({ id: id(122), surfaceId: leaf, ...removed })],
  });
  expect(alarmsOf(facts, fern, monday8).due).toEqual([]);
  const over = aWetCoat({ id: id(123), position: 2, sheetId: id(113) });
  over.applied = { ...(over.applied as NonNullable<typeof over.applied>), startedAt: monday8, endedAt: monday8 };
  const buried = oiled({
    sheet: [wipeOn, aSheet({ id: id(113) })],
    coat: [aWetCoat({ id: id(121) }), over],
  });
  expect(alarmsOf(buried, fern, monday8).due).toEqual([]);
});

test.each([
  { minutes: 12, left: 8, words: "eight whole minutes are left" },
  { minutes: 12.5, left: 7, words: "a minute begun is not promised" },
  { minutes: 23, left: -3, words: "it is three minutes over" },
])("$minutes minutes after the coat $words", ({ minutes, left }) => {
  expect(minutesLeft(laidAt + 20 * minuteMs, laidAt + minutes * minuteMs)).toBe(left);
});

const rags = aTask({
  id: id(131),
  title: "Put the oily rags away",
  sort: "close-out",
  coatId: id(121),
  dueAt: monday8,
});

test("oily rags are first the business of whoever laid the coat, and everybody's once they are overdue", () => {
  const facts = oiled({ task: [rags] });
  expect(alarmsOf(facts, fern, monday8 - 5 * minuteMs).due.map(({ kind }) => kind)).toContain("rags");
  expect(alarmsOf(facts, silas, monday8 - 5 * minuteMs).due).toEqual([]);
  expect(alarmsOf(facts, silas, monday8).due).toMatchObject([{ kind: "rags", byName: "Fern", tag: "K-201" }]);
});

test("what is due first rings first", () => {
  const facts = oiled({ task: [{ ...rags, dueAt: laidAt + 15 * minuteMs }] });
  expect(alarmsOf(facts, fern, laidAt + minuteMs).due.map(({ kind }) => kind)).toEqual(["rags", "wipe"]);
});

// the usual shop: a claim is held 72 h (4320 min) after the last sign, and its holder asked 24 h (1440 min) before
const heldSince = monday8 - 50 * 60 * minuteMs;
const held = {
  piece: [aPiece()],
  task: [aTask({ id: id(141), state: "held" })],
  claim: [aClaim({ id: id(151), taskId: id(141), lastSignAt: heldSince, claimedAt: heldSince })],
};

test("the holder of a claim is asked a day before it lapses, and not while a timer runs on it", () => {
  expect(alarmsOf(shopWith(held), fern, heldSince + 47 * 60 * minuteMs).leases).toEqual([]);
  expect(alarmsOf(shopWith(held), fern, heldSince + 48 * 60 * minuteMs).leases).toMatchObject([
    { tag: "K-201", endsAt: heldSince + 72 * 60 * minuteMs },
  ]);
  const entry = anEntry({ id: id(161), subjects: [{ pieceId: id(101), stage: "finish", taskId: id(141) }] });
  expect(alarmsOf(shopWith({ ...held, entry: [entry] }), fern, monday8).leases).toEqual([]);
});

test("a timer that ran through the night asks when its person stopped, and suggests their last sign", () => {
  // started 19:30, last sign 22:58, asked from four hours after that (core/labour/forgotten.ts, common practice)
  const startedAt = monday8 - 12.5 * 60 * minuteMs;
  const lastSignAt = startedAt + 208 * minuteMs;
  const facts = shopWith({
    ...held,
    task: [aTask({ id: id(142), state: "finished", finished: { at: lastSignAt, by: fern } })],
    claim: [],
    entry: [anEntry({ id: id(161), startedAt })],
  });
  expect(alarmsOf(facts, fern, lastSignAt + 239 * minuteMs).forgotten).toBeUndefined();
  expect(alarmsOf(facts, fern, monday8).forgotten).toMatchObject({ suggestedEndAt: lastSignAt });
  expect(alarmsOf(facts, silas, monday8).forgotten).toBeUndefined();
});

test("an empty bench has nothing that does not wait", () => {
  expect(alarmsOf(shopWith({ surface: [aSurface({ id: top })] }), fern, monday8)).toEqual({ due: [], leases: [] });
});
