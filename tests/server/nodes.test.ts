/** Several servers on one database serve the same shop as one. */
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import * as Y from "yjs";
import { closeCode } from "~/core/wire";
import { closeDatabase, database } from "~/data/db";
import { differences, replay, storedRows } from "~/data/replay";
import { FloorDocument } from "../../server/floor-document";
import { presenceFrame } from "../../server/messages";
import { freshShop, type Hand, intentOf, joined, pieceBody, type TestShop } from "../support/database";
import type { Phone } from "./support/phone";
import { ShopServer } from "./support/shop-server";

let here: ShopServer;
let there: ShopServer;
let shop: TestShop;
beforeEach(async () => {
  [here, there] = await Promise.all([ShopServer.start(), ShopServer.start()]);
  shop = await freshShop();
});
afterEach(async () => {
  await Promise.all([here.stop(), there.stop()]);
  expect([...here.faults, ...there.faults]).toEqual([]);
});
afterAll(closeDatabase);

const loseHints = () => {
  for (const server of [here, there]) server.hub.neighbours.isHeard = () => false;
};
const journal = (phone: Phone) => phone.doc.getText("journal").toString();
const write = (phone: Phone, words: string) => phone.doc.getText("journal").insert(0, words);
const upTo = (count: number) => Array.from({ length: count }, (_, index) => index + 1);

async function hangUpPiece(server = here): Promise<string> {
  const body = pieceBody(shop);
  await server.accepted(shop.owner, ["add-piece", body]);
  return body.pieceId;
}

/** Runs until something is so. @returns the milliseconds that it took */
async function taking(work: () => Promise<unknown>): Promise<number> {
  const startedAt = performance.now();
  await work();
  return performance.now() - startedAt;
}

async function expectWholeLogs(): Promise<void> {
  const { shopId } = shop;
  const entries = await database().ledgerEntry.findMany({ where: { shopId }, orderBy: { seq: "asc" } });
  expect(entries.map(({ seq }) => seq)).toEqual(upTo(entries.length));
  for (const { id, lastSeq, snapshotSeq } of await database().sharedDocument.findMany({ where: { shopId } })) {
    const log = await database().documentUpdate.findMany({ where: { documentId: id }, orderBy: { seq: "asc" } });
    if (snapshotSeq === 0) expect(log.map(({ seq }) => seq)).toEqual(upTo(lastSeq));
  }
  expect(differences(await replay(shopId), await storedRows(shopId))).toEqual([]);
}

