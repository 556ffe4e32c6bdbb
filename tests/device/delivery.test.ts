import { beforeEach, expect, test } from "vitest";
import { type Intent, schemaVersion } from "~/core/shop/intent";
import { hourMs } from "~/core/units";
import type { Stamp } from "~/device/clock";
import { Delivery, type DeliveryParts, NotSignedIn, pauseMs, type SendAnswer } from "~/device/delivery";
import { IntentQueue } from "~/device/intent-queue";
import { fern, id, monday8, shopId } from "../core/support/people";
import { emptyPhone, HandClocks } from "./support/browser";

const owner = { shopId, memberId: fern, deviceId: id(0xde) };
const measured: Stamp = { deviceAt: monday8, offsetMs: 0, offsetUncertainMs: 20 };

async function queueOf(count: number, stamp = measured): Promise<IntentQueue> {
  const queue = await IntentQueue.open(owner);
  for (let number = 1; number <= count; number += 1) {
    const body = { taskId: id(number) };
    await queue.add({ intentId: id(0x1000 + number), kind: "release-task", body, seenSeq: 7, schemaVersion }, stamp);
  }
  return queue;
}

/** A server that rules as a queue's numbers demand, and remembers every intent that it took. */
class Server {
  readonly taken: Intent[] = [];
  readonly batchLengths: number[] = [];
  isAway = false;
  constructor(private expected = 1) {}

  send = async (intents: Intent[]): Promise<SendAnswer> => {
    if (this.isAway) throw new Error("no signal");
    this.batchLengths.push(intents.length);
    const rulings: SendAnswer["rulings"] = [];
    for (const intent of intents) {
      const isKnown = this.taken.some(({ intentId }) => intentId === intent.intentId);
      if (!isKnown && intent.deviceSeq > this.expected) return { rulings, gap: { resendFrom: this.expected } };
      if (!isKnown) {
        this.taken.push(intent);
        this.expected = Math.max(this.expected, intent.deviceSeq + 1);
      }
      rulings.push({ intentId: intent.intentId, verdict: "accepted", seq: this.taken.length });
    }
    return { rulings };
  };

  get order(): string[] {
    return this.taken.map(({ intentId }) => intentId);
  }
}

function deliveryOf(queue: IntentQueue, server: Pick<DeliveryParts, "send">, parts: Partial<DeliveryParts> = {}) {
  const phone = new HandClocks(monday8);
  const clock = phone.clock();
  phone.contact(clock, 0);
  const pauses: { run: () => void; afterMs: number }[] = [];
  const later: DeliveryParts["later"] = (run, afterMs) => {
    const pause = { run, afterMs };
    pauses.push(pause);
    return () => void pauses.splice(pauses.indexOf(pause), 1);
  };
  const serverTime = async () => phone.wallAt;
  const delivery = new Delivery(queue, {
    send: server.send,
    clock,
    serverTime,
    later,
    random: () => 1,
    ...parts,
  });
  return { delivery, pauses };
}

beforeEach(emptyPhone);

test("a week's queue goes out in order, a hundred at a time, and is empty afterwards", async () => {
  const queue = await queueOf(230);
  const server = new Server();
  await deliveryOf(queue, server).delivery.flush();
  expect(server.batchLengths).toEqual([100, 100, 30]);
  expect(server.taken.map(({ deviceSeq }) => deviceSeq)).toEqual(Array.from({ length: 230 }, (_, index) => index + 1));
  expect(queue.kept).toEqual([]);
});

test("hours that come behind a batch are shown along with it, for a claim on which they were worked", async () => {
  const queue = await queueOf(100);
  for (const [index, kind] of ["start-timer", "release-task", "stop-timer"].entries()) {
    await queue.add({ intentId: id(0x2000 + index), kind, body: {}, seenSeq: 7, schemaVersion }, measured);
  }
  const server = new Server();
  const shown: string[][] = [];
  const send = async (intents: Intent[], behind: Intent[]) => {
    shown.push(behind.map(({ kind }) => kind));
    return server.send(intents);
  };
  await deliveryOf(queue, { send }).delivery.flush();
  expect(shown).toEqual([["start-timer", "stop-timer"], []]);
});

