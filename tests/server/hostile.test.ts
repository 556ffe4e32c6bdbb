/** Lines and frames that no honest device would send: each ends its own line and nothing else. */
import { once } from "node:events";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import * as Y from "yjs";
import { closeCode, message } from "~/core/wire";
import { limits } from "~/core/wire-limits";
import { closeDatabase } from "~/data/db";
import { presenceFrame, step1Frame, updateFrame } from "../../server/messages";
import { freshShop, type Hand, joined, newId, pieceBody, type TestShop } from "../support/database";
import { Honest } from "./support/honest";
import { heldBytes } from "./support/memory";
import { Phone } from "./support/phone";
import { answerTo, connected, handshake, rawFrame, writeOver } from "./support/raw-line";
import { ShopServer } from "./support/shop-server";
import { connectionOn, Line } from "./support/socket";

let server: ShopServer;
let shop: TestShop;
let mallory: Hand;
let cookie: string;
let room: string;
let honest: Honest;
beforeAll(async () => {
  server = await ShopServer.start();
  shop = await freshShop();
  mallory = await joined(shop, "partner");
  const pieceId = newId();
  await server.accepted(shop.owner, ["add-piece", pieceBody(shop, pieceId)]);
  cookie = await server.signIn(mallory);
  room = await server.floorName(shop.shopId);
  honest = await Honest.start(server, shop, await joined(shop, "helper"), pieceId);
});
afterAll(async () => {
  await server.stop();
  expect(server.faults).toEqual([]);
  await closeDatabase();
});

async function rawLine() {
  const line = await connected(server.host);
  expect(await answerTo(line, handshake(server.host, room, cookie))).toContain("101 Switching Protocols");
  line.resume();
  return line;
}

async function quietPhone(): Promise<Phone> {
  const phone = new Phone(`ws://${server.host}/sync/${room}`, { cookie }, new Y.Doc(), { isQuiet: true });
  await phone.opened();
  return phone;
}

describe("a frame that is none", () => {
  test.each([
    ["has a reserved bit set", rawFrame(0xc2, [0x81], [0])],
    ["is text that is no UTF-8", rawFrame(0x81, [0x82], [0xff, 0xfe])],
    ["claims four thousand million bytes", rawFrame(0x82, [0xff, 0, 0, 0, 1, 0, 0, 0, 0])],
    ["is of an unknown kind", rawFrame(0x8f, [0x81], [0])],
    [
      "is a ping longer than pings are",
      rawFrame(
        0x89,
        [0xfe, 1, 0],
        Array.from({ length: 256 }, () => 0),
      ),
    ],
    ["is not masked", Buffer.from([0x82, 0x01, 0])],
    ["is a fragment of nothing", rawFrame(0x80, [0x81], [0])],
  ])("one that %s ends its own line and nothing else", async (_, bytes) => {
    const line = await rawLine();
    line.write(bytes);
    await once(line, "close");
    expect(await honest.goOn()).toBe(true);
  });

  test("a hundred thousand fragments end their own line, and the others go on meanwhile", async () => {
    const line = await rawLine();
    line.write(rawFrame(0x02, [0x80]));
    const thousand = Buffer.concat(Array.from({ length: 1000 }, () => rawFrame(0x00, [0x80])));
    const closed = once(line, "close");
    expect(await honest.during(Promise.all([writeOver(line, thousand, 100), closed]))).toBe(true);
  });

  test("of a frame of sixty-four megabytes nothing is kept, its sender is told not to come back with it, and the others go on", async () => {
    const before = await heldBytes();
    const line = await rawLine();
    const heard: Buffer[] = [];
    line.on("data", (data: Buffer) => heard.push(data));
    line.write(rawFrame(0x82, [0xff, 0, 0, 0, 0, 4, 0, 0, 0]));
    expect(await honest.during(writeOver(line, Buffer.alloc(1 << 16), 1024))).toBe(true);
    expect((await heldBytes()) - before).toBeLessThan(8 << 20);
    // a closing frame of two bytes, which are the code
    expect(Buffer.concat(heard)).toEqual(Buffer.from([0x88, 2, closeCode.tooLarge >> 8, closeCode.tooLarge & 255]));
    line.destroy();
  });
});

