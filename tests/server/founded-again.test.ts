/** Documents that are founded again under another epoch while people have them open, or have been away for months. */
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import * as Y from "yjs";
import { closeCode, epochIn, notesRoom } from "~/core/wire";
import { closeDatabase, database } from "~/data/db";
import { appendUpdates } from "~/data/documents";
import { FloorDocument } from "../../server/floor-document";
import { freshShop, type Hand, joined, newId, pieceBody, type TestShop } from "../support/database";
import type { Phone } from "./support/phone";
import { ShopServer } from "./support/shop-server";

let here: ShopServer;
let there: ShopServer;
let shop: TestShop;
let partner: Hand;
beforeEach(async () => {
  [here, there] = await Promise.all([ShopServer.start(), ShopServer.start()]);
  shop = await freshShop();
  partner = await joined(shop, "partner");
});
afterEach(async () => {
  await Promise.all([here.stop(), there.stop()]);
  expect([...here.faults, ...there.faults]).toEqual([]);
});
afterAll(closeDatabase);

const minutePasses = () => {
  for (const server of [here, there]) server.now += 61_000;
};
const documentOf = (subjectId: string) => database().sharedDocument.findFirstOrThrow({ where: { subjectId } });

describe("a floor with much history", () => {
  /** As after years of work: values that were set again and again, written by another process. */
  async function yearsPass(phone: Phone): Promise<void> {
    const { id: documentId, epoch } = await documentOf(shop.shopId);
    const busy = FloorDocument.of([Y.encodeStateAsUpdate(phone.doc)]);
    const before = Y.encodeStateVector(phone.doc);
    const seq = busy.get("meta", "seq");
    for (let count = 0; count < 12_000; count += 1)
      busy.set([
        { part: "meta", key: "zone", value: `${count}` },
        { part: "meta", key: "seq", value: -count },
      ]);
    busy.set([
      { part: "meta", key: "zone", value: "America/New_York" },
      { part: "meta", key: "seq", value: seq },
    ]);
    await appendUpdates({ documentId, epoch, updates: [{ update: busy.since(before) }], now: here.now });
  }

  test("is founded again once, while people work on it, and nothing that they do is lost or there twice", async () => {
    const { shopId } = shop;
    await here.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    const phones = [await here.floor(shop.owner), await there.floor(partner)];
    await yearsPass(phones[0] as Phone);
    const added = ["1", "2", "3", "4", "5"].map(() => pieceBody(shop));
    const working = added.map((body, index) =>
      index % 2 === 0 ? here.accepted(shop.owner, ["add-piece", body]) : there.accepted(partner, ["add-piece", body]),
    );
    for (const phone of phones) expect(await phone.hungUp()).toBe(closeCode.otherEpoch);
    await Promise.all(working);
    expect(await here.hub.floorEpoch(shopId)).toBe(2);
    const fresh = [await here.floor(shop.owner), await there.floor(partner)];
    await here.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    for (const phone of fresh) {
      await phone.until(() => phone.rows("piece").length === 7);
      expect(added.every(({ pieceId }) => phone.doc.getMap("piece").has(pieceId))).toBe(true);
    }
    const { id: documentId, epoch } = await documentOf(shopId);
    expect(epoch).toBe(2);
    expect(await database().documentUpdate.count({ where: { documentId, epoch: 1 } })).toBe(0);
  });

  test("in a quiet minute the log becomes one snapshot that holds all of it", async () => {
    const phone = await here.floor(shop.owner);
    for (let count = 0; count < 5; count += 1) await here.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    await phone.until(() => phone.rows("piece").length === 5);
    minutePasses();
    const isShort = async () => {
      const { id: documentId, lastSeq, snapshotSeq } = await documentOf(shop.shopId);
      return lastSeq === snapshotSeq && (await database().documentUpdate.count({ where: { documentId } })) === 0;
    };
    await expect.poll(isShort).toBe(true);
    await here.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    const late = await there.floor(partner);
    expect(late.rows("piece")).toHaveLength(6);
  });
});

