import fc from "fast-check";
import { deleteDB } from "idb";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { schemaVersion } from "~/core/shop/intent";
import { type Draft, IntentQueue } from "~/device/intent-queue";
import { StoreHeld } from "~/device/not-kept";
import { QueueDatabase, queueDatabaseName } from "~/device/queue-database";
import { wipeDevice } from "~/device/session";
import { fern, id, monday8, shopId, silas } from "../core/support/people";
import { emptyPhone, until } from "./support/browser";

const owner = { shopId, memberId: fern, deviceId: id(0xde) };
const stamp = { deviceAt: monday8, offsetMs: 0, offsetUncertainMs: 20 };
const draft = (number: number): Draft => ({
  intentId: id(0x1000 + number),
  kind: "release-task",
  body: { taskId: id(number) },
  seenSeq: 7,
  schemaVersion,
});
const numbers = (queue: IntentQueue) => queue.waiting.map(({ intent }) => intent.deviceSeq);

beforeEach(emptyPhone);
afterEach(() => vi.restoreAllMocks());

test("what was done is numbered 1, 2, 3 without holes, in the order in which it was done, however fast", async () => {
  const queue = await IntentQueue.open(owner);
  const many = Array.from({ length: 40 }, (_, number) => draft(number));
  await Promise.all(many.map((each) => queue.add(each, stamp)));
  expect(numbers(queue)).toEqual(many.map((_, index) => index + 1));
  expect(queue.waiting.map(({ intent }) => intent.intentId)).toEqual(many.map(({ intentId }) => intentId));
});

test("it is still there after the page was closed, and signing out does not take it away", async () => {
  const queue = await IntentQueue.open(owner);
  await queue.add(draft(1), stamp);
  await queue.close();
  await wipeDevice();
  const again = await IntentQueue.open(owner);
  expect(again.waiting.map(({ intent }) => intent)).toMatchObject([
    { ...draft(1), ...stamp, memberId: fern, deviceSeq: 1 },
  ]);
  await again.add(draft(2), stamp);
  expect(numbers(again)).toEqual([1, 2]);
});

test("nothing is called kept before the disk has it", async () => {
  const queue = await IntentQueue.open(owner);
  const events: string[] = [];
  const transaction = IDBDatabase.prototype.transaction;
  vi.spyOn(IDBDatabase.prototype, "transaction").mockImplementation(function (this: IDBDatabase, ...asked) {
    const opened = transaction.apply(this, asked);
    if (asked[1] === "readwrite") opened.addEventListener("complete", () => events.push("complete"));
    return opened;
  });
  await queue.add(draft(1), stamp);
  events.push("called kept");
  expect(events).toEqual(["complete", "called kept"]);
});

test("a disk that fails at the last moment, after it took the words, has kept nothing, and that is said", async () => {
  const queue = await IntentQueue.open(owner);
  const put = IDBObjectStore.prototype.put;
  const failing = vi.spyOn(IDBObjectStore.prototype, "put").mockImplementation(function (
    this: IDBObjectStore,
    ...asked
  ) {
    const request = put.apply(this, asked);
    // the number is the last that is written: all requests have succeeded, and only completing fails
    request.addEventListener("success", () => this.transaction.abort());
    return request;
  });
  expect(await queue.add(draft(1), stamp)).toMatchObject({ ok: false, refusal: { because: "store-failed" } });
  failing.mockRestore();
  await queue.read();
  expect(queue.kept).toEqual([]);
});

test("a device that is full says so, keeps nothing half, uses up no number, and has the work at hand for a file", async () => {
  const queue = await IntentQueue.open(owner);
  await queue.add(draft(1), stamp);
  const full = vi.spyOn(IDBObjectStore.prototype, "add").mockImplementation(() => {
    throw new DOMException("the disk is full", "QuotaExceededError");
  });
  const answer = await queue.add(draft(2), stamp);
  expect(answer).toMatchObject({ ok: false, refusal: { kind: "not-kept", because: "device-full" } });
  expect(queue.failure).toMatchObject({ because: "device-full" });
  expect(numbers(queue)).toEqual([1]);
  expect(queue.lost).toMatchObject([{ intent: { intentId: draft(2).intentId, body: draft(2).body } }]);
  full.mockRestore();
  await queue.add(draft(3), stamp);
  expect(numbers(queue)).toEqual([1, 2]);
  expect(queue.failure).toBeUndefined();
});

