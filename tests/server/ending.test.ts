/** A server that is asked to end: politely to a few hundred devices, and at once where it is asked again. */
import { once } from "node:events";
import { setTimeout as pause } from "node:timers/promises";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { closeCode, floorRoom, notesRoom } from "~/core/wire";
import { closeDatabase, database } from "~/data/db";
import { accepted, freshShop, intentOf, newId, pieceBody } from "../support/database";
import { buildDoor, type Door, killDoor, openDoor, removeDoor } from "./support/doors";
import { Phone, phoneIn } from "./support/phone";
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

const devices = 240;
const atOnce = 30;

async function openShop(count: number) {
  const shop = await freshShop();
  const signer = await ShopServer.start();
  signer.now = Date.now(); // the process goes by the real clock
  const cookie = await signer.signIn(shop.owner);
  await signer.stop();
  const pieceId = newId();
  await accepted(shop.owner, "add-piece", pieceBody(shop, pieceId), Date.now());
  const door = await openDoor();
  doors.push(door);
  const addressOf = (room: string) => `ws://127.0.0.1:${door.port}/sync/${room}`;
  const open = async (room: string) => {
    const phone = await phoneIn(addressOf(room), { cookie });
    phones.push(phone);
    return phone;
  };
  const readers: Phone[] = [];
  while (readers.length < count) {
    const some = Array.from({ length: Math.min(atOnce, count - readers.length) }, () =>
      open(floorRoom(shop.shopId, 1)),
    );
    readers.push(...(await Promise.all(some)));
  }
  return { shop, cookie, pieceId, door, addressOf, open, readers };
}

const ask = (door: Door, path: string): Promise<Response> => fetch(`http://127.0.0.1:${door.port}${path}`);

test("it stops taking, keeps what it has said yes to, and hangs up on hundreds one part after the other", async () => {
  const { shop, cookie, pieceId, door, addressOf, open, readers } = await openShop(devices);
  const writer = await open(notesRoom(shop.shopId, pieceId));
  const witness = await open(notesRoom(shop.shopId, pieceId));
  expect(await (await ask(door, "/readyz")).json()).toEqual({ ready: true, failing: [] });

  const yes = new Set<string>();
  const statuses: number[] = [];
  const sending = (async () => {
    while (door.child.exitCode === null && !statuses.includes(503)) {
      const intent = intentOf(shop.owner, "add-piece", pieceBody(shop), Date.now());
      const response = await fetch(`http://127.0.0.1:${door.port}/api/trpc/door.send`, {
        method: "POST",
        headers: { "content-type": "application/json", cookie },
        body: JSON.stringify({ intents: [intent] }),
      });
      statuses.push(response.status);
      if (response.status === 200) yes.add((intent.body as { pieceId: string }).pieceId);
      else expect(response.headers.get("retry-after")).not.toBeNull();
      writer.doc.getText("journal").insert(0, `<${statuses.length}>`);
      if (yes.size === 5) door.child.kill("SIGTERM");
    }
  })();
  const gone: number[] = [];
  const leaving = readers.map(async (phone) => {
    await phone.hungUp();
    gone.push(performance.now());
    if (gone.length > 1) return;
    // the first is on its way: the others have not been hung up on, and nobody new gets in
    expect(readers.filter(({ isOver }) => isOver).length).toBeLessThan(devices / 4);
    const ready = await ask(door, "/readyz");
    expect([ready.status, await ready.json()]).toEqual([503, { ready: false, failing: ["draining"] }]);
    expect((await ask(door, "/healthz")).status).toBe(200);
    expect(await new Phone(addressOf(floorRoom(shop.shopId, 1)), { cookie }).hungUp()).toBe(503);
  });
  const ended = once(door.child, "exit");
  await sending;
  await Promise.all(leaving);
  expect((await ended)[0]).toBe(0);

  expect(new Set(readers.map((phone) => phone.closeCode))).toEqual(new Set([closeCode.restarting]));
  expect(Math.max(...gone) - Math.min(...gone)).toBeGreaterThan(3_000);
  // whatever was acknowledged is there: pieces by their ruling, words by having been told to somebody
  expect(yes.size).toBeGreaterThanOrEqual(5);
  const stored = await database().piece.findMany({ where: { shopId: shop.shopId }, select: { id: true } });
  expect([...yes].filter((id) => !stored.some((piece) => piece.id === id))).toEqual([]);
  const again = await ShopServer.start();
  again.now = Date.now();
  const fresh = await again.notes(shop.owner, pieceId);
  const told = witness.doc.getText("journal").toString().match(/<\d+>/g) ?? [];
  expect(told.length).toBeGreaterThan(0);
  for (const words of told) expect(fresh.doc.getText("journal").toString()).toContain(words);
  await again.stop();
}, 120_000);

test("asked again, by somebody who is tired of waiting, it ends at once", async () => {
  const { door, readers } = await openShop(12);
  const ended = once(door.child, "exit");
  const [first] = readers as [Phone];
  door.child.kill("SIGTERM");
  // npm and a terminal both pass on one key: the second of such a pair changes nothing
  door.child.kill("SIGINT");
  expect(await first.hungUp()).toBe(closeCode.restarting);
  await pause(1_100);
  expect(door.child.exitCode).toBeNull();
  door.child.kill("SIGTERM");
  expect(await ended).toEqual([1, null]);
  expect(readers.some(({ closeCode: code }) => code === 1006 || code === undefined)).toBe(true);
}, 60_000);
