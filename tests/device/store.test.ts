import { afterEach, beforeEach, expect, test, vi } from "vitest";
import * as Y from "yjs";
import type { Intent } from "~/core/shop/intent";
import { closeCode, notesRoom } from "~/core/wire";
import { NotSignedIn, type SendAnswer } from "~/device/delivery";
import { copiesOnDevice } from "~/device/device-database";
import { rowKey } from "~/device/optimistic";
import { piecesWithUnsentNotes, wipeDevice } from "~/device/session";
import { DeviceStore, type ServerLink } from "~/device/store";
import { type Frame, readFrame, step1Frame, step2Frame, updateFrame } from "../../server/messages";
import { aClaim, aPiece, aTask, dresser, fern, id, monday8, shopId, shopWith, silas } from "../core/support/shop";
import { emptyPhone, HandClocks, until } from "./support/browser";
import { floorOf, HeldSocket, heldSocket } from "./support/floor";

const session = { shopId, memberId: fern, deviceId: id(0xde), isSharedTablet: false };
const scrape = id(301);
const theShop = () => shopWith({ piece: [aPiece()], task: [aTask({ id: scrape })] });
const theFloor = (seq = 41, facts = theShop()) => floorOf(facts, { seq, airFromAt: 0, askedAt: monday8 });

/** A server that a test switches off and on; it accepts everything. */
class TestServer implements ServerLink {
  isAway = false;
  epoch = 7;
  /** Intents do not arrive, all else does. */
  refusesIntents = false;
  readonly taken: Intent[] = [];

  constructor(private readonly phone: HandClocks) {}

  send = async (intents: Intent[]): Promise<SendAnswer> => {
    this.answer();
    if (this.refusesIntents) throw new Error("the queue is closed");
    this.taken.push(...intents);
    return { rulings: intents.map(({ intentId }) => ({ intentId, verdict: "accepted", seq: 42 })) };
  };
  serverTime = async () => {
    this.answer();
    return this.phone.wallAt;
  };
  floorEpoch = async () => {
    this.answer();
    return this.epoch;
  };
  enrol = async () => this.answer();
  sendLast = async () => {
    throw new NotSignedIn();
  };

  private answer(): void {
    if (this.isAway) throw new Error("no signal");
  }
}

const opened: DeviceStore[] = [];
async function openStore({ isAway = false, phone = new HandClocks(monday8) } = {}) {
  const server = new TestServer(phone);
  server.isAway = isAway;
  let wake = () => {};
  const signedIn = isAway ? session : { ...session, floorEpoch: server.epoch };
  const store = await DeviceStore.open(signedIn, server, {
    clock: phone.clock(),
    origin: "ws://shop.test",
    socket: heldSocket,
    later: () => () => {},
    onWake: (run) => {
      wake = run;
      return () => {};
    },
  });
  opened.push(store);
  return { store, server, phone, wake: () => wake() };
}

const claimBody = { claimId: id(0x600), taskId: scrape, memberIds: [fern] };
const isIdle = (store: DeviceStore) => () =>
  store.getSnapshot().delivery.state === "idle" && store.getSnapshot().kept.length === 0;

beforeEach(() => {
  emptyPhone();
  HeldSocket.made.length = 0;
});
afterEach(async () => {
  await Promise.all(opened.splice(0).map((store) => store.end()));
  vi.unstubAllGlobals();
});

test("a claim made without signal is on the screen, marked as waiting, and survives the page", async () => {
  const first = await openStore();
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  await until(first.store, isIdle(first.store));
  first.server.isAway = true;
  const answer = await first.store.propose("claim-task", claimBody);
  expect(answer).toMatchObject({ state: "kept", isSure: true, intent: { seenSeq: 41, deviceSeq: 1 } });
  await first.store.end();

  const { store } = await openStore({ isAway: true, phone: first.phone });
  const { facts, pendingRows, kept } = store.getSnapshot();
  expect(facts.get("task", scrape)?.state).toBe("held");
  expect(pendingRows.has(rowKey("task", scrape))).toBe(true);
  expect(kept).toMatchObject([{ state: "waiting", intent: { kind: "claim-task" } }]);
});

test("a line that comes and goes changes nothing of the floor; what is done changes it from that instant on", async () => {
  const { store, phone } = await openStore();
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  await until(store, isIdle(store));
  const before = store.getSnapshot();
  phone.pass(90_000);
  HeldSocket.last.hangUp(1006);
  expect(store.getSnapshot().connection.state).toBe("apart");
  expect(store.getSnapshot().facts).toBe(before.facts);
  await store.propose("claim-task", claimBody);
  const after = store.getSnapshot();
  expect(after.facts).not.toBe(before.facts);
  expect(after.factsSinceAt).toBe(phone.wallAt);
  expect(after.factsSinceAt).toBeGreaterThan(before.factsSinceAt);
});

test("what the shop would refuse is refused on the phone at once, and nothing is kept", async () => {
  const { store } = await openStore();
  const facts = theShop();
  facts.put("claim", aClaim({ id: id(501), taskId: scrape, memberIds: [silas], lastSignAt: monday8 }));
  HeldSocket.last.accept(step2Frame(theFloor(41, facts).since()));
  const answer = await store.propose("claim-task", claimBody, { happenedAt: monday8 });
  expect(answer).toMatchObject({ state: "refused", refusal: { kind: "already-claimed", holderId: silas } });
  expect(store.getSnapshot().kept).toEqual([]);
});

test("what the phone cannot judge, because the floor never arrived, is kept all the same", async () => {
  const { store } = await openStore({ isAway: true });
  expect(await store.propose("claim-task", claimBody)).toMatchObject({ state: "kept", isSure: false });
});