describe("in place of a frame", () => {
  const held = (...bytes: number[]) => new Uint8Array(bytes);
  test.each<[string, Uint8Array | string, number]>([
    ["a number as text", "4294967297", 1003],
    ["nothing at all", held(), closeCode.malformed],
    ["an unknown message", held(120, 1), closeCode.malformed],
    ["an unknown step", held(0, 9, 1, 0), closeCode.malformed],
    ["a length that never ends", held(0, 0, 255, 255, 255, 255, 255, 255, 255, 255, 255), closeCode.malformed],
    ["a length beyond its end", held(0, 0, 200, 1, 7), closeCode.malformed],
    ["a number that breaks off", held(0, 2, 0x80), closeCode.malformed],
    ["a state vector that is none", step1Frame(held(255, 255, 255)), closeCode.malformed],
    ["a state vector of a thousand million clients", step1Frame(held(0x80, 0x94, 0xeb, 0xdc, 3)), closeCode.malformed],
    [
      "a state vector of more than any device has",
      step1Frame(new Uint8Array(limits.stateVectorBytes + 1)),
      closeCode.malformed,
    ],
    ["a byte more than a frame may have", new Uint8Array(limits.frameBytes + 1), closeCode.tooLarge],
    ["presence that is no JSON", held(1, 4, 1, 5, 1, 200), closeCode.malformed],
    [
      "presence of more than a shop has",
      presenceFrame(
        Array.from({ length: limits.presences + 1 }, (_, clientId) => ({ clientId, clock: 1, state: null })),
      ),
      closeCode.malformed,
    ],
  ])("%s closes the line with a code", async (_, bytes, code) => {
    const phone = await quietPhone();
    phone.send(bytes);
    expect(await phone.hungUp()).toBe(code);
  });

  test("every frame of one byte is refused, but the one that only asks who is there", () => {
    const codes = Array.from({ length: 256 }, (_, byte) => {
      const line = new Line();
      connectionOn(line, () => 0).deliverTo({ frame: () => undefined, closed: () => undefined });
      line.say(held(byte));
      return line.closeCode;
    });
    expect(codes.flatMap((code, byte) => (code === closeCode.malformed ? [] : [byte]))).toEqual([
      message.queryAwareness,
    ]);
  });
});

describe("too much of what is allowed", () => {
  test("a device that asks for the whole floor over and over is sent away, and the others go on", async () => {
    const phone = await server.floor(mallory);
    for (let count = 0; count < 20; count += 1) phone.send(step1Frame(new Uint8Array([0])));
    expect(await honest.during(phone.hungUp())).toBe(true);
    expect(phone.closeCode).toBe(1013);
    expect(phone.heard.filter(({ kind }) => kind === "step2").length).toBeLessThan(10);
  });

  test("a device that sends more frames than hands can make is sent away", async () => {
    const phone = await server.floor(mallory);
    for (let count = 0; count < 300; count += 1) phone.send(updateFrame(new Uint8Array([0, 0])));
    expect(await phone.hungUp()).toBe(1013);
  });

  test("a hundred lines that begin a handshake and say no more keep nobody out", async () => {
    const lines = await Promise.all(Array.from({ length: 100 }, () => connected(server.host)));
    for (const line of lines) line.write(`GET /sync/${room} HTTP/1.1\r\nHost: ${server.host}\r\nUpgr`);
    const phone = await server.floor(mallory);
    expect(phone.isOver).toBe(false);
    expect(await honest.goOn()).toBe(true);
    phone.leave();
    for (const line of lines) line.destroy();
  });
});

test.each([
  "%E0%A4%A",
  "..%2f..%2f",
  "floor:%00",
  "floor::1",
  "notes:x",
  "",
  "FLOOR:a:1",
  "floor:a:1e3:b",
  `floor:${"a".repeat(300)}:1`,
])("a room named %j is not found, and nothing is made under its name", async (name) => {
  const roomsBefore = server.hub.rooms.size;
  const line = await connected(server.host);
  expect(await answerTo(line, handshake(server.host, name, cookie))).toContain("404");
  line.destroy();
  expect(server.hub.rooms.size).toBe(roomsBefore);
  expect(await honest.goOn()).toBe(true);
});