describe("notes that were written and struck and written again", () => {
  let pieceId: string;
  beforeEach(async () => {
    pieceId = newId();
    await here.accepted(shop.owner, ["add-piece", pieceBody(shop, pieceId)]);
  });

  const journal = (doc: Y.Doc) => doc.getText("journal").toString();
  const write = (phone: Phone, words: string) => phone.doc.getText("journal").insert(0, words);

  /** What somebody wrote letter by letter from the end, and struck, is as much history as letters: 7 bytes each at least. */
  async function muchHistory(): Promise<Y.Doc> {
    const doc = new Y.Doc();
    doc.transact(() => {
      for (let count = 0; count < 20_000; count += 1) doc.getText("journal").insert(0, "x");
      doc.getText("journal").delete(0, 19_990);
    });
    await here.notes(shop.owner, pieceId).then((phone) => phone.leave());
    const { id } = await documentOf(pieceId);
    const snapshot = new Uint8Array(Y.encodeStateAsUpdate(doc));
    await database().sharedDocument.update({ where: { id }, data: { snapshot, lastSeq: 1, snapshotSeq: 1 } });
    await here.hub.rooms.shut();
    await Promise.all([here.stop(), there.stop()]);
    const { now } = here;
    [here, there] = await Promise.all([ShopServer.start(), ShopServer.start()]);
    [here.now, there.now] = [now, now];
    return doc;
  }

  /** A device with a copy opens it by the name that it knows, until the server sends it on. */
  async function comeBack(server: ShopServer, hand: Hand, doc: Y.Doc, epoch = 1): Promise<Phone> {
    const cookie = await server.signIn(hand);
    const old = await server.open(notesRoom(shop.shopId, pieceId, epoch), cookie);
    Y.applyUpdate(old.doc, Y.encodeStateAsUpdate(doc), old);
    expect(await old.hungUp()).toBe(closeCode.otherEpoch);
    const fresh = await server.open(notesRoom(shop.shopId, pieceId, epochIn(old.closeReason)), cookie);
    await fresh.synced();
    return fresh;
  }

  test("are founded again while two write in them, who go on in the new ones; the history is gone, the words are not", async () => {
    await muchHistory();
    const phones = [await here.notes(shop.owner, pieceId), await there.notes(partner, pieceId)] as [Phone, Phone];
    write(phones[0], "left foot. ");
    await phones[1].until(() => journal(phones[1].doc).startsWith("left foot. "));
    minutePasses();
    for (const phone of phones) {
      expect(await phone.hungUp()).toBe(closeCode.otherEpoch);
      expect(phone.closeReason).toBe("2");
    }
    write(phones[1], "said in between. ");
    const fern = await comeBack(here, shop.owner, phones[0].doc);
    const max = await comeBack(there, partner, phones[1].doc);
    await fern.until(() => journal(fern.doc).includes("said in between. "));
    expect(journal(fern.doc)).toBe(`said in between. left foot. ${"x".repeat(10)}`);
    expect(journal(max.doc)).toBe(journal(fern.doc));
    expect(Y.encodeStateAsUpdate(max.doc).length).toBeLessThan(500);
  });

  test("a device that was away for months with unsent words loses none of them, and they are there once, however often it comes", async () => {
    const copy = await muchHistory();
    const other = await here.notes(partner, pieceId);
    write(other, "before. ");
    await other.until(() => other.heard.some(({ kind }) => kind === "update"));
    minutePasses();
    await other.hungUp();
    copy.getText("journal").insert(5, "<unsent>");
    copy.getText("journal").delete(0, 2);
    copy.getText("condition").insert(0, "veneer lifts");
    for (const server of [here, there, here]) {
      const phone = await comeBack(server, shop.owner, copy);
      expect(journal(phone.doc)).toBe("before. xxx<unsent>xxxxx");
      expect(phone.doc.getText("condition").toString()).toBe("veneer lifts");
    }
    const { id } = await documentOf(pieceId);
    const owners = await database().documentWriter.findMany({ where: { documentId: id, clientId: copy.clientID } });
    expect(owners.map(({ memberId }) => memberId)).toEqual([shop.owner.memberId]);
  });

  test("a device that never had a copy is sent on by the name without an epoch, and hears nothing old on the way", async () => {
    await muchHistory();
    const phone = await here.notes(shop.owner, pieceId);
    write(phone, "words. ");
    await phone.until(() => phone.heard.some(({ kind }) => kind === "update"));
    minutePasses();
    await phone.hungUp();
    const fresh = await comeBack(there, partner, new Y.Doc());
    expect(journal(fresh.doc)).toBe(`words. ${"x".repeat(10)}`);
  });

  test("whoever may only read is sent on at once, and what they send by the old name is not taken", async () => {
    const copy = await muchHistory();
    const phone = await here.notes(partner, pieceId);
    write(phone, "words. ");
    await phone.until(() => phone.heard.some(({ kind }) => kind === "update"));
    minutePasses();
    await phone.hungUp();
    copy.getText("journal").insert(0, "not mine to say");
    await here.accepted(shop.owner, ["change-role", { memberId: partner.memberId, role: "bookkeeper" }]);
    const reader = await comeBack(here, partner, copy);
    expect(journal(reader.doc)).toBe(`words. ${"x".repeat(10)}`);
  });

  test("words under the client id of another are not carried over", async () => {
    const copy = await muchHistory();
    const fern = await here.notes(shop.owner, pieceId);
    write(fern, "mine. ");
    await fern.until(() => fern.heard.some(({ kind }) => kind === "update"));
    minutePasses();
    await fern.hungUp();
    const forged = new Y.Doc();
    Y.applyUpdate(forged, Y.encodeStateAsUpdate(fern.doc));
    forged.clientID = fern.doc.clientID;
    forged.getText("journal").insert(0, "a lie. ");
    const phone = await here.open(notesRoom(shop.shopId, pieceId), await here.signIn(partner));
    Y.applyUpdate(phone.doc, Y.encodeStateAsUpdate(forged), phone);
    expect(await phone.hungUp()).toBe(closeCode.noRight);
    const fresh = await comeBack(here, shop.owner, copy);
    expect(journal(fresh.doc)).toBe(`mine. ${"x".repeat(10)}`);
  });
});
