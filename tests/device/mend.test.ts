import { beforeEach, expect, test } from "vitest";
import { schemaVersion } from "~/core/shop/intent";
import type { Refusal } from "~/core/shop/refusal";
import { hourMs } from "~/core/units";
import type { Stamp } from "~/device/clock";
import { IntentQueue } from "~/device/intent-queue";
import { sendAgain } from "~/device/mend";
import { fern, id, monday8, shopId } from "../core/support/people";
import { emptyPhone, HandClocks } from "./support/browser";

const owner = { shopId, memberId: fern, deviceId: id(0xde) };
const untrusted: Refusal = { kind: "clock-not-trusted", deviceAt: monday8 };
const evening = monday8 + 12 * hourMs;

beforeEach(emptyPhone);

/** A queue in which each of these was refused. */
async function refusedQueue(...made: { kind: string; stamp: Stamp; refusal: Refusal; happenedAt?: number }[]) {
  const queue = await IntentQueue.open(owner);
  for (const [index, { kind, stamp, happenedAt }] of made.entries()) {
    const said = happenedAt === undefined ? {} : { happenedAt };
    const draft = {
      intentId: id(0x1001 + index),
      kind,
      body: { n: index },
      seenSeq: 7,
      schemaVersion,
      ...said,
    } as const;
    await queue.add(draft, stamp);
  }
  await queue.take(
    made.map(({ refusal }, index) => ({ intentId: id(0x1001 + index), verdict: "refused" as const, refusal })),
  );
  const phone = new HandClocks(evening);
  const clock = phone.clock();
  phone.contact(clock, 0);
  let ids = 0x2000;
  const parts = { queue, clock, newId: () => id(++ids), seenSeq: 41 };
  return { queue, phone, again: (intentIds: string[], at?: number) => sendAgain(parts, intentIds, at) };
}
const waitingIn = (queue: IntentQueue) => queue.waiting.map(({ intent }) => intent);

test("whoever is asked when it was answers once: the work waits again under a new id with that time, and no refusal is left", async () => {
  const { queue, phone, again } = await refusedQueue({
    kind: "stop-timer",
    stamp: { deviceAt: 5 },
    refusal: untrusted,
  });
  await again([id(0x1001)], monday8);
  expect(queue.kept).toHaveLength(1);
  expect(waitingIn(queue)).toMatchObject([
    { intentId: id(0x2001), deviceSeq: 2, happenedAt: monday8, deviceAt: phone.wallAt, offsetMs: 0, seenSeq: 41 },
  ]);
});

test("a report keeps the time at which it was made; a claim that is made again is made now", async () => {
  const measured = { deviceAt: monday8 - hourMs, offsetMs: hourMs, offsetUncertainMs: 5 };
  const { queue, again } = await refusedQueue(
    { kind: "stop-timer", stamp: measured, refusal: { kind: "last-owner" } },
    { kind: "claim-task", stamp: measured, refusal: { kind: "last-owner" } },
  );
  await again([id(0x1001), id(0x1002)]);
  const [report, claim] = waitingIn(queue);
  expect(report?.happenedAt).toBe(monday8);
  expect(claim).not.toHaveProperty("happenedAt");
  expect(claim?.deviceAt).toBeGreaterThanOrEqual(evening);
});

test("a report whose time nobody knows is not taken for made now: it goes as it was, to be asked about", async () => {
  const { queue, again } = await refusedQueue(
    { kind: "start-timer", stamp: { deviceAt: 5 }, refusal: untrusted },
    {
      kind: "stop-timer",
      stamp: { deviceAt: 6 },
      refusal: { kind: "rests-on-refused", intentId: id(0x1001), itsKind: "start-timer" },
    },
  );
  await again([id(0x1001)], monday8);
  const [start, stop] = waitingIn(queue);
  expect(start).toMatchObject({ kind: "start-timer", happenedAt: monday8 });
  expect(stop).toMatchObject({ kind: "stop-timer", deviceAt: 6 });
  expect(stop?.offsetMs).toBeUndefined();
  expect(queue.kept.every(({ state }) => state === "waiting")).toBe(true);
});

test("what a person had said of the time stays said", async () => {
  const { queue, again } = await refusedQueue({
    kind: "add-entry",
    stamp: { deviceAt: 5 },
    refusal: { kind: "last-owner" },
    happenedAt: monday8 - hourMs,
  });
  await again([id(0x1001)]);
  expect(waitingIn(queue)).toMatchObject([{ happenedAt: monday8 - hourMs }]);
});
