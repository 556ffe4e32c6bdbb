import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { mayRecord, secondsWithin, spanSeconds, wordNeeded } from "~/core/labour/entry";
import { forgotten } from "~/core/labour/forgotten";
import { shownMinutes, shownTotal } from "~/core/labour/shown-minutes";
import { stopped } from "~/core/labour/stop";
import { hourMs, minuteMs } from "~/core/units";
import { fern, hanna, id, monday8 } from "../support/people";
import { anEntry } from "../support/pieces";

const shift = (hours: number, restMin = 0) => ({ startedAt: monday8, endedAt: monday8 + hours * hourMs, restMin });

describe("seconds of an entry", () => {
  test("19:30 to 20:10 is 2400 s", () => expect(spanSeconds(shift(2 / 3))).toBe(2400));
  test("rest is taken off", () => expect(spanSeconds(shift(6 + 10 / 60, 30))).toBe((5 * 60 + 40) * 60));
  test("more rest than time is no work, never less than none", () => expect(spanSeconds(shift(1, 90))).toBe(0));

  test("two entries back to back add up, however they fall within the second", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 90_000_000 }), fc.integer({ min: 1, max: 90_000_000 }), (first, second) => {
        const middle = monday8 + first;
        const end = middle + second;
        const one = spanSeconds({ startedAt: monday8, endedAt: middle, restMin: 0 });
        const other = spanSeconds({ startedAt: middle, endedAt: end, restMin: 0 });
        expect(one + other).toBe(spanSeconds({ startedAt: monday8, endedAt: end, restMin: 0 }));
      }),
    );
  });

  test("an entry over midnight is counted on each side, and the rest is spread over both", () => {
    // three of four hours before midnight: 45 of 60 min rest
    const span = { startedAt: monday8, endedAt: monday8 + 4 * hourMs, restMin: 60 };
    const midnight = monday8 + 3 * hourMs;
    expect(secondsWithin(span, 0, midnight)).toBe(135 * 60);
    expect(secondsWithin(span, midnight, midnight + 24 * hourMs)).toBe(45 * 60);
  });

  test("however an entry is cut, the stretches add up to it and none is negative", () => {
    const cuts = fc.array(fc.integer({ min: -hourMs, max: 17 * hourMs }), { maxLength: 6 });
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 16 * hourMs }),
        fc.integer({ min: 0, max: 480 }),
        cuts,
        (length, restMin, at) => {
          const span = { startedAt: monday8 + 7, endedAt: monday8 + 7 + length, restMin };
          const edges = [0, ...at.map((ms) => monday8 + ms).sort((a, b) => a - b), monday8 + 100 * hourMs];
          const parts = edges.slice(1).map((edge, index) => secondsWithin(span, edges[index] ?? 0, edge));
          expect(parts.every((part) => part >= 0)).toBe(true);
          expect(parts.reduce((sum, part) => sum + part, 0)).toBe(spanSeconds(span));
        },
      ),
    );
  });
});

describe("limits of an entry", () => {
  const typed = (hours: number) => mayRecord({ ...shift(hours), source: "typed" });
  const timed = (hours: number) => mayRecord({ ...shift(hours), source: "timer" });

  test("sixteen hours may be typed, a second more may not", () => {
    expect(typed(16)).toEqual({ ok: true, value: {} });
    const endedAt = monday8 + 16 * hourMs + 1000;
    expect(mayRecord({ startedAt: monday8, endedAt, source: "typed" })).toEqual({
      ok: false,
      refusal: { kind: "entry-too-long", startedAt: monday8, endedAt, maxMin: 960 },
    });
  });
  test("a timer over sixteen hours is kept and waits for the owner's word", () => {
    expect(timed(16)).toEqual({ ok: true, value: {} });
    expect(timed(17)).toEqual({ ok: true, value: { needsWord: "over-sixteen-hours" } });
  });
  test("an entry ends after it starts", () => {
    for (const hours of [0, -1])
      expect(timed(hours).ok === false && timed(hours)).toMatchObject({ refusal: { kind: "ends-before-start" } });
  });
  test("a timer left running past sixteen hours needs a word before anybody stops it", () => {
    const entry = anEntry({ id: id(301), startedAt: monday8 });
    expect(wordNeeded(entry, monday8 + 16 * hourMs)).toBeUndefined();
    expect(wordNeeded(entry, monday8 + 16 * hourMs + 1)).toBe("over-sixteen-hours");
  });
});

