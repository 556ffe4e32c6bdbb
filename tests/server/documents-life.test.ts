/** A document is loading, live, draining or gone, whatever the database does meanwhile. */
import pg from "pg";
import { afterAll, afterEach, beforeEach, expect, test } from "vitest";
import { closeCode, notesRoom } from "~/core/wire";
import { closeDatabase } from "~/data/db";
import { freshShop, type Hand, joined, newId, pieceBody, type TestShop } from "../support/database";
import type { Phone } from "./support/phone";
import { ShopServer } from "./support/shop-server";

let server: ShopServer;
let shop: TestShop;
let partner: Hand;
let pieceId: string;
let ofDatabase: pg.Client;
beforeEach(async () => {
  ofDatabase = new pg.Client(process.env.DATABASE_URL);
  await ofDatabase.connect();
  server = await ShopServer.start();
  shop = await freshShop();
  partner = await joined(shop, "partner");
  pieceId = newId();
  await server.accepted(shop.owner, ["add-piece", pieceBody(shop, pieceId)]);
});
afterEach(async () => {
  await server.stop();
  await ofDatabase.end();
});
afterAll(closeDatabase);

const journal = (phone: Phone) => phone.doc.getText("journal").toString();
const write = (phone: Phone, words: string) => phone.doc.getText("journal").insert(0, words);

/** Nobody has anything open, and idle minutes pass: in the first the log is made short. */
async function roomsAreGone(): Promise<void> {
  const left = () => {
    server.now += 61_000;
    return server.hub.rooms.size;
  };
  await expect.poll(left, { timeout: 20_000 }).toBe(0);
}

test("notes whose load fails are shut for the moment, never empty: the next try has the old words, and keeps the new", async () => {
  const fern = await server.notes(shop.owner, pieceId);
  write(fern, "old words. ");
  await fern.until(() => fern.heard.some(({ kind }) => kind === "update"));
  fern.leave();
  await roomsAreGone();
  const cookie = await server.signIn(partner);
  const room = notesRoom(shop.shopId, pieceId);
  await ofDatabase.query(`ALTER TABLE "documentUpdate" RENAME TO "elsewhere"`);
  try {
    const early = await server.open(room, cookie);
    expect(await early.hungUp()).toBe(closeCode.databaseAway);
    expect(early.heard).toEqual([]);
    expect(server.hub.rooms.size).toBe(0);
  } finally {
    await ofDatabase.query(`ALTER TABLE "elsewhere" RENAME TO "documentUpdate"`);
  }
  const max = await server.open(room, cookie);
  await max.synced();
  write(max, "new words. ");
  await max.until(() => max.heard.some(({ kind }) => kind === "update"));
  const again = await server.notes(shop.owner, pieceId);
  expect(journal(again)).toBe("new words. old words. ");
});

test("who writes twice and leaves while the database is slow finds both the next time, however soon that is", async () => {
  await ofDatabase.query(`
    CREATE FUNCTION slowly() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN PERFORM pg_sleep(0.2); RETURN NEW; END';
    CREATE TRIGGER slow BEFORE INSERT ON "documentUpdate" FOR EACH ROW EXECUTE FUNCTION slowly()`);
  try {
    const cookies = [await server.signIn(shop.owner), await server.signIn(partner)] as const;
    for (let waitMs = 0; waitMs <= 250; waitMs += 50) {
      const writer = await server.open(notesRoom(shop.shopId, pieceId), cookies[0]);
      await writer.synced();
      write(writer, `<${waitMs} one>`);
      write(writer, `<${waitMs} two>`);
      writer.socket.close();
      await writer.hungUp();
      server.now += 61_000;
      server.hub.beat();
      await new Promise((resolve) => setTimeout(resolve, waitMs));
      server.hub.beat();
      const reader = await server.open(notesRoom(shop.shopId, pieceId), cookies[1]);
      await reader.synced();
      await reader.until(() =>
        [`<${waitMs} one>`, `<${waitMs} two>`].every((words) => journal(reader).includes(words)),
      );
      reader.leave();
    }
  } finally {
    await ofDatabase.query(`DROP FUNCTION slowly() CASCADE`);
  }
});

test("a hundred devices that open notes which take their time to load all hear the whole of them first", async () => {
  const fern = await server.notes(shop.owner, pieceId);
  write(fern, "veneer lifts at the back");
  await fern.until(() => fern.heard.some(({ kind }) => kind === "update"));
  fern.leave();
  await roomsAreGone();
  const cookies: string[] = [];
  for (let count = 0; count < 5; count += 1) {
    const hand = await joined(shop, "partner");
    // a phone, a tablet and a computer
    for (let device = 0; device < 3; device += 1) cookies.push(await server.signIn(hand));
  }
  await ofDatabase.query(`BEGIN; LOCK TABLE "documentUpdate" IN ACCESS EXCLUSIVE MODE`);
  const phones: Phone[] = [];
  const room = notesRoom(shop.shopId, pieceId);
  while (phones.length < 100) {
    const some = cookies.slice(0, 100 - phones.length).map((cookie) => server.open(room, cookie));
    phones.push(...(await Promise.all(some)));
    await Promise.all(phones.map((phone) => phone.opened()));
  }
  expect(phones.flatMap(({ heard }) => heard)).toEqual([]);
  await ofDatabase.query("COMMIT");
  await Promise.all(phones.map((phone) => phone.synced()));
  expect(new Set(phones.map(journal))).toEqual(new Set(["veneer lifts at the back"]));
  expect(phones.map(({ heard }) => heard.map(({ kind }) => kind).filter((kind) => kind === "step2").length)).toEqual(
    phones.map(() => 1),
  );
});
