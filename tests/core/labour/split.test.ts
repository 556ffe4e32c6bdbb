import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { spanOf, spanSeconds } from "~/core/labour/entry";
import { laidCoats, splitSeconds, splitShares, splitWithin, workedAreas } from "~/core/labour/split";
import { splitRules } from "~/core/shop/entities/work";
import type { Row } from "~/core/shop/tables";
import { hourMs } from "~/core/units";
import { fern, id, loft, monday8, silas } from "../support/people";
import { aCoat, anEntry, aSurface, aTask } from "../support/pieces";

const [k201, k203, k207] = [id(201), id(203), id(207)];
const numbers = new Map([
  [k201, "K-201"],
  [k203, "K-203"],
  [k207, "K-207"],
]);
const numberOf = (pieceId: string) => numbers.get(pieceId) ?? "";

// The demo week's pieces: dresser 3.1 + 1.2 m², table 1.4 + 0.5 + 1.3 m², bookcase 5.6 m²
const surfaces = [
  [k201, 310],
  [k201, 120],
  [k203, 140],
  [k203, 50],
  [k203, 130],
  [k207, 560],
].map(([pieceId, squareDecimetres], index) =>
  aSurface({ id: id(400 + index), pieceId: pieceId as string, squareDecimetres: squareDecimetres as number }),
);
const areaOf = workedAreas([], surfaces);
const onAll = [k201, k203, k207].map((pieceId) => ({ pieceId, stage: "finish" as const }));

/** Sunday 1 November 2026, 00:30 EDT to 02:10 EST: the clock says 100 minutes, and 160 go by. */
const nightSession = anEntry({
  id: id(301),
  startedAt: Date.parse("2026-11-01T00:30-04:00"),
  endedAt: Date.parse("2026-11-01T02:10-05:00"),
  subjects: onAll,
  splitRule: "area",
});
const secondsOf = (entry: Row<"entry">, facts = {}) => {
  const split = splitSeconds(entry, spanOf(entry, monday8), { numberOf, areaOf, ...facts });
  return split.ok ? split.value : split.refusal;
};

describe("an entry on several pieces", () => {
  // by hand: 9600 × 430/1310 = 3151.15, × 320/1310 = 2345.04, × 560/1310 = 4103.82
  test("by area is shared to the second over the night that repeats an hour", () => {
    expect(secondsOf(nightSession)).toEqual([3151, 2345, 4104]);
  });
  test("equally shares a second left over to the lowest piece number", () => {
    const entry = anEntry({
      id: id(301),
      endedAt: monday8 - hourMs + 10_000,
      subjects: [...onAll].reverse(),
      splitRule: "equal",
    });
    expect(secondsOf(entry)).toEqual([3, 3, 4]);
  });
  test("by typed shares follows them, and nothing else", () => {
    const subjects = onAll.map((subject, index) => ({ ...subject, weight: [1, 0, 3][index] }));
    expect(secondsOf(anEntry({ id: id(301), endedAt: monday8, subjects, splitRule: "typed" }))).toEqual([900, 0, 2700]);
  });
  test("by coats follows the coats that this person laid meanwhile", () => {
    const applied = { startedAt: monday8 - 1000, endedAt: monday8, by: [fern], roomId: loft, scuffedBefore: false };
    const coats = [
      aCoat({ id: id(501), pieceId: k201, state: "applied", applied }),
      aCoat({ id: id(502), pieceId: k201, state: "applied", applied }),
      aCoat({ id: id(503), pieceId: k203, state: "applied", applied }),
      aCoat({ id: id(504), pieceId: k203, state: "applied", applied: { ...applied, by: [silas] } }),
      aCoat({ id: id(505), pieceId: k203, state: "applied", applied: { ...applied, startedAt: monday8 - 2 * hourMs } }),
      aCoat({ id: id(506), pieceId: k207 }),
    ];
    const entry = anEntry({ id: id(301), endedAt: monday8, subjects: onAll, splitRule: "coats" });
    expect(secondsOf(entry, { coatsOf: laidCoats(coats) })).toEqual([2400, 1200, 0]);
  });
  test("by area counts only the surfaces that the task names", () => {
    const task = aTask({ id: id(601), pieceId: k201, surfaceIds: [id(401)] });
    const subjects = onAll
      .slice(0, 2)
      .map((subject, index) => (index === 0 ? { ...subject, taskId: task.id } : subject));
    const entry = anEntry({ id: id(301), startedAt: monday8 - 440_000, endedAt: monday8, subjects, splitRule: "area" });
    expect(secondsOf(entry, { areaOf: workedAreas([task], surfaces) })).toEqual([120, 320]);
  });
  test("keeps the shares noted with it when a surface is measured again", () => {
    const subjects = onAll.map((subject) => ({ ...subject, weight: 100 }));
    expect(secondsOf({ ...nightSession, subjects })).toEqual([3200, 3200, 3200]);
  });
  test("is not shared by a rule that finds nothing to go by", () => {
    expect(secondsOf({ ...nightSession, splitRule: "typed" })).toEqual({
      kind: "weights-empty",
      pieceIds: [k201, k203, k207],
    });
  });
  test("has no parts when it names no piece", () => {
    expect(secondsOf({ ...nightSession, subjects: [] })).toEqual([]);
  });
});

const someEntry = fc
  .record({
    splitRule: fc.constantFrom(...splitRules),
    length: fc.integer({ min: 1, max: 16 * hourMs }),
    restMin: fc.integer({ min: 0, max: 480 }),
    weights: fc.array(fc.integer({ min: 1, max: 1_000_000 }), { minLength: 1, maxLength: 24 }),
  })
  .map(({ splitRule, length, restMin, weights }) => {
    const subjects = weights.map((weight, index) => ({ pieceId: id(700 + index), stage: "finish" as const, weight }));
    return anEntry({ id: id(301), startedAt: monday8, endedAt: monday8 + length, restMin, splitRule, subjects });
  });
const sum = (parts: readonly number[]) => parts.reduce((total, part) => total + part, 0);

test("the parts of every entry under every rule add up to it", () => {
  fc.assert(
    fc.property(someEntry, (entry) => {
      const parts = secondsOf(entry);
      expect(Array.isArray(parts) && sum(parts)).toBe(spanSeconds(spanOf(entry, monday8)));
    }),
  );
});

test("an entry cut at midnight keeps every piece's part of the whole, and no side is negative", () => {
  fc.assert(
    fc.property(someEntry, fc.integer({ min: -hourMs, max: 17 * hourMs }), (entry, cutMs) => {
      const shares = splitShares(entry, { numberOf });
      if (!shares.ok) throw new Error(shares.refusal.kind);
      const span = spanOf(entry, monday8);
      const before = splitWithin(span, shares.value, 0, monday8 + cutMs);
      const after = splitWithin(span, shares.value, monday8 + cutMs, monday8 + 100 * hourMs);
      expect([...before, ...after].every((part) => part >= 0)).toBe(true);
      expect(before.map((part, index) => part + (after[index] ?? 0))).toEqual(secondsOf(entry));
    }),
  );
});
