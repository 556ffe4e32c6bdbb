/** A server that is killed or stopped in the middle of its work harms nobody on the others. */
import { setTimeout as pause } from "node:timers/promises";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { closeCode, floorRoom, notesRoom } from "~/core/wire";
import { closeDatabase, database } from "~/data/db";
import { differences, replay, storedRows } from "~/data/replay";
import { accepted, freshShop, type Hand, intentOf, joined, newId, pieceBody, type TestShop } from "../support/database";
import { buildDoor, type Door, killDoor, openDoor, removeDoor, send } from "./support/doors";
import { type Phone, phoneIn } from "./support/phone";
import { ShopServer } from "./support/shop-server";

beforeAll(buildDoor);
const doors: Door[] = [];
const phones: Phone[] = [];
afterEach(async () => {
  for (const phone of phones.splice(0)) phone.leave();
  for (const door of doors.splice(0)) await killDoor(door);
});
afterAll(async () => {
  removeDoor();
  await closeDatabase();
});

/** Longer than it takes until a lock that a stopped process holds is given to others. */
const stoppedMs = 6_000;

type Worker = { hand: Hand; cookie: string; waiting?: { body: { pieceId: string } } };

async function openShop() {
  const shop = await freshShop();
  const signer = await ShopServer.start();
  signer.now = Date.now(); // the processes go by the real clock
  const [other, helper] = [await joined(shop, "owner"), await joined(shop, "helper")];
  const workers: Worker[] = [];
  for (const hand of [shop.owner, other, helper]) workers.push({ hand, cookie: await signer.signIn(hand) });
  const pieceId = newId();
  await accepted(shop.owner, "add-piece", pieceBody(shop, pieceId), Date.now());
  await signer.stop();
  doors.push(...(await Promise.all([openDoor(), openDoor()])));
  const [failing, sound] = doors as [Door, Door];
  return { shop, workers: workers as [Worker, Worker, Worker], pieceId, failing, sound };
}

async function open(door: Door, room: string, { cookie }: Worker): Promise<Phone> {
  const phone = await phoneIn(`ws://127.0.0.1:${door.port}/sync/${room}`, { cookie });
  phones.push(phone);
  return phone;
}

/** One intent of a device's queue. @returns whether the answer came */
async function work(shop: TestShop, worker: Worker, door: Door, saidYes: Set<string>): Promise<boolean> {
  worker.waiting ??= intentOf(worker.hand, "add-piece", pieceBody(shop), Date.now()) as { body: { pieceId: string } };
  if (!(await send(door.port, worker.cookie, worker.waiting))) return false;
  saidYes.add(worker.waiting.body.pieceId);
  worker.waiting = undefined;
  return true;
}

async function expectKept(shopId: string, saidYes: Set<string>): Promise<string[]> {
  const stored = (await database().piece.findMany({ where: { shopId }, select: { id: true } })).map(({ id }) => id);
  expect([...saidYes].filter((id) => !stored.includes(id))).toEqual([]);
  const entries = await database().ledgerEntry.findMany({ where: { shopId }, orderBy: { seq: "asc" } });
  expect(entries.map(({ seq }) => seq)).toEqual(entries.map((_, index) => index + 1));
  expect(differences(await replay(shopId), await storedRows(shopId))).toEqual([]);
  return stored.sort();
}

const pieceIds = (phone: Phone) =>
  phone
    .rows<{ id: string }>("piece")
    .map(({ id }) => id)
    .sort();
const journal = (phone: Phone) => phone.doc.getText("journal").toString();

test("killed in the middle of work, it has lost nothing that it had told anybody, and the other goes on", async () => {
  const { shop, workers, pieceId, failing, sound } = await openShop();
  const [fern, max] = workers;
  const { shopId } = shop;
  const [floorThere, writer, reader] = [
    await open(sound, floorRoom(shopId, 1), max),
    await open(failing, notesRoom(shopId, pieceId), fern),
    await open(failing, notesRoom(shopId, pieceId), max),
  ];
  const saidYes = new Set<string>();
  let isOver = false;
  const atFailing = (async () => {
    while (await work(shop, fern, failing, saidYes))
      if (saidYes.size >= 6 && journal(reader).length > 0) failing.child.kill("SIGKILL");
  })();
  const atSound = (async () => {
    while (!isOver) expect(await work(shop, max, sound, saidYes)).toBe(true);
  })();
  for (let count = 0; count < 400 && writer.closeCode === undefined; count += 1) {
    const before = reader.heard.length;
    writer.doc.getText("journal").insert(0, `<${count}>`);
    await reader.until(() => reader.heard.length > before || reader.closeCode !== undefined);
    await new Promise((resolve) => setImmediate(resolve));
  }
  await atFailing;
  await reader.hungUp();
  isOver = true;
  await atSound;
  const heard = journal(reader);
  const fresh = await open(sound, notesRoom(shopId, pieceId), max);
  expect(heard.match(/<\d+>/g)?.length).toBeGreaterThan(0);
  for (const words of heard.match(/<\d+>/g) ?? []) expect(journal(fresh)).toContain(words);
  const stored = await expectKept(shopId, saidYes);
  await floorThere.until(() => pieceIds(floorThere).length === stored.length);
  expect(pieceIds(floorThere)).toEqual(stored);
  expect(await work(shop, fern, sound, saidYes)).toBe(true);
}, 120_000);

test("stopped in the middle of work it holds nobody up, and when it wakes it catches up and takes nothing that is over", async () => {
  const { shop, workers, pieceId, failing, sound } = await openShop();
  const [fern, max, helper] = workers;
  const { shopId } = shop;
  const [floorHere, floorThere] = [
    await open(failing, floorRoom(shopId, 1), fern),
    await open(sound, floorRoom(shopId, 1), max),
  ];
  const [helperHere, notesThere] = [
    await open(failing, notesRoom(shopId, pieceId), helper),
    await open(sound, notesRoom(shopId, pieceId), max),
  ];
  helperHere.doc.getText("journal").insert(0, "in time. ");
  await notesThere.until(() => journal(notesThere) === "in time. ");
  const saidYes = new Set<string>();
  for (let count = 0; count < 3; count += 1) await work(shop, fern, failing, saidYes);
  // the next one is on its way when the process stops
  const atFailing = work(shop, fern, failing, saidYes);
  await pause(8);
  failing.child.kill("SIGSTOP");
  // were its lock not taken away, none of these would be answered before it wakes
  const until = performance.now() + stoppedMs;
  for (let count = 0; count < 3 || performance.now() < until; count += 1)
    expect(await work(shop, max, sound, saidYes)).toBe(true);
  const end = { memberId: helper.hand.memberId, why: "moved away" };
  expect(await send(sound.port, max.cookie, intentOf(max.hand, "end-membership", end, Date.now()))).toBe(true);
  helperHere.doc.getText("journal").insert(0, "too late. ");
  failing.child.kill("SIGCONT");
  await atFailing.catch(() => false); // its transaction was taken away; the device sends again
  expect([closeCode.sessionOver, closeCode.noRight, closeCode.databaseAway]).toContain(await helperHere.hungUp());
  await work(shop, fern, sound, saidYes);
  const stored = await expectKept(shopId, saidYes);
  for (const phone of [floorHere, floorThere]) {
    await phone.until(() => phone.closeCode !== undefined || pieceIds(phone).length === stored.length);
    expect(pieceIds(phone)).toEqual(stored);
  }
  expect(journal(await open(failing, notesRoom(shopId, pieceId), max))).toBe("in time. ");
}, 120_000);