describe("a forgotten timer", () => {
  // Tuesday 27 October 2026, New York: 19:30, last tap 22:58
  const startedAt = Date.parse("2026-10-27T23:30Z");
  const lastSignAt = Date.parse("2026-10-28T02:58Z");

  test("is asked about four hours after the person's last sign, with that sign as suggestion", () => {
    expect(forgotten(startedAt, lastSignAt)).toEqual({
      forgottenAt: lastSignAt + 4 * hourMs,
      suggestedEndAt: lastSignAt,
    });
  });
  test("is asked about after ten hours even while the person goes on", () => {
    expect(forgotten(startedAt, startedAt + 9 * hourMs).forgottenAt).toBe(startedAt + 10 * hourMs);
  });
  test("takes its own start for a sign when none came later", () => {
    expect(forgotten(startedAt, startedAt - hourMs)).toEqual({ forgottenAt: startedAt + 4 * hourMs });
    expect(forgotten(startedAt)).toEqual({ forgottenAt: startedAt + 4 * hourMs });
  });
});

describe("two stops of one timer", () => {
  const running = anEntry({ id: id(301), memberId: hanna, startedAt: monday8 });
  const phone = { endedAt: monday8 + 247 * minuteMs, by: hanna, madeAt: monday8 + 247 * minuteMs };
  const tablet = { endedAt: monday8 + 260 * minuteMs, by: fern, madeAt: monday8 + 260 * minuteMs };

  test.each([
    ["the phone's arrives first", phone, tablet],
    ["the tablet's arrives first", tablet, phone],
  ])("the earlier one stands and the later one stays readable when %s", (_, first, second) => {
    const once = stopped(running, first);
    const twice = once.ok ? stopped(once.value, second) : once;
    expect(twice.ok && twice.value.endedAt).toBe(phone.endedAt);
    expect(twice.ok && twice.value.versions.map((version) => version.was)).toEqual([{ endedAt: tablet.endedAt }]);
  });
  test("the same stop sent twice changes nothing", () => {
    const once = stopped(running, phone);
    expect(once.ok && stopped(once.value, phone)).toEqual(once);
  });
  test("a stop before the start is refused", () => {
    expect(stopped(running, { ...phone, endedAt: monday8 - 1 })).toMatchObject({
      refusal: { kind: "ends-before-start" },
    });
  });
  test("an early stop that comes late takes the need for a word away again", () => {
    const late = stopped(running, { ...tablet, endedAt: monday8 + 20 * hourMs });
    expect(late.ok && late.value.needsWord).toBe("over-sixteen-hours");
    const settled = late.ok ? stopped(late.value, phone) : late;
    expect(settled.ok && settled.value.needsWord).toBeUndefined();
  });
  test("an early stop does not answer for the owner when the entry waits for another reason", () => {
    const delivered = { ...running, needsWord: "delivered-after-the-end" as const };
    const settled = stopped(delivered, phone);
    expect(settled.ok && settled.value.needsWord).toBe("delivered-after-the-end");
  });
});

describe("minutes shown in a table", () => {
  const cells = fc.array(fc.integer({ min: 0, max: 200_000 }), { maxLength: 60 });
  const sum = (list: readonly number[]) => list.reduce((total, cell) => total + cell, 0);

  test("add to the shown total, each less than a minute from its seconds", () => {
    fc.assert(
      fc.property(cells, (seconds) => {
        const minutes = shownMinutes(seconds);
        expect(sum(minutes)).toBe(shownTotal(sum(seconds)));
        minutes.forEach((cell, index) => {
          expect(Math.abs(cell * 60 - (seconds[index] ?? 0))).toBeLessThan(60);
        });
      }),
    );
  });
  test("can add to a total that another page has already shown", () => {
    fc.assert(
      fc.property(cells, fc.boolean(), (seconds, isUp) => {
        const total = isUp ? Math.ceil(sum(seconds) / 60) : Math.floor(sum(seconds) / 60);
        expect(sum(shownMinutes(seconds, total))).toBe(total);
      }),
    );
  });
  test("never take a minute from a cell of whole minutes", () => {
    expect(shownMinutes([3600, 20, 25])).toEqual([60, 0, 1]);
  });
  test("cannot add to any other total", () => {
    expect(() => shownMinutes([60, 60], 3)).toThrow(RangeError);
  });
});
