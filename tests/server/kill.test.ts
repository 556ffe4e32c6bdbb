import { once } from "node:events";
import { afterAll, beforeAll, expect, test } from "vitest";
import { floorRoom } from "~/core/wire";
import { closeDatabase, database } from "~/data/db";
import { differences, replay, storedRows } from "~/data/replay";
import { freshShop, type Hand, intentOf, joined, newId, pieceBody, type TestShop } from "../support/database";
import { buildDoor, type Door, openDoor, removeDoor, send } from "./support/doors";
import { phoneIn } from "./support/phone";
import { ShopServer } from "./support/shop-server";

/** Fifty of them, and ten of the database, are in `npm run soak`. */
const kills = 5;

beforeAll(buildDoor);
afterAll(async () => {
  removeDoor();
  await closeDatabase();
});

type Queue = { hand: Hand; cookie: string; waiting: unknown[] };

test("killed in the middle of work five times, the server has lost nothing that it had said yes to", async () => {
  const shop: TestShop = await freshShop();
  const signIn = await ShopServer.start();
  signIn.now = Date.now(); // the process goes by the real clock
  const queues: Queue[] = [];
  for (const hand of [shop.owner, await joined(shop, "partner"), await joined(shop, "helper")]) {
    queues.push({ hand, cookie: await signIn.signIn(hand), waiting: [] });
  }
  await signIn.stop();
  const saidYes = new Set<string>();

  /** A device sends its queue in order until the line breaks; what was not answered stays in it. */
  const work = async ({ hand, cookie, waiting }: Queue, door: Door, enough: number) => {
    for (let done = 0; ; done += 1) {
      if (waiting.length === 0) waiting.push(intentOf(hand, "add-piece", pieceBody(shop), Date.now()));
      const intent = waiting[0] as { body: { pieceId: string } };
      if (!(await send(door.port, cookie, intent))) return;
      saidYes.add(intent.body.pieceId);
      waiting.shift();
      if (done === enough) door.child.kill("SIGKILL");
    }
  };
  for (let cycle = 0; cycle < kills; cycle += 1) {
    const door = await openDoor();
    const gone = once(door.child, "exit");
    await Promise.all(
      queues.map((queue, index) => work(queue, door, index === 0 ? 1 + (cycle % 4) : Number.POSITIVE_INFINITY)),
    );
    await gone;
  }

  const { shopId } = shop;
  const stored = (await database().piece.findMany({ where: { shopId }, select: { id: true } })).map(({ id }) => id);
  expect(saidYes.size).toBeGreaterThan(kills);
  expect([...saidYes].filter((id) => !stored.includes(id))).toEqual([]);
  expect(differences(await replay(shopId), await storedRows(shopId))).toEqual([]);

  const door = await openDoor();
  const { cookie } = queues[0] as Queue;
  const phone = await phoneIn(`ws://127.0.0.1:${door.port}/sync/${floorRoom(shopId, 1)}`, { cookie });
  expect(
    phone
      .rows<{ id: string }>("piece")
      .map(({ id }) => id)
      .sort(),
  ).toEqual(stored.sort());
  const log = await database().documentUpdate.findMany({ where: { document: { shopId } }, orderBy: { seq: "asc" } });
  expect(log.map(({ seq }) => seq)).toEqual(log.map((_, index) => index + 1));
  for (const { hand, waiting } of queues) {
    const again = waiting[0] ?? intentOf(hand, "add-board", { boardId: newId(), name: "After" }, Date.now());
    const queue = queues.find((one) => one.hand === hand) as Queue;
    if (hand !== queues[2]?.hand || waiting.length > 0) expect(await send(door.port, queue.cookie, again)).toBe(true);
  }
  phone.leave();
  door.child.kill("SIGKILL");
  await once(door.child, "exit");
}, 180_000);