describe("two servers", () => {
  test("the same intent given to both at once is judged once, and both give the one answer", async () => {
    const session = { ...shop.owner, isSharedTablet: false };
    const helper = await joined(shop, "helper");
    const [phone, other] = [await here.floor(shop.owner), await there.floor(helper)];
    for (let round = 0; round < 25; round += 1) {
      const envelopes = [intentOf(shop.owner, "add-piece", pieceBody(shop))];
      const batch = { shopId: shop.shopId, envelopes, session, now: here.now };
      const [one, two] = await Promise.all([here.hub.commit(batch), there.hub.commit(batch)]);
      expect(one.rulings).toMatchObject([{ verdict: "accepted" }]);
      expect(two.rulings).toEqual(one.rulings);
      expect(await database().ledgerEntry.count({ where: { intentId: envelopes[0]?.intentId } })).toBe(1);
    }
    for (const device of [phone, other]) await device.until(() => device.rows("piece").length === 25);
    await expectWholeLogs();
  });

  test("what is done on one is on the other, and nothing is done from an old floor", async () => {
    const helper = await joined(shop, "helper");
    const [phone, other] = [await here.floor(shop.owner), await there.floor(helper)];
    const hang = (server: ShopServer, hand: Hand) => server.accepted(hand, ["add-piece", pieceBody(shop)]);
    for (let round = 0; round < 8; round += 1) await Promise.all([hang(here, shop.owner), hang(there, helper)]);
    for (const device of [phone, other]) await device.until(() => device.rows("piece").length === 16);
    const fresh = await there.floor(shop.owner);
    const whole = (one: Phone) =>
      FloorDocument.of([Y.encodeStateAsUpdate(one.doc)])
        .rows("piece")
        .map(({ id }) => id);
    expect(new Set(whole(phone))).toEqual(new Set(whole(fresh)));
    await expectWholeLogs();
  });

  test("words written on both are the same words on both, and on a device that comes later", async () => {
    const partner = await joined(shop, "partner");
    const pieceId = await hangUpPiece();
    const [fern, max] = [await here.notes(shop.owner, pieceId), await there.notes(partner, pieceId)];
    for (let count = 0; count < 12; count += 1) {
      write(fern, `<fern ${count}>`);
      write(max, `<max ${count}>`);
    }
    const isAll = (phone: Phone) =>
      upTo(12).every((n) => ["fern", "max"].every((who) => journal(phone).includes(`<${who} ${n - 1}>`)));
    for (const phone of [fern, max]) await phone.until(() => isAll(phone));
    const fresh = await there.notes(shop.owner, pieceId);
    await fresh.until(() => isAll(fresh));
    await fern.until(() => journal(fern) === journal(max));
    expect(journal(fresh)).toBe(journal(max));
    await expectWholeLogs();
  });

  test("when every hint is lost they are still the same within six seconds of the last change", async () => {
    loseHints();
    const partner = await joined(shop, "partner");
    const pieceId = await hangUpPiece();
    const [floorHere, floorThere] = [await here.floor(shop.owner), await there.floor(partner)];
    const [fern, max] = [await here.notes(shop.owner, pieceId), await there.notes(partner, pieceId)];
    write(fern, "loose foot. ");
    write(max, "old glue. ");
    await there.accepted(partner, ["add-piece", pieceBody(shop)]);
    const tookMs = await taking(async () => {
      await floorHere.until(() => floorHere.rows("piece").length === 2);
      for (const phone of [fern, max])
        await phone.until(() => ["loose foot. ", "old glue. "].every((words) => journal(phone).includes(words)));
    });
    expect(tookMs).toBeLessThan(6_000);
    expect(journal(fern)).toBe(journal(max));
    expect(floorThere.rows("piece")).toHaveLength(2);
  });

  test.each([
    ["said", 2_000],
    ["lost", 4_000],
  ])("a member who is removed on one is hung up on by the other, the hint being %s", async (hint, withinMs) => {
    if (hint === "lost") loseHints();
    const helper = await joined(shop, "helper");
    const pieceId = await hangUpPiece();
    const [floor, notes, owner] = [
      await there.floor(helper),
      await there.notes(helper, pieceId),
      await there.floor(shop.owner),
    ];
    await here.accepted(shop.owner, ["end-membership", { memberId: helper.memberId, why: "moved away" }]);
    const heard = floor.heard.length;
    await here.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    const tookMs = await taking(() => Promise.all([floor.hungUp(), notes.hungUp()]));
    expect(tookMs).toBeLessThan(withinMs);
    expect([closeCode.sessionOver, closeCode.noRight]).toContain(floor.closeCode);
    await owner.until(() => owner.rows("piece").length === 2);
    expect(floor.heard.slice(heard).filter(({ kind }) => kind === "update")).toEqual([]);
  });

  test("who has the floor open on one is seen on the other, and is gone there when they leave", async () => {
    const helper = await joined(shop, "helper");
    const [phone, other] = [await here.floor(shop.owner), await there.floor(helper)];
    other.send(presenceFrame([]));
    phone.send(presenceFrame([{ clientId: 7, clock: 1, state: { lookingAt: "piece:1" } }]));
    const seen = () => there.hub.presence(shop.shopId);
    await other.until(() => seen().length === 1);
    expect(seen()).toEqual([{ memberId: shop.owner.memberId, deviceId: shop.owner.deviceId, lookingAt: "piece:1" }]);
    const late = await there.floor(shop.owner);
    late.send(presenceFrame([]));
    await late.until(() => late.heard.some(({ kind }) => kind === "presence"));
    phone.leave();
    await other.until(() => seen().length === 0);
  });

  test("a floor that is founded again on one sends the readers of the other to the new one", async () => {
    const { shopId } = shop;
    await hangUpPiece(there);
    const before = await there.floor(shop.owner);
    const busy = FloorDocument.of([Y.encodeStateAsUpdate(before.doc)]);
    for (let count = 0; count < 12_000; count += 1)
      busy.set([
        { part: "meta", key: "seq", value: -count },
        { part: "meta", key: "zone", value: `${count}` },
      ]);
    const { id, lastSeq } = await database().sharedDocument.findFirstOrThrow({ where: { shopId, kind: "floor" } });
    await database().sharedDocument.update({ where: { id }, data: { snapshot: busy.since(), snapshotSeq: lastSeq } });
    const old = await here.open(await here.floorName(shopId), await here.signIn(shop.owner));
    expect(await old.hungUp()).toBe(closeCode.otherEpoch);
    expect(await before.hungUp()).toBe(closeCode.otherEpoch);
    await there.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    const [one, two] = [await here.floor(shop.owner), await there.floor(shop.owner)];
    for (const phone of [one, two]) await phone.until(() => phone.rows("piece").length === 2);
    expect(await database().documentUpdate.count({ where: { documentId: id, epoch: 1 } })).toBe(0);
  });

  test("work on a floor that was founded again elsewhere, unheard, lands on the new one", async () => {
    loseHints();
    const { shopId } = shop;
    await hangUpPiece(there);
    const reader = await there.floor(shop.owner);
    const { id } = await database().sharedDocument.findFirstOrThrow({ where: { shopId, kind: "floor" } });
    await database().documentUpdate.deleteMany({ where: { documentId: id } });
    const founded = { epoch: 2, lastSeq: 0, snapshotSeq: 0, snapshot: null };
    await database().sharedDocument.update({ where: { id }, data: founded });
    await there.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    expect(await reader.hungUp()).toBe(closeCode.otherEpoch);
    const fresh = await here.floor(shop.owner);
    expect(fresh.rows("piece")).toHaveLength(2);
  });

  test("the client id of one member is theirs on every server", async () => {
    const partner = await joined(shop, "partner");
    const pieceId = await hangUpPiece();
    const [fern, max] = [await here.notes(shop.owner, pieceId), await there.notes(partner, pieceId)];
    write(fern, "mine");
    await max.until(() => journal(max) === "mine");
    const forged = new Y.Doc();
    Y.applyUpdate(forged, Y.encodeStateAsUpdate(fern.doc));
    forged.clientID = fern.doc.clientID;
    forged.getText("journal").insert(4, " and a lie");
    Y.applyUpdate(max.doc, Y.encodeStateAsUpdate(forged));
    expect(await max.hungUp()).toBe(closeCode.noRight);
    expect(journal(await there.notes(shop.owner, pieceId))).toBe("mine");
  });

  test("a device that moves to a server which has heard nothing yet brings others' words along, and is not to blame", async () => {
    loseHints();
    const partner = await joined(shop, "partner");
    const pieceId = await hangUpPiece();
    const behind = await there.notes(shop.owner, pieceId);
    const [fern, max] = [await here.notes(shop.owner, pieceId), await here.notes(partner, pieceId)];
    write(fern, "a word of Fern. ");
    await max.until(() => journal(max) === "a word of Fern. ");
    const moved = await there.open(`notes:${shop.shopId}:${pieceId}`, await there.signIn(partner));
    Y.applyUpdate(moved.doc, Y.encodeStateAsUpdate(max.doc), moved);
    await moved.synced();
    write(moved, "and one of Max. ");
    await behind.until(() => journal(behind) === "and one of Max. a word of Fern. ");
    expect(moved.closeCode).toBeUndefined();
    const owners = await database().documentWriter.findMany({ where: { clientId: fern.doc.clientID } });
    expect(owners.map(({ memberId }) => memberId)).toEqual([shop.owner.memberId]);
  });
});
