import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { unionOf } from "~/core/labour/overlap";
import { hourMs } from "~/core/units";
import { monday8 } from "../support/people";

const span = (entryId: string, fromHour: number, toHour: number, restMin = 0) => ({
  entryId,
  startedAt: monday8 + fromHour * hourMs,
  endedAt: monday8 + toHour * hourMs,
  restMin,
});
const union = (...spans: ReturnType<typeof span>[]) => unionOf(spans, monday8 - 1000 * hourMs, monday8 + 1000 * hourMs);

describe("a person's worked time", () => {
  test("is nine hours when two timers ran from eight to five, and the nine hours are listed to settle", () => {
    const found = union(span("table", 0, 9), span("chair", 0, 9));
    expect(found.workedSeconds).toBe(9 * 3600);
    expect(found.overlaps).toEqual([
      { entryIds: ["table", "chair"], fromAt: monday8, toAt: monday8 + 9 * hourMs, seconds: 9 * 3600 },
    ]);
  });
  test("has no overlap where one entry ends in the second in which the next begins", () => {
    expect(union(span("a", 0, 2.0001), span("b", 2.0002, 4)).overlaps).toEqual([]);
  });
  test("lists only the stretch that is covered twice", () => {
    const found = union(span("a", 0, 3), span("b", 2, 5));
    expect(found.workedSeconds).toBe(5 * 3600);
    expect(found.overlaps).toEqual([
      { entryIds: ["a", "b"], fromAt: monday8 + 2 * hourMs, toAt: monday8 + 3 * hourMs, seconds: 3600 },
    ]);
  });
  test("takes one meal off when it stands in both of two entries for the same day", () => {
    expect(union(span("a", 0, 9, 30), span("b", 0, 9, 30)).workedSeconds).toBe(8.5 * 3600);
  });
  test("stops at the edges of the week", () => {
    const found = unionOf([span("a", 0, 9), span("b", 0, 9)], monday8 + 4 * hourMs, monday8 + 6 * hourMs);
    expect(found.workedSeconds).toBe(2 * 3600);
    expect(found.overlaps.map((overlap) => overlap.seconds)).toEqual([2 * 3600]);
  });

  const someSpans = fc
    .array(fc.tuple(fc.integer({ min: 0, max: 300 }), fc.integer({ min: 1, max: 120 })), { maxLength: 12 })
    .map((list) => list.map(([start, length], index) => span(`e${index}`, start / 60, (start + length) / 60)));

  test("counts every minute that any entry covers, once", () => {
    fc.assert(
      fc.property(someSpans, (spans) => {
        const covered = new Set<number>();
        for (const { startedAt, endedAt } of spans)
          for (let at = Math.round(startedAt / 60_000); at < Math.round(endedAt / 60_000); at++) covered.add(at);
        expect(union(...spans).workedSeconds).toBe(covered.size * 60);
      }),
    );
  });
  test("lists every minute that two or more entries cover, and no other", () => {
    fc.assert(
      fc.property(someSpans, (spans) => {
        const counts = new Map<number, number>();
        for (const { startedAt, endedAt } of spans)
          for (let at = Math.round(startedAt / 60_000); at < Math.round(endedAt / 60_000); at++)
            counts.set(at, (counts.get(at) ?? 0) + 1);
        const twice = [...counts.values()].filter((count) => count > 1).length;
        const listed = union(...spans).overlaps.reduce((sum, overlap) => sum + overlap.seconds, 0);
        expect(listed).toBe(twice * 60);
      }),
    );
  });
});
