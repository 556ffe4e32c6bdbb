/** A device that was apart for a week comes back with all that was done on it, over a line that breaks in the middle. */
import net from "node:net";
import { IDBFactory } from "fake-indexeddb";
import fc from "fast-check";
import "fake-indexeddb/auto";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { type Intent, schemaVersion } from "~/core/shop/intent";
import { closeDatabase, database } from "~/data/db";
import { differences, replay, storedRows } from "~/data/replay";
import { DeviceClock } from "~/device/clock";
import { Delivery, type IntentSender, type SendAnswer } from "~/device/delivery";
import { IntentQueue, type RulingAnswer } from "~/device/intent-queue";
import { freshShop, joined, newId } from "../support/database";
import { historyOf, intentOfStep, step } from "../support/histories";
import { buildDoor, killDoor, openDoor, removeDoor } from "./support/doors";
import { ShopServer } from "./support/shop-server";

const intentCount = 2000;
const hourMs = 3_600_000;
const weekMs = 7 * 24 * hourMs;

beforeAll(buildDoor);
afterAll(async () => {
  removeDoor();
  vi.unstubAllGlobals();
  await closeDatabase();
});

/** A line to a server that breaks once, when so many bytes of answers have come through it. */
async function breakingLine(port: number, afterBytes: number) {
  let heardBytes = 0;
  let cuts = 0;
  const line = net.createServer((near) => {
    const far = net.connect(port, "127.0.0.1");
    const drop = () => {
      near.destroy();
      far.destroy();
    };
    near.on("error", drop).on("close", drop).pipe(far);
    far.on("error", drop).on("close", drop);
    far.on("data", (bytes) => {
      heardBytes += bytes.length;
      if (cuts === 0 && heardBytes > afterBytes) {
        cuts += 1;
        drop();
      } else near.write(bytes);
    });
  });
  await new Promise<void>((resolve) => line.listen(0, "127.0.0.1", resolve));
  const { port: nearPort } = line.address() as net.AddressInfo;
  return { port: nearPort, cuts: () => cuts, end: () => line.close() };
}

const senderTo =
  (port: number, cookie: string): IntentSender =>
  async (intents, behind) => {
    const response = await fetch(`http://127.0.0.1:${port}/api/trpc/door.send`, {
      method: "POST",
      headers: { "content-type": "application/json", cookie },
      body: JSON.stringify({ intents, behind }),
    });
    const answer = (await response.json()) as { result?: { data: SendAnswer } };
    if (!answer.result) throw new Error(`the door said ${JSON.stringify(answer)}`);
    return answer.result.data;
  };

test("two thousand things done in a week apart are ruled on once each, in their order, though the line breaks", async () => {
  vi.stubGlobal("indexedDB", new IDBFactory());
  const backAt = Date.now();
  const leftAt = backAt - weekMs;
  const shop = await freshShop(leftAt - hourMs);
  const { shopId } = shop;
  const hands = [shop.owner, await joined(shop, "partner", leftAt - hourMs), await joined(shop, "helper", leftAt)];
  const hand = hands[1] as (typeof hands)[number];
  const signIn = await ShopServer.start();
  signIn.now = backAt;
  const cookie = await signIn.signIn(hand);
  await signIn.stop();

  // the same steps every time, in the shop of this run
  const steps = fc.sample(step, { numRuns: intentCount, seed: 1201 });
  const history = historyOf(shop, hands);
  const queue = await IntentQueue.open(hand);
  const made: string[] = [];
  for (const [index, found] of steps.entries()) {
    const deviceAt = Math.floor(leftAt + (index * weekMs) / intentCount);
    const { kind, body } = intentOfStep(history, { ...found, who: 1 }, deviceAt);
    const intentId = newId(deviceAt);
    made.push(intentId);
    const kept = await queue.add({ intentId, kind, body, seenSeq: 0, schemaVersion }, { deviceAt, offsetMs: 0 });
    expect(kept.ok).toBe(true);
  }

  const door = await openDoor();
  const line = await breakingLine(door.port, 60_000);
  try {
    const sent: Intent[] = [];
    const told = new Map<string, RulingAnswer>();
    const toServer = senderTo(line.port, cookie);
    const send: IntentSender = async (intents, behind) => {
      sent.push(...intents);
      const answer = await toServer(intents, behind);
      for (const ruling of answer.rulings) told.set(ruling.intentId, ruling);
      return answer;
    };
    const clock = new DeviceClock({
      wall: Date.now,
      monotonic: () => performance.now(),
      memory: { read: () => null, write: () => undefined },
    });
    const again: (() => void)[] = [];
    const later = (run: () => void) => {
      again.push(run);
      return () => undefined;
    };
    const delivery = new Delivery(queue, { send, clock, serverTime: async () => Date.now(), later });

    const beganAt = performance.now();
    await delivery.flush();
    expect(delivery.state).toMatchObject({ state: "paused" });
    expect(line.cuts()).toBe(1);
    expect(queue.waiting.length).toBeGreaterThan(0);
    expect(queue.waiting.length).toBeLessThan(intentCount);
    await delivery.flush();
    const seconds = (performance.now() - beganAt) / 1000;
    console.log(`${intentCount} intents replayed in ${seconds.toFixed(1)} s`);

    expect(delivery.state).toEqual({ state: "idle" });
    expect(queue.waiting).toEqual([]);
    // what was on its way when the line broke was sent twice
    expect(sent.length).toBeGreaterThan(intentCount);
    const rulings = await database().ruling.findMany({ where: { shopId, intentId: { in: made } } });
    expect(rulings).toHaveLength(intentCount);
    const refusedIds = made.filter((id) => told.get(id)?.verdict === "refused");
    expect(queue.kept.map(({ intent }) => intent.intentId)).toEqual(refusedIds);
    expect(refusedIds.length).toBeGreaterThan(100);
    expect(refusedIds.length).toBeLessThan(intentCount - 100);
    const entries = await database().ledgerEntry.findMany({
      where: { shopId, intentId: { in: made } },
      orderBy: { seq: "asc" },
    });
    const place = new Map(made.map((id, index) => [id, index]));
    const places = entries.map(({ intentId }) => place.get(intentId ?? "") as number);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(new Set(places).size).toBe(places.length);
    expect(differences(await replay(shopId), await storedRows(shopId))).toEqual([]);

    // everything once more, as a device would whose memory of the answers was lost
    const first = new Map(sent.map((intent) => [intent.intentId, intent]));
    const whole = made.map((id) => first.get(id) as Intent);
    for (let from = 0; from < whole.length; from += 500) {
      const { rulings: same } = await toServer(whole.slice(from, from + 500), []);
      expect(same).toEqual(whole.slice(from, from + 500).map(({ intentId }) => told.get(intentId)));
    }
    expect(await database().ledgerEntry.count({ where: { shopId, intentId: { in: made } } })).toBe(entries.length);
  } finally {
    line.end();
    await killDoor(door);
    await queue.close();
  }
}, 240_000);
