import fc from "fast-check";
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import * as Y from "yjs";
import { closeCode } from "~/core/wire";
import { closeDatabase, database } from "~/data/db";
import { updateFrame } from "../../server/messages";
import { freshShop, type Hand, joined, newId, pieceBody, type TestShop } from "../support/database";
import type { Phone } from "./support/phone";
import { ShopServer } from "./support/shop-server";

let server: ShopServer;
let shop: TestShop;
let pieceId: string;
let hands: Hand[];
beforeEach(async () => {
  server = await ShopServer.start();
  shop = await freshShop();
  hands = [shop.owner, await joined(shop, "partner"), await joined(shop, "helper")];
  pieceId = newId();
  await server.accepted(shop.owner, ["add-piece", pieceBody(shop, pieceId)]);
});
afterEach(() => server.stop());
afterAll(closeDatabase);

const journal = (phone: Phone) => phone.doc.getText("journal").toString();
const write = (phone: Phone, words: string) => phone.doc.getText("journal").insert(0, words);

async function restart(): Promise<void> {
  const { now } = server;
  await server.stop();
  server = await ShopServer.start();
  server.now = now;
}

describe("notes that members write together", () => {
  test("words reach the others, come back to their writer as kept, and are there after a restart", async () => {
    const [fern, max] = [await server.notes(shop.owner, pieceId), await server.notes(hands[1] as Hand, pieceId)];
    write(fern, "left foot is loose. ");
    await max.until(() => journal(max) === "left foot is loose. ");
    await fern.until(() => fern.heard.some(({ kind }) => kind === "update"));
    expect(await database().documentUpdate.count({ where: { memberId: shop.owner.memberId } })).toBe(1);
    await restart();
    expect(journal(await server.notes(hands[2] as Hand, pieceId))).toBe("left foot is loose. ");
  });

  test("what was written while apart arrives with the first answer, in a room that was not yet loaded", async () => {
    await restart();
    const apart = new Y.Doc();
    apart.getText("condition").insert(0, "veneer lifts at the back");
    const phone = await server.open(`notes:${shop.shopId}:${pieceId}`, await server.signIn(shop.owner));
    Y.applyUpdate(phone.doc, Y.encodeStateAsUpdate(apart), phone);
    const other = await server.notes(hands[1] as Hand, pieceId);
    await other.until(() => other.doc.getText("condition").toString() === "veneer lifts at the back");
  });

  test("three writers who lose the line and come back end with the same words, none lost", async () => {
    const step = fc.record({ who: fc.nat({ max: 2 }), what: fc.constantFrom("write", "write", "drop", "restart") });
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 5, maxLength: 14 }), async (steps) => {
        const phones: Phone[] = [];
        for (const hand of hands) phones.push(await server.notes(hand, pieceId));
        const written: string[] = [];
        for (const [index, { who, what }] of steps.entries()) {
          const phone = phones[who] as Phone;
          if (what === "write") {
            const words = `<${who}.${index}.${newId().slice(-6)}>`;
            written.push(words);
            write(phone, words);
          } else {
            if (what === "restart") await restart();
            else phone.leave();
            for (const [place, hand] of hands.entries()) {
              const kept = phones[place] as Phone;
              if (what === "drop" && place !== who) continue;
              const back = await server.open(`notes:${shop.shopId}:${pieceId}`, await server.signIn(hand));
              Y.applyUpdate(back.doc, Y.encodeStateAsUpdate(kept.doc), back);
              await back.synced();
              phones[place] = back;
            }
          }
        }
        const hasAll = (phone: Phone) => written.every((words) => journal(phone).includes(words));
        for (const phone of phones) await phone.until(() => hasAll(phone));
        const last = await server.notes(shop.owner, pieceId);
        await last.until(() => hasAll(last));
        for (const phone of phones) {
          await phone.until(() => journal(phone) === journal(last));
          phone.leave();
        }
        last.leave();
      }),
      { numRuns: 6, seed: 20_261_027 },
    );
  });

  test("whoever writes twice and closes at once finds both the next time, however soon that is", async () => {
    for (let round = 0; round < 8; round += 1) {
      const phone = await server.notes(shop.owner, pieceId);
      write(phone, `<${round}.first>`);
      write(phone, `<${round}.second>`);
      // closing tells the server after the words, on the same line
      phone.socket.close();
      await phone.hungUp();
      // a minute passes, so the room may go, just as somebody comes back
      server.now += 61_000;
      if (round % 2 === 0) server.hub.beat();
      const back = await server.notes(hands[1] as Hand, pieceId);
      await back.until(() => [`<${round}.first>`, `<${round}.second>`].every((words) => journal(back).includes(words)));
      back.leave();
    }
  });

  test("while the log cannot be written nothing is told to anybody, and the room is dropped rather than trusted", async () => {
    const [phone, other] = [await server.notes(shop.owner, pieceId), await server.notes(hands[1] as Hand, pieceId)];
    write(phone, "kept. ");
    await other.until(() => journal(other) === "kept. ");
    await phone.until(() => phone.heard.some(({ kind }) => kind === "update"));
    await database().$executeRaw`ALTER TABLE "documentUpdate" RENAME TO "elsewhere"`;
    write(phone, "not kept. ");
    expect(await phone.hungUp()).toBe(closeCode.databaseAway);
    expect(await other.hungUp()).toBe(closeCode.databaseAway);
    expect(journal(other)).toBe("kept. ");
    await database().$executeRaw`ALTER TABLE "elsewhere" RENAME TO "documentUpdate"`;
    const back = await server.notes(hands[1] as Hand, pieceId);
    expect(journal(back)).toBe("kept. ");
  });

  test("after two hundred changes the log is short again, and the words are the same", async () => {
    const [phone, other] = [await server.notes(shop.owner, pieceId), await server.notes(hands[1] as Hand, pieceId)];
    let expected = "";
    for (let count = 0; count < 230; count += 1) {
      write(phone, `${count} `);
      expected = `${count} ${expected}`;
      if (count % 50 !== 49) continue;
      await other.until(() => journal(other) === expected);
      server.now += 10_000; // a hand cannot write two hundred times in a second, and the server knows
    }
    await other.until(() => journal(other) === expected);
    await restart();
    expect(journal(await server.notes(hands[2] as Hand, pieceId))).toBe(expected);
    const document = await database().sharedDocument.findFirstOrThrow({ where: { subjectId: pieceId } });
    expect(document.snapshotSeq).toBeGreaterThanOrEqual(200);
  });
});

