import { describe, expect, test } from "vitest";
import { hourMs, minuteMs } from "~/core/units";
import { answersFrom, type SaidByKey, stanceOf } from "~/ui/closing/closing-said";
import { closingView } from "~/ui/closing/closing-view";
import { isEvening } from "~/ui/closing/closing-way";
import {
  anEntry,
  aPiece,
  aProduct,
  aRoom,
  aSheet,
  aSurface,
  aTask,
  aWetCoat,
  dresser,
  envelopeOf,
  fern,
  hanna,
  id,
  loft,
  monday8,
  type Rows,
  rule,
  shopWith,
  silas,
} from "../../core/support/shop";

const zone = "America/New_York";
/** Monday, 18:00 in the shop. */
const evening = monday8 + 10 * hourMs;
const view = (
  facts: ReturnType<typeof shopWith>,
  said: SaidByKey = {},
  more: { waiting?: number; now?: number } = {},
) => closingView({ facts, now: more.now ?? evening, zone, memberId: fern, said, waiting: more.waiting ?? 0 });
const keys = (lines: { key: string }[]) => lines.map(({ key }) => key);
const seen: SaidByKey = { flames: { answer: "clear" }, heater: { answer: "clear" } };

const oiled = (rows: Rows = {}) =>
  shopWith({
    piece: [aPiece()],
    surface: [aSurface()],
    product: [aProduct({ name: "Walnut oil stain", family: "oil-stain" })],
    sheet: [aSheet({ isOilBearing: "yes", wipeFromMin: 15, wipeLatestMin: 20 })],
    coat: [aWetCoat({ id: id(121) })],
    task: [aTask({ id: id(201), sort: "close-out", coatId: id(121), dueAt: monday8 - 30 * minuteMs })],
    ...rows,
  });

describe("what must not be left", () => {
  test("oily rags come first, by their piece, product and who laid it, and are never left", () => {
    const [first] = view(oiled()).todo;
    expect(first).toMatchObject({ point: "rags", title: "Oily rags of K-201", taskId: id(201), isNeverLeft: true });
    expect(first?.detail).toBe("Walnut oil stain · laid by Fern · due 07:30");
  });

  test("the flames and the heater wait to be looked at every evening; nothing else is asked of an idle shop", () => {
    expect(keys(view(shopWith()).todo)).toEqual(["flames", "heater"]);
    expect(view(shopWith(), seen).todo).toEqual([]);
    expect(keys(view(shopWith(), seen).inOrder)).toEqual([
      "flames",
      "heater",
      "rags",
      "wipes",
      "cold-glue",
      "timers",
      "unsent",
    ]);
  });

  test("every room with a flame has its own line, and one with fresh solvent cannot keep it", () => {
    const stove = { room: [aRoom({ id: loft, name: "Loft", hasOpenFlame: true })] };
    const dry = view(shopWith(stove)).todo.find(({ point }) => point === "flames");
    expect(dry).toMatchObject({ key: `flame:${loft}`, title: "Flame in the loft", isNeverLeft: false });
    const wet = view(oiled(stove)).todo.find(({ point }) => point === "flames");
    expect(wet).toMatchObject({ isNeverLeft: true, detail: "Solvent was laid here: K-201. It must be out" });
  });

  test("my own timer is stopped, another's is named", () => {
    const facts = shopWith({
      piece: [aPiece()],
      entry: [anEntry({ id: id(401), startedAt: evening - 90 * minuteMs }), anEntry({ id: id(402), memberId: silas })],
    });
    const timers = view(facts).todo.filter(({ point }) => point === "timers");
    expect(timers[0]).toMatchObject({ entryId: id(401), detail: "since 16:30 · 1 h 30 · K-201" });
    expect(timers[1]).toMatchObject({ key: "timers", title: "Silas still has a timer running" });
  });

  test("a heater may stay on for the pieces that cure, with their names as the reason", () => {
    const facts = shopWith({ piece: [aPiece({ stage: "cure" })] });
    expect(view(facts).todo.find(({ key }) => key === "heater")).toMatchObject({
      detail: "K-201 cures in the loft",
      leaveWhy: "Keeps K-201 warm overnight",
    });
  });

  test("changes that only this device has are counted", () => {
    const unsent = view(shopWith(), seen, { waiting: 3 }).todo[0];
    expect(unsent).toMatchObject({ point: "unsent", title: "3 changes only on this device" });
  });
});