test("a connection that the browser dropped is opened once more, and the work is kept once", async () => {
  const queue = await IntentQueue.open(owner);
  const transaction = IDBDatabase.prototype.transaction;
  let drops = 1;
  vi.spyOn(IDBDatabase.prototype, "transaction").mockImplementation(function (this: IDBDatabase, ...asked) {
    if (drops > 0) {
      drops -= 1;
      throw new DOMException("The database connection is closing.", "InvalidStateError");
    }
    return transaction.apply(this, asked);
  });
  expect((await queue.add(draft(1), stamp)).ok).toBe(true);
  expect(numbers(queue)).toEqual([1]);
});

test("a browser whose store stays broken opens nothing, and says why before anybody relies on it", async () => {
  const database = new QueueDatabase(() => Promise.reject(new DOMException("lost", "UnknownError")));
  const queue = await IntentQueue.open(owner, { database });
  expect(queue.failure).toMatchObject({ kind: "not-kept", because: "store-failed" });
  expect(await queue.add(draft(1), stamp)).toMatchObject({ ok: false, refusal: { because: "store-failed" } });
});

test("what could not be kept is kept once there is room, when the person says so, and not by itself", async () => {
  const queue = await IntentQueue.open(owner);
  const full = vi.spyOn(IDBObjectStore.prototype, "add").mockImplementation(() => {
    throw new DOMException("the disk is full", "QuotaExceededError");
  });
  await queue.add(draft(1), stamp);
  await queue.add(draft(2), stamp);
  expect(await queue.keepLost()).toMatchObject({ ok: false, refusal: { because: "device-full" } });
  full.mockRestore();
  await queue.add(draft(3), stamp);
  expect(queue.waiting.map(({ intent }) => intent.intentId)).toEqual([draft(3).intentId]);
  expect(await queue.keepLost()).toEqual({ ok: true, value: 2 });
  expect(queue.waiting.map(({ intent }) => intent.intentId)).toEqual([3, 1, 2].map((number) => draft(number).intentId));
  expect(numbers(queue)).toEqual([1, 2, 3]);
  expect(queue.lost).toEqual([]);
});

test("a store that the browser threw away under an open page is filled again from what the page has", async () => {
  const queue = await IntentQueue.open(owner);
  await queue.add(draft(1), stamp);
  await queue.add(draft(2), stamp);
  await queue.take([{ intentId: draft(1).intentId, verdict: "refused", refusal: { kind: "last-owner" } }]);
  await deleteDB(queueDatabaseName);
  await queue.read();
  await queue.add(draft(3), stamp);
  await queue.close();
  const again = await IntentQueue.open(owner);
  expect(again.kept.map(({ intent, state }) => [intent.intentId, intent.deviceSeq, state])).toEqual([
    [draft(1).intentId, 1, "refused"],
    [draft(2).intentId, 2, "waiting"],
    [draft(3).intentId, 3, "waiting"],
  ]);
});

test("a store that another tab holds is told from a broken one", async () => {
  const database = new QueueDatabase(() => Promise.reject(new StoreHeld("another tab holds the store")));
  expect((await IntentQueue.open(owner, { database })).failure).toMatchObject({ because: "other-tab" });
});

test.each(["SecurityError", "NotAllowedError"])(
  "a window that keeps nothing at all (%s) is told from a full device",
  async (name) => {
    const database = new QueueDatabase(() => Promise.reject(new DOMException("no", name)));
    expect((await IntentQueue.open(owner, { database })).failure).toMatchObject({ because: "no-store" });
  },
);

test("what comes back from a file is kept once, in its order, and is not held to the times of later work", async () => {
  const before = await IntentQueue.open(owner);
  await before.add(draft(1), stamp);
  await before.add(draft(2), { deviceAt: monday8, expectedOffsetMs: 500 });
  const saved = before.kept.map(({ intent, expectedOffsetMs }) => ({ intent, expectedOffsetMs }));
  await before.close();
  emptyPhone();
  const other = await IntentQueue.open({ ...owner, deviceId: id(0xdf) });
  await other.add(draft(3), stamp);
  expect(await other.addSaved(saved)).toEqual({ ok: true, value: 2 });
  expect(await other.addSaved(saved)).toEqual({ ok: true, value: 0 });
  expect(other.waiting.map(({ intent }) => [intent.deviceId, intent.deviceSeq, intent.intentId])).toEqual([
    [id(0xdf), 1, draft(3).intentId],
    [id(0xdf), 1, draft(1).intentId],
    [id(0xdf), 1, draft(2).intentId],
  ]);
  expect(other.waiting.at(-1)).toMatchObject({ expectedOffsetMs: 500 });
  expect(await other.add(draft(4), stamp)).toMatchObject({ ok: true, value: { deviceSeq: 2 } });
});

