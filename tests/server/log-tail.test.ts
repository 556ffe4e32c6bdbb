import { expect, test } from "vitest";
import { minuteMs } from "~/core/units";
import { LogTail } from "../../server/log-tail";

const anUpdate = { update: new Uint8Array(10) };

test("a snapshot is due when nobody has written for a minute, and not before", () => {
  const tail = LogTail.of([anUpdate], 0);
  expect([tail.isDue(minuteMs - 1), tail.isDue(minuteMs)]).toEqual([false, true]);
});

test("a document whose snapshot failed is seen to again in a minute, though nobody writes in it any more", () => {
  const tail = LogTail.of([anUpdate], 0);
  tail.clear(0);
  expect(tail.isDue(2 * minuteMs)).toBe(false);
  tail.postpone(2 * minuteMs);
  expect([tail.isDue(2 * minuteMs), tail.isDue(3 * minuteMs)]).toEqual([false, true]);
});

test("two hundred updates are enough, quiet or not", () => {
  const tail = LogTail.of(
    Array.from({ length: 199 }, () => anUpdate),
    0,
  );
  expect(tail.isDue(1)).toBe(false);
  tail.add([anUpdate.update], 1);
  expect(tail.isDue(1)).toBe(true);
});

test("who writes very much is held up by a snapshot once in two seconds at most, until there are two thousand updates", () => {
  const updates = (count: number) => Array.from({ length: count }, () => anUpdate.update);
  const tail = LogTail.of([], 0);
  tail.add(updates(200), 0);
  tail.clear(0);
  tail.add(updates(1_999), 1);
  expect([tail.isDue(1_999), tail.isDue(2_000)]).toEqual([false, true]);
  tail.add(updates(1), 1);
  expect(tail.isDue(1)).toBe(true);
});
