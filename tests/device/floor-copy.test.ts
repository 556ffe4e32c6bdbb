import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { closeCode } from "~/core/wire";
import { copiesOnDevice } from "~/device/device-database";
import { epochOnDevice, FloorCopy } from "~/device/floor-copy";
import { reconnectPauseMs } from "~/device/room-link";
import { presenceFrame, step2Frame, updateFrame } from "../../server/messages";
import { aPiece, dresser, id, monday8, shopId, shopWith, silas } from "../core/support/shop";
import { emptyPhone, HandClocks } from "./support/browser";
import { floorOf, HeldSocket, heldSocket } from "./support/floor";

const parts = { origin: "ws://shop.test", socket: heldSocket, random: () => 0 };
const theFloor = () => floorOf(shopWith({ piece: [aPiece()] }), { seq: 41, airFromAt: 0, askedAt: monday8 });

const opened: FloorCopy[] = [];
async function openCopy(epoch = 7, phone = new HandClocks(monday8)): Promise<FloorCopy> {
  const copy = new FloorCopy({ shopId, epoch }, { ...parts, now: () => phone.wallAt });
  opened.push(copy);
  await copy.open(true);
  return copy;
}

beforeEach(() => {
  emptyPhone();
  HeldSocket.made.length = 0;
});
afterEach(async () => {
  await Promise.all(opened.splice(0).map((copy) => copy.end()));
  vi.unstubAllGlobals();
});

test("the floor arrives, says when it was last heard, and is there after the page was closed, without signal", async () => {
  const copy = await openCopy();
  expect(HeldSocket.last.url).toBe(`ws://shop.test/sync/floor:${shopId}:7`);
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  expect(copy.link.connection).toEqual({ state: "live" });
  await copy.end();
  const again = await openCopy();
  expect(again.facts.get("piece", dresser)?.name).toBe("Tall dresser");
  expect(again.facts.seq).toBe(41);
  expect(again.link.heardAt).toBe(monday8);
});

test("a floor that was founded anew is another floor: the old copy is dropped, nothing of it comes back", async () => {
  const old = await openCopy(7);
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  await old.end();
  expect(await epochOnDevice(shopId)).toBe(7);
  const anew = await openCopy(8);
  expect(anew.facts.all("piece")).toEqual([]);
  expect((await copiesOnDevice()).map(({ epoch }) => epoch)).toEqual([8]);
  expect((await indexedDB.databases()).map(({ name }) => name)).not.toContain(`tackfree-floor:${shopId}:7`);
});

test.each([
  { code: closeCode.sessionOver, because: "session-over" },
  { code: closeCode.noRight, because: "no-right" },
  { code: closeCode.noSuchRoom, because: "no-such-room" },
  { code: closeCode.otherEpoch, because: "other-epoch" },
])("a door that the server shuts for good ($because) is not knocked at again", async ({ code, because }) => {
  const copy = await openCopy();
  HeldSocket.last.accept();
  HeldSocket.last.hangUp(code);
  expect(copy.link.connection).toEqual({ state: "closed", because });
  expect(copy.link.provider.shouldConnect).toBe(false);
});

test("a server that restarts is apart for a while, and the phone comes back by itself", async () => {
  const copy = await openCopy();
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  HeldSocket.last.hangUp(closeCode.restarting);
  expect(copy.link.connection).toEqual({ state: "apart", sinceAt: monday8 });
  await vi.waitUntil(() => HeldSocket.made.length === 2);
  HeldSocket.last.accept();
  expect(copy.link.connection).toEqual({ state: "live" });
});

test("phones come back spread over the whole of a time that grows, after half a minute at the latest", () => {
  expect([reconnectPauseMs(1, 0), reconnectPauseMs(1, 1)]).toEqual([0, 200]);
  expect([reconnectPauseMs(30, 0), reconnectPauseMs(30, 0.5), reconnectPauseMs(30, 1)]).toEqual([0, 15_000, 30_000]);
});

test("signal that is back ends the pause at once, and a line that died while the phone slept is given up", async () => {
  const phone = new HandClocks(monday8);
  const copy = await openCopy(7, phone);
  HeldSocket.last.accept(step2Frame(theFloor().since()));
  phone.pass(20_000);
  copy.link.reconnect();
  expect(HeldSocket.made).toHaveLength(1);
  phone.pass(10_000);
  copy.link.reconnect();
  expect(HeldSocket.made).toHaveLength(2);
  HeldSocket.last.hangUp(1006);
  copy.link.reconnect();
  expect(HeldSocket.made).toHaveLength(3);
});

test("who is looking where comes from the server, and this member's own glance is told to it", async () => {
  const copy = await openCopy();
  copy.lookAt(dresser);
  const socket = HeldSocket.last;
  socket.accept();
  const told = Buffer.concat(socket.sent.map((frame) => Buffer.from(frame))).toString("latin1");
  expect(told).toContain(`{"lookingAt":"${dresser}"}`);
  const silasLooks = { memberId: silas, deviceId: id(0xdf), lookingAt: dresser };
  socket.say(presenceFrame([{ clientId: 5, clock: 1, state: silasLooks }]));
  expect(copy.presence).toEqual([silasLooks]);
  socket.say(presenceFrame([{ clientId: 5, clock: 2, state: null }]));
  expect(copy.presence).toEqual([]);
});

test("a change of the floor is told once, when all of it is in", async () => {
  const copy = await openCopy();
  const floor = theFloor();
  HeldSocket.last.accept(step2Frame(floor.since()));
  const seen: [number, string | undefined][] = [];
  copy.onChange(() => seen.push([copy.facts.seq, copy.facts.get("piece", dresser)?.name]));
  const update = floor.set([
    { part: "piece", key: dresser, value: aPiece({ name: "Low dresser" }) },
    { part: "meta", key: "seq", value: 42 },
  ]);
  HeldSocket.last.say(updateFrame(update as Uint8Array));
  expect(seen).toEqual([[42, "Low dresser"]]);
});

test("a screen opened and left fifty times leaves no socket open", async () => {
  for (let visit = 0; visit < 50; visit += 1) {
    const copy = await openCopy();
    HeldSocket.last.accept();
    await copy.end();
  }
  expect(HeldSocket.made).toHaveLength(50);
  expect(HeldSocket.made.filter(({ readyState }) => readyState !== 3)).toEqual([]);
});