describe("what is told to the rules", () => {
  test("all seen and nothing open is asked; a reason makes it told as done", () => {
    const shown = view(shopWith(), seen);
    const clear = answersFrom(shown.open, shown.said, 0);
    expect(stanceOf(clear)).toBe("asking");
    expect(clear.every(({ answer }) => answer === "clear")).toBe(true);
    const warm: SaidByKey = { ...seen, heater: { answer: "left", why: "Keeps K-201 warm" } };
    const left = answersFrom(shown.open, warm, 2);
    expect(stanceOf(left)).toBe("done");
    expect(left).toContainEqual({ point: "heater", answer: "left", why: "Keeps K-201 warm" });
    expect(left).toContainEqual({ point: "unsent", answer: "left", why: "No signal yet for 2 changes" });
  });

  test("one flame that nobody looked at leaves the flames unanswered", () => {
    const facts = shopWith({
      room: [aRoom({ id: loft, hasOpenFlame: true }), aRoom({ id: id(9), name: "Cold bay", hasOpenFlame: true })],
    });
    const half = { [`flame:${loft}`]: { answer: "clear" as const } };
    expect(answersFrom(view(facts).open, half, 0).some(({ point }) => point === "flames")).toBe(false);
  });

  test("what the screen sends closes the shop, and the screen then says who closed it and when", () => {
    const facts = oiled();
    const put = envelopeOf("close-out-rags", { taskId: id(201), how: "water-can" }, hanna, { at: evening - hourMs });
    rule(facts, put);
    rule(facts, envelopeOf("log-wiped", { coatId: id(121) }, hanna, { at: evening - hourMs }));
    const shown = view(facts, seen);
    expect(shown.todo).toEqual([]);
    expect(shown.inOrder.find(({ key }) => key === "rags")?.detail).toBe("K-201 · under water · Hanna 17:00");
    const answers = answersFrom(shown.open, shown.said, 0);
    const body = { closingId: id(501), answers, stance: stanceOf(answers) };
    expect(rule(facts, envelopeOf("close-up", body, fern, { at: evening })).verdict).toBe("accepted");
    const closed = view(facts, {}, { now: evening + minuteMs });
    expect(closed.closed).toEqual({ byName: "Fern", at: evening, isOpenAgain: false });
    expect(closed.todo).toEqual([]);
    // without signal the closing itself waits on this device, and the shop is closed all the same
    expect(view(facts, {}, { now: evening + minuteMs, waiting: 1 }).closed?.isOpenAgain).toBe(false);
    // whoever comes back and starts a timer opens it again
    rule(
      facts,
      envelopeOf("start-timer", { entryId: id(403), subjects: [{ pieceId: dresser }], workKind: "bench" }, silas, {
        at: evening + 5 * minuteMs,
      }),
    );
    const again = view(facts, {}, { now: evening + 6 * minuteMs });
    expect(again.closed?.isOpenAgain).toBe(true);
    // and goes round again: the stove may be lit by now
    expect(keys(again.todo)).toEqual(["flames", "heater", "timers"]);
  });
});

test("the way to closing up is at hand from four in the afternoon until four at night", () => {
  // EDT is UTC−4 on 26 October 2026. Source: IANA time zone data
  expect([15, 16, 23].map((hour) => isEvening(Date.UTC(2026, 9, 26, hour + 4), zone))).toEqual([false, true, true]);
  expect([3, 4].map((hour) => isEvening(Date.UTC(2026, 9, 27, hour + 4), zone))).toEqual([true, false]);
});