test("without signal everything stays; it is tried again by itself, and then goes out once", async () => {
  const queue = await queueOf(3);
  const server = new Server();
  server.isAway = true;
  const { delivery, pauses } = deliveryOf(queue, server);
  await delivery.flush();
  expect(queue.waiting).toHaveLength(3);
  expect(delivery.state).toMatchObject({ state: "paused", attempts: 1 });
  server.isAway = false;
  expect(pauses).toHaveLength(1);
  await delivery.flush();
  expect(pauses).toHaveLength(0);
  expect(server.taken).toHaveLength(3);
  expect(delivery.state).toEqual({ state: "idle" });
});

test("pauses grow to half a minute and no further, and phones return spread over all of that", () => {
  expect([1, 2, 3, 6, 40].map((attempts) => pauseMs(attempts, 1))).toEqual([1000, 2000, 4000, 30_000, 30_000]);
  expect([pauseMs(40, 0), pauseMs(40, 0.5)]).toEqual([0, 15_000]);
});

test("an answer lost on the way leaves the work in the queue, and the second sending counts once", async () => {
  const queue = await queueOf(2);
  const server = new Server();
  let isLost = true;
  const send = async (intents: Intent[]) => {
    const answer = await server.send(intents);
    if (isLost) throw new Error("the answer was lost");
    return answer;
  };
  const { delivery } = deliveryOf(queue, { send });
  await delivery.flush();
  expect(queue.waiting).toHaveLength(2);
  isLost = false;
  await delivery.flush();
  expect(server.taken).toHaveLength(2);
  expect(queue.kept).toEqual([]);
});

test("the server asks from a number on, and gets it from there", async () => {
  const queue = await queueOf(5);
  const server = new Server();
  let isFirst = true;
  const sent: number[][] = [];
  const send = async (intents: Intent[]) => {
    sent.push(intents.map(({ deviceSeq }) => deviceSeq));
    // the middle of the first batch is lost on the way
    const arriving = isFirst ? intents.filter(({ deviceSeq }) => deviceSeq !== 3) : intents;
    isFirst = false;
    return server.send(arriving);
  };
  await deliveryOf(queue, { send }).delivery.flush();
  expect(sent).toEqual([
    [1, 2, 3, 4, 5],
    [3, 4, 5],
  ]);
  expect(server.taken.map(({ deviceSeq }) => deviceSeq)).toEqual([1, 2, 3, 4, 5]);
  expect(queue.kept).toEqual([]);
});

test("a server that was put back to last night gets what waits, numbered from where it stands", async () => {
  const queue = await queueOf(4);
  await queue.take([1, 2].map((number) => ({ intentId: id(0x1000 + number), verdict: "accepted" as const })));
  const server = new Server(2);
  await deliveryOf(queue, server).delivery.flush();
  expect(server.taken.map(({ intentId, deviceSeq }) => [intentId, deviceSeq])).toEqual([
    [id(0x1003), 2],
    [id(0x1004), 3],
  ]);
  const next = await queue.add({ intentId: id(0x2000), kind: "x", body: {}, seenSeq: 7, schemaVersion }, measured);
  expect(next).toMatchObject({ ok: true, value: { deviceSeq: 4 } });
});

test("a server that rules on nothing is not asked in a circle", async () => {
  const queue = await queueOf(2);
  let asked = 0;
  const send = async (): Promise<SendAnswer> => {
    asked += 1;
    return { rulings: [], gap: { resendFrom: 1 } };
  };
  const { delivery } = deliveryOf(queue, { send });
  await delivery.flush();
  expect(asked).toBe(2);
  expect(queue.waiting).toHaveLength(2);
  expect(delivery.state).toMatchObject({ state: "paused" });
});

