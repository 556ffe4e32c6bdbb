import { createHash } from "node:crypto";
import { once } from "node:events";
import net from "node:net";
import fc from "fast-check";
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import * as Y from "yjs";
import { closeCode, limits } from "~/core/wire";
import { closeDatabase } from "~/data/db";
import { readFrame, step1Frame, updateFrame } from "../../server/messages";
import { NotesDocument } from "../../server/notes-document";
import { freshShop, newId, pieceBody, type TestShop } from "../support/database";
import { Phone } from "./support/phone";
import { ShopServer } from "./support/shop-server";

let server: ShopServer;
let shop: TestShop;
let cookie: string;
let room: string;
beforeEach(async () => {
  server = await ShopServer.start();
  shop = await freshShop();
  cookie = await server.signIn(shop.owner);
  room = await server.floorName(shop.shopId);
});
afterEach(() => server.stop());
afterAll(closeDatabase);

/** The server is alive if an honest device gets an honest change. */
async function isAlive(): Promise<boolean> {
  const phone = await server.floor(shop.owner);
  const before = phone.rows("piece").length;
  await server.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
  await phone.until(() => phone.rows("piece").length === before + 1);
  phone.leave();
  return true;
}

/** A line without a WebSocket library, for frames that none would send. Source of the form of frames: RFC 6455, 5.2. */
async function rawLine(): Promise<net.Socket> {
  const [host, port] = server.host.split(":");
  const line = net.connect(Number(port), host);
  line.on("error", () => undefined);
  await once(line, "connect");
  const key = createHash("md5").update(newId()).digest("base64");
  line.write(
    `GET /sync/${room} HTTP/1.1\r\nHost: ${server.host}\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n` +
      `Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: ${key}\r\nCookie: ${cookie}\r\n\r\n`,
  );
  const [answer] = (await once(line, "data")) as [Buffer];
  expect(answer.toString()).toContain("101 Switching Protocols");
  return line;
}

const maskless = (first: number, length: number[]) => Buffer.from([first, ...length, 0, 0, 0, 0]);

describe("frames that no honest device sends", () => {
  test.each([
    ["with a reserved bit set", Buffer.concat([maskless(0xc2, [0x81]), Buffer.from([0])])],
    ["of text that is no UTF-8", Buffer.concat([maskless(0x81, [0x82]), Buffer.from([0xff, 0xfe])])],
    ["that claims four thousand million bytes", maskless(0x82, [0xff, 0, 0, 0, 1, 0, 0, 0, 0])],
    ["of an unknown kind", Buffer.concat([maskless(0x8f, [0x81]), Buffer.from([0])])],
    ["that is a ping longer than pings are", Buffer.concat([maskless(0x89, [0xfe, 1, 0]), Buffer.alloc(256)])],
  ])("a frame %s ends its own line and nothing else", async (_, bytes) => {
    const line = await rawLine();
    line.resume();
    line.write(bytes);
    await once(line, "close");
    expect(await isAlive()).toBe(true);
  });

  test("a hundred thousand fragments of nothing end their own line and nothing else", async () => {
    const line = await rawLine();
    line.resume();
    const fragment = maskless(0x00, [0x80]);
    line.write(maskless(0x02, [0x80]));
    line.write(Buffer.concat(Array.from({ length: 100_000 }, () => fragment)));
    await once(line, "close");
    expect(await isAlive()).toBe(true);
  });

  test.each<[string, Uint8Array | string, number]>([
    ["text", "4294967297", 1003],
    ["nothing at all", new Uint8Array(), closeCode.malformed],
    ["an unknown message", new Uint8Array([120, 1]), closeCode.malformed],
    [
      "a length that never ends",
      new Uint8Array([0, 0, 255, 255, 255, 255, 255, 255, 255, 255, 255]),
      closeCode.malformed,
    ],
    ["a length beyond its end", new Uint8Array([0, 0, 200, 1, 7]), closeCode.malformed],
    ["a state vector that is none", step1Frame(new Uint8Array([255, 255, 255])), closeCode.malformed],
    ["more than a megabyte", new Uint8Array(limits.frameBytes + 1), closeCode.tooLarge],
    ["presence that is no JSON", new Uint8Array([1, 4, 1, 5, 1, 200]), closeCode.malformed],
  ])("%s in place of a frame closes the line with a code", async (_, bytes, code) => {
    const phone = new Phone(`ws://${server.host}/sync/${room}`, { cookie }, new Y.Doc(), { isQuiet: true });
    await phone.opened();
    phone.send(bytes);
    expect(await phone.hungUp()).toBe(code);
    expect(await isAlive()).toBe(true);
  });

  test("a device that asks for the whole floor over and over is sent away", async () => {
    const phone = await server.floor(shop.owner);
    for (let count = 0; count < 20; count += 1) phone.send(step1Frame(new Uint8Array([0])));
    expect(await phone.hungUp()).toBe(1013);
    expect(phone.heard.filter(({ kind }) => kind === "step2").length).toBeLessThan(10);
  });

  test("two thousand mutilated updates throw nothing, and put nothing but text into the notes", () => {
    const writer = new Y.Doc();
    writer.getText("journal").insert(0, "left foot is loose");
    writer.getText("condition").insert(0, "veneer");
    writer.getText("journal").delete(3, 4);
    const honest = Y.encodeStateAsUpdate(writer);
    const mutation = fc.array(fc.tuple(fc.nat({ max: honest.length - 1 }), fc.nat({ max: 255 })), {
      minLength: 1,
      maxLength: 4,
    });
    const mutilated = fc.tuple(mutation, fc.nat({ max: honest.length })).map(([changes, length]) => {
      const bytes = Uint8Array.from(honest);
      for (const [at, value] of changes) bytes[at] = value;
      return bytes.slice(0, length === 0 ? honest.length : length);
    });
    const notes = new NotesDocument([]);
    fc.assert(
      fc.property(mutilated, (update) => {
        const tried = notes.try(update, () => true);
        if (typeof tried === "string") notes.retry([]);
        else notes.apply([update]);
        const roots = [...notes.document.share.keys()];
        expect(roots.every((root) => root === "journal" || root === "condition")).toBe(true);
        expect(notes.document.store.pendingStructs).toBeNull();
        expect(
          notes.document
            .getText("journal")
            .toDelta()
            .every(({ insert }: { insert: unknown }) => typeof insert === "string"),
        ).toBe(true);
        readFrame(update);
      }),
      { numRuns: 2000, seed: 20_261_028 },
    );
  });

  test("mutilated updates over the line end their lines, and the notes go on", async () => {
    const pieceId = newId();
    await server.accepted(shop.owner, ["add-piece", pieceBody(shop, pieceId)]);
    const honest = await server.notes(shop.owner, pieceId);
    for (let count = 0; count < 30; count += 1) {
      const bad = await server.notes(shop.owner, pieceId);
      bad.send(updateFrame(createHash("sha256").update(`${count}`).digest()));
      expect(await bad.hungUp()).toBe(closeCode.malformed);
    }
    honest.doc.getText("journal").insert(0, "still here");
    const other = await server.notes(shop.owner, pieceId);
    await other.until(() => other.doc.getText("journal").toString() === "still here");
  });
});