describe("what notes are not", () => {
  test("a member whose membership has ended may not write on", async () => {
    const phone = await server.notes(hands[2] as Hand, pieceId);
    await server.accepted(shop.owner, ["end-membership", { memberId: (hands[2] as Hand).memberId, why: "moved away" }]);
    expect([closeCode.sessionOver, closeCode.noRight]).toContain(await phone.hungUp());
  });

  test.each<[string, (doc: Y.Doc) => void, number]>([
    ["a map beside the texts", (doc) => doc.getMap("piece").set("a", 1), closeCode.malformed],
    ["something embedded in a text", (doc) => doc.getText("journal").insertEmbed(0, { a: 1 }), closeCode.malformed],
    ["an attribute of a text", (doc) => doc.getText("journal").setAttribute("a", 1), closeCode.malformed],
    [
      "more than one update may hold",
      (doc) => doc.getText("journal").insert(0, "x".repeat(420_000)),
      closeCode.tooLarge,
    ],
  ])("%s is refused, and the notes stay as they were", async (_, change, code) => {
    const [phone, other] = [await server.notes(shop.owner, pieceId), await server.notes(hands[1] as Hand, pieceId)];
    change(phone.doc);
    expect(await phone.hungUp()).toBe(code);
    write(other, "still here");
    const third = await server.notes(hands[2] as Hand, pieceId);
    await third.until(() => journal(third) === "still here");
    expect([...third.doc.share.keys()].sort()).toEqual(["journal"]);
  });

  test("more than a hundred thousand characters are refused, however they come", async () => {
    const [phone, other] = [await server.notes(shop.owner, pieceId), await server.notes(hands[1] as Hand, pieceId)];
    write(phone, "x".repeat(60_000));
    await other.until(() => journal(other).length === 60_000);
    write(phone, "y".repeat(60_000));
    expect(await phone.hungUp()).toBe(closeCode.tooLarge);
    expect(journal(other)).toHaveLength(60_000);
  });

  test("an update that rests on something missing is asked about twice, and then not any more", async () => {
    const phone = await server.notes(shop.owner, pieceId);
    const doc = new Y.Doc();
    doc.getText("journal").insert(0, "first");
    const before = Y.encodeStateVector(doc);
    doc.getText("journal").insert(5, "second");
    const gap = updateFrame(Y.encodeStateAsUpdate(doc, before));
    const asked = () => phone.heard.filter(({ kind }) => kind === "step1").length;
    const atFirst = asked();
    phone.send(gap);
    await phone.until(() => asked() === atFirst + 1);
    phone.send(gap);
    phone.send(gap);
    expect(await phone.hungUp()).toBe(closeCode.malformed);
    expect(asked()).toBe(atFirst + 2);
  });

  test("nobody writes on under the client id of another", async () => {
    const [fern, max] = [await server.notes(shop.owner, pieceId), await server.notes(hands[1] as Hand, pieceId)];
    write(fern, "mine");
    await max.until(() => journal(max) === "mine");
    const forged = new Y.Doc();
    Y.applyUpdate(forged, Y.encodeStateAsUpdate(fern.doc));
    forged.clientID = fern.doc.clientID;
    const before = Y.encodeStateVector(forged);
    forged.getText("journal").insert(4, " and a lie");
    max.send(updateFrame(Y.encodeStateAsUpdate(forged, before)));
    expect(await max.hungUp()).toBe(closeCode.noRight);
    write(fern, "really ");
    const third = await server.notes(hands[2] as Hand, pieceId);
    await third.until(() => journal(third) === "really mine");
  });
});