test("of two tabs one sends, and the other tells it that there is something to send", async () => {
  const [here, there] = [await queueOf(20), await IntentQueue.open(owner)];
  const server = new Server();
  const asked: string[] = [];
  const owning = deliveryOf(here, server, { tab: { isOwner: true, ask: () => asked.push("owner") } }).delivery;
  const other = deliveryOf(there, server, { tab: { isOwner: false, ask: () => asked.push("other") } }).delivery;
  await other.flush();
  expect(asked).toEqual(["other"]);
  expect(server.taken).toEqual([]);
  expect(other.state).toEqual({ state: "idle" });
  await owning.flush();
  expect(server.taken).toHaveLength(20);
  await there.read();
  expect(there.kept).toEqual([]);
});

test("a tab that is the owner no longer stops after the batch that is on its way", async () => {
  const queue = await queueOf(150);
  const server = new Server();
  const tab = { isOwner: true, ask: () => undefined };
  const send = async (intents: Intent[]) => {
    tab.isOwner = false;
    return server.send(intents);
  };
  await deliveryOf(queue, { send }, { tab }).delivery.flush();
  expect(server.batchLengths).toEqual([100]);
  expect(queue.waiting).toHaveLength(50);
});

test("what is added while the queue is on its way goes out in the same go", async () => {
  const queue = await queueOf(1);
  const server = new Server();
  const { delivery } = deliveryOf(queue, server);
  const first = delivery.flush();
  await queue.add({ intentId: id(0x2000), kind: "x", body: {}, seenSeq: 7, schemaVersion }, measured);
  void delivery.flush();
  await first;
  expect(server.order).toEqual([id(0x1001), id(0x2000)]);
});

test("a session that is over is not knocked at again until somebody signs in, and nothing is lost", async () => {
  const queue = await queueOf(2);
  const send = () => Promise.reject(new NotSignedIn("the session is over"));
  const { delivery, pauses } = deliveryOf(queue, { send });
  await delivery.flush();
  expect(delivery.state).toEqual({ state: "signed-out" });
  expect(pauses).toHaveLength(0);
  expect(queue.waiting).toHaveLength(2);
});

test("work stamped before the clock could be measured is settled by the contact that delivers it", async () => {
  const phone = new HandClocks(monday8);
  phone.contact(phone.clock(), hourMs);
  const reloaded = phone.clock();
  const queue = await queueOf(1, reloaded.stamp());
  const server = new Server();
  const serverTime = async () => phone.wallAt + hourMs;
  await deliveryOf(queue, server, { clock: reloaded, serverTime }).delivery.flush();
  expect(server.taken).toMatchObject([{ deviceAt: phone.wallAt, offsetMs: hourMs }]);
  expect(server.taken[0]).not.toHaveProperty("expectedOffsetMs");
});

test("work stamped by a clock that turns out to have been set travels without a time to trust", async () => {
  const phone = new HandClocks(monday8);
  phone.contact(phone.clock(), 0);
  phone.step(hourMs);
  const reloaded = phone.clock();
  const queue = await queueOf(1, reloaded.stamp());
  const server = new Server();
  const serverTime = async () => phone.wallAt - hourMs;
  await deliveryOf(queue, server, { clock: reloaded, serverTime }).delivery.flush();
  expect(server.taken[0]?.offsetMs).toBeUndefined();
});

test("signal that comes back while an attempt is failing is not missed", async () => {
  const queue = await queueOf(1);
  const server = new Server();
  const { delivery, pauses } = deliveryOf(queue, {
    send: async (intents) => {
      if (delivery.state.state === "sending" && !isBack) {
        isBack = true;
        void delivery.flush();
        throw new Error("timed out");
      }
      return server.send(intents);
    },
  });
  let isBack = false;
  await delivery.flush();
  expect(server.taken).toHaveLength(1);
  expect(pauses).toHaveLength(0);
});