test("each member of a shared tablet has a queue and numbers of their own", async () => {
  const ferns = await IntentQueue.open(owner);
  const silass = await IntentQueue.open({ ...owner, memberId: silas });
  await ferns.add(draft(1), stamp);
  await ferns.add(draft(2), stamp);
  await silass.add(draft(3), stamp);
  expect(numbers(silass)).toEqual([1]);
  await ferns.read();
  expect(numbers(ferns)).toEqual([1, 2]);
});

test("a refused change stays with its reason until the person has read it; an accepted one leaves", async () => {
  const queue = await IntentQueue.open(owner);
  await queue.add(draft(1), stamp);
  await queue.add(draft(2), stamp);
  await queue.take([
    { intentId: draft(1).intentId, verdict: "refused", refusal: { kind: "not-claimed", taskId: id(1) } },
    { intentId: draft(2).intentId, verdict: "accepted", seq: 9 },
  ]);
  await queue.close();
  const again = await IntentQueue.open(owner);
  expect(again.kept).toMatchObject([{ state: "refused", refusal: { kind: "not-claimed", taskId: id(1) } }]);
  expect(again.waiting).toEqual([]);
  await again.dismiss(draft(1).intentId);
  expect(again.kept).toEqual([]);
});

test("work left by the device's earlier life is delivered under its new id, before what comes now", async () => {
  const before = await IntentQueue.open(owner);
  await before.add(draft(1), stamp);
  await before.add(draft(2), stamp);
  const now = await IntentQueue.open({ ...owner, deviceId: id(0xdf) });
  await now.add(draft(3), stamp);
  expect(now.waiting.map(({ intent }) => [intent.deviceId, intent.deviceSeq, intent.intentId])).toEqual([
    [id(0xdf), 1, draft(1).intentId],
    [id(0xdf), 2, draft(2).intentId],
    [id(0xdf), 3, draft(3).intentId],
  ]);
});

test("the other tab learns what this one keeps", async () => {
  const channel = () => new BroadcastChannel("queue of a test");
  const here = await IntentQueue.open(owner, { channel: channel() });
  const there = await IntentQueue.open(owner, { channel: channel() });
  await here.add(draft(1), stamp);
  await until(there, () => there.waiting.length === 1);
  expect(numbers(there)).toEqual([1]);
  await Promise.all([here.close(), there.close()]);
});

test("whatever is added, ruled on, dismissed and reopened, nothing is lost, doubled or out of order", async () => {
  const step = fc.oneof(
    fc.constant("add" as const),
    fc.constant("accept" as const),
    fc.constant("refuse" as const),
    fc.constant("reopen" as const),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(step, { maxLength: 25 }), async (steps) => {
      emptyPhone();
      let queue = await IntentQueue.open(owner);
      const expected: { number: number; isRefused: boolean }[] = [];
      let added = 0;
      for (const each of steps) {
        const first = expected.find(({ isRefused }) => !isRefused);
        if (each === "add") {
          added += 1;
          await queue.add(draft(added), stamp);
          expected.push({ number: added, isRefused: false });
        } else if (each === "reopen") {
          await queue.close();
          queue = await IntentQueue.open(owner);
        } else if (first) {
          const { intentId } = draft(first.number);
          if (each === "accept") {
            await queue.take([{ intentId, verdict: "accepted" }]);
            expected.splice(expected.indexOf(first), 1);
          } else {
            await queue.take([{ intentId, verdict: "refused", refusal: { kind: "last-owner" } }]);
            first.isRefused = true;
          }
        }
      }
      const held = queue.kept.map(({ intent, state }) => ({
        number: intent.deviceSeq,
        isRefused: state === "refused",
      }));
      expect(held).toEqual(expected);
      await queue.close();
    }),
    { numRuns: 25 },
  );
});
