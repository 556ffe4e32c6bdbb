import { expect, test } from "vitest";
import * as Y from "yjs";
import type { Intent } from "~/core/shop/intent";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import { FloorFacts } from "~/device/floor-facts";
import { type LaidFloor, optimisticFloor, type Pending } from "~/device/optimistic";
import type { FloorEntry } from "../../server/floor-document";
import { aPiece, aReading, aTask, envelopeOf, fern, id, loft, monday8, shopWith } from "../core/support/shop";
import { floorOf } from "./support/floor";

const [scrape, wash] = [id(301), id(302)];
const around = { seq: 41, isSharedTablet: false };

const theShop = () =>
  shopWith({
    piece: [aPiece()],
    task: [aTask({ id: scrape }), aTask({ id: wash, title: "Wash the drawers", after: [] })],
    reading: [aReading({ id: id(401), at: monday8 - hourMs })],
  });

function phoneWith(shop: MemoryFacts) {
  const floor = floorOf(shop, { seq: 41, airFromAt: monday8 - 13 * dayMs, askedAt: monday8 });
  const copy = new Y.Doc();
  const facts = new FloorFacts(copy);
  Y.applyUpdate(copy, floor.since());
  const write = (entry: FloorEntry) => {
    floor.set([entry]);
    Y.applyUpdate(copy, floor.since());
  };
  return { facts, write };
}

/** Whoever judges an intent reads what it asks for. */
const read = new Set<Pending>();

function made(index: number, kind: string, body: unknown): Pending {
  const intent = envelopeOf(kind, body, fern, { at: monday8 + index * minuteMs, seenSeq: 41 }) as Intent;
  const pending: Pending = { intent };
  Object.defineProperty(intent, "body", {
    enumerable: true,
    get: () => {
      read.add(pending);
      return body;
    },
  });
  return pending;
}
const readThermometer = (index: number): Pending =>
  made(index, "record-reading", {
    readingId: id(0x10000 + index),
    roomId: loft,
    at: monday8 + index * minuteMs,
    airCelsius: 18 + (index % 5),
    humidityPercent: 50,
  });
const claims = (index: number, taskId: string): Pending =>
  made(index, "claim-task", { claimId: id(0x600 + index), taskId, memberIds: [fern] });

const judgedIn = (work: () => LaidFloor) => {
  read.clear();
  return { laid: work(), judged: read.size };
};

test("one more tap over two thousand that wait is the only one that is judged, and nothing comes out otherwise", () => {
  const { facts } = phoneWith(theShop());
  const waiting = Array.from({ length: 2000 }, (_, index) => readThermometer(index));
  const first = judgedIn(() => optimisticFloor(facts, waiting, around));
  const more = [...waiting, claims(2000, scrape)];
  const last = { laid: first.laid, isFloorSame: true };
  const next = judgedIn(() => optimisticFloor(facts, more, { ...around, last }));
  expect([first.judged, next.judged]).toEqual([2000, 1]);
  const anew = optimisticFloor(facts, more, around);
  expect(next.laid.verdictByIntentId).toEqual(anew.verdictByIntentId);
  expect(next.laid.pendingRows).toEqual(anew.pendingRows);
  for (const table of ["task", "claim"] as const) expect(next.laid.facts.all(table)).toEqual(anew.facts.all(table));
  // what the screens were shown before does not change under them
  expect(first.laid.facts.get("task", scrape)?.state).toBe("open");
  expect(next.laid.facts.get("task", scrape)?.state).toBe("held");
}, 30_000);

test("where the floor beneath is another, or the line is not what it was, all are judged again", () => {
  const { facts } = phoneWith(theShop());
  const [one, two, three] = [claims(0, scrape), readThermometer(1), claims(2, wash)];
  const laid = optimisticFloor(facts, [one, two], around);
  const judgedAfter = (waiting: Pending[], isFloorSame: boolean, settling: Pending[] = []) =>
    judgedIn(() => optimisticFloor(facts, waiting, { ...around, settling, last: { laid, isFloorSame } })).judged;
  expect(judgedAfter([one, two, three], true)).toBe(1);
  expect(judgedAfter([one, two, three], false)).toBe(3);
  expect(judgedAfter([two, three], true)).toBe(2);
  expect(judgedAfter([two, one, three], true)).toBe(3);
  expect(judgedAfter([two, three], true, [one])).toBe(3);
  expect(judgedAfter([{ ...one, expectedOffsetMs: 1000 }, two], true)).toBe(2);
});

test("work that waits here shows the same rows and the same air after something else on the floor has changed", () => {
  const { facts, write } = phoneWith(theShop());
  const waiting = [claims(0, scrape), readThermometer(1)];
  const before = optimisticFloor(facts, waiting, around);
  const air = before.facts.air(loft, monday8);
  expect(air.endsAt).toBe(monday8 + minuteMs);
  const row = aTask({ id: wash, title: "Wash the drawers twice", after: [] });
  write({ part: "task", key: wash, value: row });
  const after = optimisticFloor(facts, waiting, { ...around, last: { laid: before, isFloorSame: false } });
  expect(after.facts.get("task", wash)?.title).toBe("Wash the drawers twice");
  expect(after.facts.get("task", scrape)).toBe(before.facts.get("task", scrape));
  expect(after.facts.all("claim")[0]).toBe(before.facts.all("claim")[0]);
  expect(after.facts.air(loft, monday8)).toBe(air);
});
