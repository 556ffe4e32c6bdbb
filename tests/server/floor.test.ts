import fc from "fast-check";
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import * as Y from "yjs";
import { closeCode } from "~/core/wire";
import { closeDatabase, database } from "~/data/db";
import { wholeFloor } from "../../server/floor-contents";
import { FloorDocument } from "../../server/floor-document";
import { step2Frame, updateFrame } from "../../server/messages";
import { accepted, freshShop, joined, newId, pieceBody, type TestShop } from "../support/database";
import type { Phone } from "./support/phone";
import { ShopServer } from "./support/shop-server";

let server: ShopServer;
let shop: TestShop;
beforeEach(async () => {
  server = await ShopServer.start();
  shop = await freshShop();
});
afterEach(() => server.stop());
afterAll(closeDatabase);

const contents = (doc: Y.Doc) =>
  Object.fromEntries([...doc.share.keys()].sort().map((name) => [name, doc.getMap(name).toJSON()]));

/** What the rows say that the floor must hold, worked out afresh. */
async function floorOfRows(epoch = 1) {
  const { shopId } = shop;
  const { seq } = await database().ledgerHead.findUniqueOrThrow({ where: { shopId } });
  const floor = FloorDocument.of([]);
  floor.set(await wholeFloor(database(), { shopId, epoch, seq, now: server.now }));
  const doc = new Y.Doc();
  Y.applyUpdate(doc, floor.since());
  return contents(doc);
}
const withoutEmpty = (parts: Record<string, Record<string, unknown>>) =>
  Object.fromEntries(Object.entries(parts).filter(([, part]) => Object.keys(part).length > 0));

