import { afterEach, beforeEach, expect, test, vi } from "vitest";
import type { Intent } from "~/core/shop/intent";
import type { SendAnswer } from "~/device/delivery";
import { IntentQueue } from "~/device/intent-queue";
import { DeviceStore, type ServerLink } from "~/device/store";
import { step2Frame } from "../../server/messages";
import { aCoat, aWetCoat, fern, id, loft, monday8, shopId, shopWithDresser } from "../core/support/shop";
import { emptyPhone, HandClocks, until } from "./support/browser";
import { floorOf, HeldSocket, heldSocket } from "./support/floor";

const session = { shopId, memberId: fern, deviceId: id(0xde), isSharedTablet: false, floorEpoch: 7 };
const [laid, planned] = [id(121), id(122)];
const floor = floorOf(shopWithDresser({ coat: [aWetCoat({ id: laid }), aCoat({ id: planned, position: 2 })] }), {
  seq: 41,
  airFromAt: 0,
  askedAt: monday8,
});

/** A server behind a line that a test cuts: before anything arrives, or on the way back. */
class CutLine implements ServerLink {
  cut: "none" | "both-ways" | "answers" = "none";
  readonly taken: Intent[] = [];

  send = async (intents: Intent[]): Promise<SendAnswer> => {
    if (this.cut === "both-ways") throw new Error("no signal");
    this.taken.push(...intents);
    if (this.cut === "answers") throw new Error("no answer");
    return { rulings: intents.map(({ intentId }) => ({ intentId, verdict: "accepted", seq: 42 })) };
  };
  serverTime = async () => {
    if (this.cut !== "none") throw new Error("no signal");
    return monday8;
  };
  floorEpoch = async () => 7;
  enrol = async () => undefined;
  sendLast = async () => {
    throw new Error("no signal");
  };
}

const opened: DeviceStore[] = [];
async function phoneInTheLoft() {
  const server = new CutLine();
  let wake = () => {};
  const store = await DeviceStore.open(session, server, {
    clock: new HandClocks(monday8).clock(),
    origin: "ws://shop.test",
    socket: heldSocket,
    later: () => () => {},
    onWake: (run) => {
      wake = run;
      return () => {};
    },
  });
  opened.push(store);
  HeldSocket.last.accept(step2Frame(floor.since()));
  await until(store, isIdle(store));
  return { store, server, wake: () => wake() };
}
const isIdle = (store: DeviceStore) => () =>
  store.getSnapshot().delivery.state === "idle" && store.getSnapshot().kept.length === 0;
const isPaused = (store: DeviceStore) => () => store.getSnapshot().delivery.state === "paused";

const did = async (store: DeviceStore, kind: string, body: object) => {
  const proposed = await store.propose(kind, body);
  if (proposed.state !== "kept") throw new Error(JSON.stringify(proposed));
  return proposed.intent.intentId;
};
const numbers = (store: DeviceStore) => store.queue.waiting.map(({ intent }) => intent.deviceSeq);

/** Somebody tried to send something, and there was no signal. */
async function outOfReach() {
  const phone = await phoneInTheLoft();
  HeldSocket.last.hangUp(1006);
  phone.server.cut = "both-ways";
  return phone;
}

beforeEach(() => {
  emptyPhone();
  HeldSocket.made.length = 0;
});
afterEach(async () => {
  await Promise.all(opened.splice(0).map((store) => store.end()));
  vi.unstubAllGlobals();
});