test("a phone that cannot keep it says so, and shows nothing as kept", async () => {
  const { store } = await openStore({ isAway: true });
  const full = vi.spyOn(IDBObjectStore.prototype, "add").mockImplementation(() => {
    throw new DOMException("the disk is full", "QuotaExceededError");
  });
  expect(await store.propose("claim-task", claimBody)).toMatchObject({
    state: "not-kept",
    failure: { because: "device-full" },
  });
  expect(store.getSnapshot()).toMatchObject({ kept: [], notKept: { because: "device-full" } });
  full.mockRestore();
});

test("an accepted claim never flickers: it stays on the screen until the floor brings it", async () => {
  const { store } = await openStore();
  const facts = theShop();
  const floor = theFloor(41, facts);
  HeldSocket.last.accept(step2Frame(floor.since()));
  const states = new Set<string | undefined>();
  await store.propose("claim-task", claimBody);
  store.subscribe(() => states.add(store.getSnapshot().facts.get("task", scrape)?.state));
  await until(store, isIdle(store));
  expect(store.getSnapshot().pendingRows.size).toBe(0);
  const update = floor.set([
    { part: "task", key: scrape, value: aTask({ id: scrape, state: "held", title: "Scrape the feet" }) },
    { part: "meta", key: "seq", value: 42 },
  ]);
  HeldSocket.last.say(updateFrame(update as Uint8Array));
  expect(store.getSnapshot().seq).toBe(42);
  expect([...states]).toEqual(["held"]);
});

test("a phone without a floor opens without signal; when that is back, what waited goes out and the floor comes", async () => {
  const { store, server, wake } = await openStore({ isAway: true });
  await store.propose("claim-task", claimBody);
  expect(HeldSocket.made).toEqual([]);
  server.isAway = false;
  wake();
  await until(store, isIdle(store));
  expect(server.taken).toMatchObject([{ kind: "claim-task", memberId: fern }]);
  await vi.waitUntil(() => HeldSocket.made.length > 0);
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  expect(store.getSnapshot().facts.all("piece")).toHaveLength(1);
});

test("a floor founded anew drops the copy, keeps the unsent claim, and lays it over the new floor", async () => {
  const { store, server } = await openStore();
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  await until(store, isIdle(store));
  server.refusesIntents = true;
  await store.propose("claim-task", claimBody);
  server.epoch = 8;
  HeldSocket.last.hangUp(closeCode.otherEpoch);
  await vi.waitUntil(() => HeldSocket.last.url.endsWith(":8"));
  expect(store.getSnapshot().facts.all("piece")).toEqual([]);
  HeldSocket.last.accept(step2Frame(theFloor(50).since()));
  expect(store.getSnapshot().facts.all("piece")).toHaveLength(1);
  expect(store.getSnapshot().facts.get("task", scrape)?.state).toBe("held");
  expect(store.getSnapshot().kept).toHaveLength(1);
  expect((await copiesOnDevice()).map(({ epoch }) => epoch)).toEqual([8]);
});

test("whoever has no right to the floor any more keeps no copy of it, and what they did still goes out", async () => {
  const { store, server, wake } = await openStore();
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  await until(store, isIdle(store));
  server.isAway = true;
  await store.propose("claim-task", claimBody);
  HeldSocket.last.hangUp(closeCode.noRight);
  await vi.waitUntil(async () => (await copiesOnDevice()).length === 0);
  expect(store.getSnapshot().facts.all("piece")).toEqual([]);
  expect(store.getSnapshot().connection).toEqual({ state: "closed", because: "no-right" });
  server.isAway = false;
  wake();
  await until(store, isIdle(store));
  expect(server.taken).toHaveLength(1);
});

test("words in notes that were left unsent go out by themselves when the phone is back, though nobody opens them", async () => {
  const first = await openStore({ isAway: true });
  const notes = await first.store.openNotes(dresser);
  notes.write("journal", "Written in the van.");
  await notes.end();
  await first.store.end();
  HeldSocket.made.length = 0;

  const { store, wake } = await openStore({ phone: first.phone });
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  wake();
  const room = notesRoom(shopId, dresser);
  await vi.waitUntil(() => HeldSocket.last.url.endsWith(room));
  const socket = HeldSocket.last;
  const server = new Y.Doc();
  socket.accept(step1Frame(Y.encodeStateVector(server)), step2Frame(Uint8Array.of(0, 0)));
  const sent = socket.sent.map((frame) => readFrame(Buffer.from(frame))).find((frame) => frame?.kind === "step2");
  const { update } = sent as Extract<Frame, { kind: "step2" }>;
  Y.applyUpdate(server, update);
  expect(server.getText("journal").toString()).toBe("Written in the van.");
  socket.say(updateFrame(update));
  await vi.waitUntil(() => socket.readyState === 3);
  expect(await piecesWithUnsentNotes()).toEqual([]);
  await store.end();
});

test("signing out takes the floor off the phone and leaves the unsent work of each member", async () => {
  const first = await openStore({ isAway: false });
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  await until(first.store, isIdle(first.store));
  first.server.isAway = true;
  await first.store.propose("claim-task", claimBody);
  await first.store.end();
  await wipeDevice();
  const left = (await indexedDB.databases()).map(({ name }) => name);
  expect(left.filter((name) => name?.startsWith("tackfree-floor"))).toEqual([]);
  const { store } = await openStore({ phone: first.phone });
  expect(store.getSnapshot().facts.all("piece")).toEqual([]);
  expect(store.queue.waiting).toHaveLength(1);
});