describe("what the floor shows", () => {
  test("a piece that is added is on every open device, as it stands in its row", async () => {
    const helper = await joined(shop, "helper");
    const [phone, tablet] = [await server.floor(shop.owner), await server.floor(helper)];
    const body = pieceBody(shop);
    await server.accepted(shop.owner, ["add-piece", body]);
    for (const device of [phone, tablet]) {
      await device.until(() => device.rows("piece").length === 1);
      expect(device.rows("surface")).toHaveLength(2);
      expect(device.rows("piece")[0]).toMatchObject({ id: body.pieceId, name: "Oak dresser", stage: "acquisition" });
    }
    expect(withoutEmpty(contents(phone.doc))).toEqual(withoutEmpty(await floorOfRows()));
  });

  test("an archived piece leaves with everything that is its own, and comes back with it", async () => {
    const phone = await server.floor(shop.owner);
    const body = pieceBody(shop);
    await server.accepted(shop.owner, ["add-piece", body]);
    await server.accepted(shop.owner, ["archive-piece", { pieceId: body.pieceId, how: "thrown-out", why: "worm" }]);
    await phone.until(() => phone.seq() > 0 && phone.rows("piece").length === 0);
    expect(phone.rows("surface")).toEqual([]);
    expect(phone.rows("roomStay")).toEqual([]);
    await server.accepted(shop.owner, ["restore-piece", { pieceId: body.pieceId, why: "it was not worm" }]);
    await phone.until(() => phone.rows("piece").length === 1);
    expect(phone.rows("surface")).toHaveLength(2);
    expect(withoutEmpty(contents(phone.doc))).toEqual(withoutEmpty(await floorOfRows()));
  });

  test("rows that were written past the server are on the floor when it is opened next", async () => {
    await accepted(shop.owner, "add-piece", pieceBody(shop));
    const phone = await server.floor(shop.owner);
    expect(phone.rows("piece")).toHaveLength(1);
  });

  test("a commit that is rolled back is seen by nobody, and the next one is", async () => {
    const phone = await server.floor(shop.owner);
    const good = pieceBody(shop);
    const failing = pieceBody(shop);
    const floor = server.hub.rooms.all()[0];
    if (!floor || !("stage" in floor)) throw new Error("no floor");
    const stage = floor.stage.bind(floor);
    let failures = 0;
    floor.stage = async (tx, commit) => {
      await stage(tx, commit);
      if (commit.rowsAfter.some(({ row }) => row.id === failing.pieceId)) {
        failures += 1;
        throw new Error("the disk is full");
      }
    };
    const outcome = await server.send(shop.owner, ["add-piece", failing], ["add-piece", good]);
    expect(failures).toBeGreaterThan(0);
    expect(outcome.failed).toHaveLength(1);
    await phone.until(() => phone.rows("piece").length > 0);
    expect(phone.rows("piece").map(({ id }) => id)).toEqual([good.pieceId]);
    const late = await server.floor(shop.owner);
    expect(contents(late.doc)).toEqual(contents(phone.doc));
    expect(withoutEmpty(contents(late.doc))).toEqual(withoutEmpty(await floorOfRows()));
  });

  test("three devices that come and go all end with what the rows say, whatever was done", async () => {
    const hands = [shop.owner, await joined(shop, "partner"), await joined(shop, "helper")];
    const step = fc.record({
      what: fc.constantFrom("add", "archive", "reading", "task", "leave", "restart"),
      who: fc.nat({ max: 2 }),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 12 }), async (steps) => {
        const phones: Phone[] = [];
        for (const hand of hands) phones.push(await server.floor(hand));
        for (const { what, who } of steps) {
          server.now += 60_000;
          const hand = hands[who] as (typeof hands)[0];
          if (what === "add") await server.accepted(hand, ["add-piece", pieceBody(shop)]);
          if (what === "task")
            await server.accepted(hand, ["add-task", { taskId: newId(), title: "Scrape", sort: "prep" }]);
          if (what === "reading") await server.accepted(hand, ["record-reading", readingNow()]);
          if (what === "archive") {
            const [piece] = phones[0]?.rows("piece") ?? [];
            if (piece)
              await server.send(shop.owner, ["archive-piece", { pieceId: piece.id, how: "thrown-out", why: "worm" }]);
          }
          if (what === "leave") {
            phones[who]?.leave();
            phones[who] = await server.floor(hand);
          }
          if (what === "restart") {
            const { now } = server;
            await server.stop();
            server = await ShopServer.start();
            server.now = now;
            for (const [index, one] of hands.entries()) phones[index] = await server.floor(one);
          }
        }
        const wanted = withoutEmpty(await floorOfRows());
        const seq = wanted.meta?.seq as number;
        for (const phone of phones) {
          await phone.until(() => phone.seq() >= seq);
          expect(withoutEmpty(contents(phone.doc))).toEqual(wanted);
          phone.leave();
        }
      }),
      { numRuns: 6, seed: 20_261_026 },
    );
  });

  const readingNow = () => ({
    readingId: newId(),
    roomId: shop.roomId,
    at: server.now,
    airCelsius: 19.5,
    humidityPercent: 52,
    source: "logger",
  });
});