test("what never left the phone is taken out of its line, and the shop hears nothing of it", async () => {
  const { store, server, wake } = await outOfReach();
  const first = await did(store, "log-wiped", { coatId: laid });
  const second = await did(store, "count-can", { canId: id(201), millilitres: 5 });
  const third = await did(store, "edit-piece", {
    pieceId: id(101),
    field: "name",
    was: "Tall dresser",
    value: "Chest",
  });
  await until(store, isPaused(store));
  expect(store.getSnapshot().facts.get("coat", laid)?.state).toBe("wiped");
  expect(await store.takeBack(first)).toEqual({ state: "withdrawn" });
  expect(store.getSnapshot().facts.get("coat", laid)?.state).toBe("applied");
  expect(store.queue.waiting.map(({ intent }) => intent.intentId)).toEqual([second, third]);
  expect(numbers(store)).toEqual([1, 2]);
  server.cut = "none";
  wake();
  await until(store, isIdle(store));
  expect(server.taken.map(({ intentId, deviceSeq }) => [intentId, deviceSeq])).toEqual([
    [second, 1],
    [third, 2],
  ]);
});

test("it stays when something behind it rests on it, which is named", async () => {
  const { store } = await outOfReach();
  const coat = { startedAt: monday8, endedAt: monday8, by: [fern], roomId: loft, stance: "done" };
  const logged = await did(store, "log-coat", { coatId: planned, ...coat });
  const flaw = await did(store, "report-flaw", { coatId: planned, cause: "run" });
  await until(store, isPaused(store));
  expect(await store.takeBack(logged)).toMatchObject({
    state: "refused",
    refusal: { kind: "something-rests-on-it", itsKind: "log-coat", intentIds: [flaw] },
  });
  expect(await store.takeBack(flaw)).toEqual({ state: "withdrawn" });
  expect(await store.takeBack(logged)).toEqual({ state: "withdrawn" });
  expect(store.getSnapshot().kept).toEqual([]);
});

test("what this phone cannot judge rests on whatever it names", async () => {
  const { store, server, wake } = await outOfReach();
  // a can that this phone has not heard of
  const opening = await did(store, "open-can", { canId: id(999) });
  const mix = { mixId: id(998), sheetId: id(997), canIds: [id(999)], millilitres: 10, roomId: loft };
  const mixing = await did(store, "log-mix", mix);
  await until(store, isPaused(store));
  expect(await store.takeBack(opening)).toMatchObject({ state: "refused", refusal: { intentIds: [mixing] } });
  server.cut = "none";
  wake();
  await until(store, isIdle(store));
});

test("what may have arrived, though its answer was lost, is not unwritten here but asked of the shop", async () => {
  const { store, server, wake } = await phoneInTheLoft();
  server.cut = "answers";
  const wiped = await did(store, "log-wiped", { coatId: laid });
  await until(store, isPaused(store));
  expect(server.taken).toHaveLength(1);
  expect(await store.takeBack(wiped)).toMatchObject({ state: "kept", isSure: false, intent: { kind: "take-back" } });
  expect(store.queue.waiting.map(({ intent }) => intent.kind)).toEqual(["log-wiped", "take-back"]);
  server.cut = "none";
  wake();
  await until(store, isIdle(store));
  expect(server.taken.map(({ kind }) => kind)).toEqual(["log-wiped", "log-wiped", "take-back"]);
});

test("of two tabs, one that is just sending and one that takes back, only one has its way", async () => {
  const [here, there] = [await IntentQueue.open(session), await IntentQueue.open(session)];
  const stamp = { deviceAt: monday8, offsetMs: 0, offsetUncertainMs: 20 };
  for (let number = 0; number < 20; number += 1) {
    const intentId = id(0x1000 + number);
    await here.add({ intentId, kind: "log-wiped", body: { coatId: laid }, seenSeq: 7, schemaVersion: 1 }, stamp);
    await there.read();
    const [left, isWithdrawn] = await Promise.all([here.setOut(here.waiting), there.withdraw(intentId)]);
    expect(left.length).toBe(isWithdrawn ? 0 : 1);
    await Promise.all([here.read(), there.read()]);
    expect(here.waiting.length).toBe(left.length);
    await here.take([{ intentId, verdict: "accepted" }]);
  }
  await Promise.all([here.close(), there.close()]);
});