describe("who may write it", () => {
  const aChange = () => {
    const doc = new Y.Doc();
    doc.getMap("piece").set("forged", { id: "forged" });
    return Y.encodeStateAsUpdate(doc);
  };

  test.each([
    ["an increment", (phone: Phone) => phone.send(updateFrame(aChange()))],
    ["an answer to a question that was never asked", (phone: Phone) => phone.send(step2Frame(aChange()))],
    [
      "a deletion and nothing else",
      (phone: Phone) => {
        const before = Y.encodeStateVector(phone.doc);
        phone.socket.removeAllListeners("message");
        phone.doc.transact(() => phone.doc.getMap("shop").delete(shop.shopId), phone);
        phone.send(updateFrame(Y.encodeStateAsUpdate(phone.doc, before)));
      },
    ],
    [
      "two messages in one frame",
      (phone: Phone) => phone.send(Buffer.concat([Buffer.from([3]), updateFrame(aChange())])),
    ],
    ["bytes that are no update", (phone: Phone) => phone.send(updateFrame(Buffer.from("ffffffff", "hex")))],
  ])("%s from a device changes nothing and ends its line", async (_, write) => {
    const other = await server.floor(shop.owner);
    const phone = await server.floor(shop.owner);
    write(phone);
    expect([closeCode.noRight, closeCode.malformed]).toContain(await phone.hungUp());
    await server.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    await other.until(() => other.rows("piece").length > 0);
    expect(other.rows("piece").map(({ id }) => id)).not.toContain("forged");
    expect(other.rows("shop")).toHaveLength(1);
  });

  test("a device that sends back what it had kept of the floor stays connected", async () => {
    const phone = await server.floor(shop.owner);
    phone.send(updateFrame(Y.encodeStateAsUpdate(phone.doc)));
    await server.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    await phone.until(() => phone.rows("piece").length === 1);
    expect(phone.closeCode).toBeUndefined();
  });

  test("nobody is asked what they have, because nobody may add to it", async () => {
    const phone = await server.floor(shop.owner);
    await server.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    await phone.until(() => phone.rows("piece").length === 1);
    expect(phone.heard.map(({ kind }) => kind)).not.toContain("step1");
  });
});

describe("when the server ends", () => {
  test("what was begun is stored and shown, devices are told to come again, and nobody new gets in", async () => {
    const phone = await server.floor(shop.owner);
    const body = pieceBody(shop);
    const begun = server.accepted(shop.owner, ["add-piece", body]);
    const ended = server.end();
    await begun;
    expect(await ended).toBe(true);
    expect(phone.rows("piece")).toHaveLength(1);
    expect(await phone.hungUp()).toBe(closeCode.restarting);
    await expect(server.send(shop.owner, ["add-piece", pieceBody(shop)])).rejects.toThrow("closing");
    expect(await database().piece.count({ where: { shopId: shop.shopId } })).toBe(1);
  });
});

describe("devices that are sent away because the server ends", () => {
  test("go one after the other and not all in one moment", async () => {
    const phones: Phone[] = [];
    for (let count = 0; count < 6; count += 1) phones.push(await server.floor(shop.owner));
    const goneAt: number[] = [];
    const gone = phones.map(async (phone) => {
      await phone.hungUp();
      goneAt.push(performance.now());
    });
    expect(await server.end()).toBe(true);
    await Promise.all(gone);
    expect(Math.max(...goneAt) - Math.min(...goneAt)).toBeGreaterThan(1_000);
    expect(new Set(phones.map(({ closeCode: code }) => code))).toEqual(new Set([closeCode.restarting]));
  });
});

describe("a floor with much history", () => {
  test("is founded again under a new epoch, holds the same, and old copies are told apart", async () => {
    const { shopId } = shop;
    const body = pieceBody(shop);
    await server.accepted(shop.owner, ["add-piece", body]);
    const before = await server.floor(shop.owner);
    const { now } = server;
    await server.stop();
    // as after years of work: one value that was set again and again
    const busy = FloorDocument.of([Y.encodeStateAsUpdate(before.doc)]);
    for (let count = 0; count < 12_000; count += 1) {
      busy.set([
        { part: "meta", key: "seq", value: -count },
        { part: "meta", key: "zone", value: `${count}` },
      ]);
    }
    const { id: documentId } = await database().sharedDocument.findFirstOrThrow({ where: { shopId, kind: "floor" } });
    await database().sharedDocument.update({ where: { id: documentId }, data: { snapshot: busy.since() } });

    server = await ShopServer.start();
    server.now = now;
    const old = await server.open(await server.floorName(shopId), await server.signIn(shop.owner));
    expect(await old.hungUp()).toBe(closeCode.otherEpoch);
    expect(await server.hub.floorEpoch(shopId)).toBe(2);
    const fresh = await server.floor(shop.owner);
    expect(withoutEmpty(contents(fresh.doc))).toEqual(withoutEmpty(await floorOfRows(2)));
    await server.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    await fresh.until(() => fresh.rows("piece").length === 2);
  });
});
