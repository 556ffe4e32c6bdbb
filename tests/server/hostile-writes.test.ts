/** Writing where one may only read, and in the name of another. */
import * as encoding from "lib0/encoding";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import * as Y from "yjs";
import { closeCode } from "~/core/wire";
import { closeDatabase, database } from "~/data/db";
import { presenceFrame, step2Frame, updateFrame } from "../../server/messages";
import { freshShop, type Hand, joined, newId, pieceBody, type TestShop } from "../support/database";
import { forgedUpdate } from "./support/forged-update";
import { Honest } from "./support/honest";
import type { Phone } from "./support/phone";
import { ShopServer } from "./support/shop-server";

let server: ShopServer;
let shop: TestShop;
let mallory: Hand;
let reader: Hand;
let pieceId: string;
let honest: Honest;
beforeAll(async () => {
  server = await ShopServer.start();
  shop = await freshShop();
  [mallory, reader] = [await joined(shop, "partner"), await joined(shop, "helper")];
  pieceId = newId();
  await server.accepted(shop.owner, ["add-piece", pieceBody(shop, pieceId)]);
  await server.accepted(shop.owner, ["change-role", { memberId: reader.memberId, role: "bookkeeper" }]);
  honest = await Honest.start(server, shop, mallory, pieceId);
});
afterAll(async () => {
  await server.stop();
  expect(server.faults).toEqual([]);
  await closeDatabase();
});

const both = (...frames: Uint8Array[]) => new Uint8Array(frames.flatMap((frame) => [...frame]));

/** A change of a copy, as an update of its own; the copy belongs to nobody's line. */
function changeOf(phone: Phone, change: (doc: Y.Doc) => void): Uint8Array {
  const copy = new Y.Doc();
  Y.applyUpdate(copy, Y.encodeStateAsUpdate(phone.doc));
  const before = Y.encodeStateVector(copy);
  change(copy);
  return Y.encodeStateAsUpdate(copy, before);
}

/** Deletions and nothing else: no state vector shows them. */
function deletionIn(phone: Phone): Uint8Array {
  const [[client, [first]]] = [...phone.doc.store.clients].filter(([, structs]) =>
    structs.some(({ deleted }) => !deleted),
  ) as [[number, Y.Item[]]];
  const alive = phone.doc.store.clients.get(client)?.find(({ deleted }) => !deleted) ?? (first as Y.Item);
  return forgedUpdate([], [{ client, clock: alive.id.clock, length: alive.length }]);
}

const rooms: [name: string, open: () => Promise<Phone>, change: (doc: Y.Doc) => void][] = [
  ["the floor", () => server.floor(mallory), (doc) => doc.getMap("piece").set("mine", { name: "a lie" })],
  [
    "the notes, for a bookkeeper",
    () => server.notes(reader, pieceId),
    (doc) => doc.getText("journal").insert(0, "a lie"),
  ],
];

describe.each(rooms)("%s", (_, open, change) => {
  test.each<[string, (phone: Phone) => Uint8Array, number]>([
    ["an update", (phone) => updateFrame(changeOf(phone, change)), closeCode.noRight],
    ["the answer to a question", (phone) => step2Frame(changeOf(phone, change)), closeCode.noRight],
    ["a deletion alone", (phone) => updateFrame(deletionIn(phone)), closeCode.noRight],
    ["what is no update", () => updateFrame(new Uint8Array([7, 7, 7])), closeCode.noRight],
    [
      "two messages in one",
      (phone) => both(presenceFrame([]), updateFrame(changeOf(phone, change))),
      closeCode.malformed,
    ],
    [
      "an update and a byte more",
      (phone) => both(updateFrame(changeOf(phone, change)), new Uint8Array([0])),
      closeCode.malformed,
    ],
  ])("%s is not taken, and closes the line", async (_, frame, code) => {
    const phone = await open();
    const other = await open();
    const before = JSON.stringify(other.doc.toJSON());
    phone.send(frame(phone));
    expect(await phone.hungUp()).toBe(code);
    expect(JSON.stringify(other.doc.toJSON())).toBe(before);
    other.leave();
    expect(await honest.goOn()).toBe(true);
  });

  test("what is known already may be said again", async () => {
    const phone = await open();
    phone.send(step2Frame(new Uint8Array([0, 0])));
    phone.send(updateFrame(Y.encodeStateAsUpdate(phone.doc)));
    expect(await honest.goOn()).toBe(true);
    await phone.until(() => phone.heard.some(({ kind }) => kind === "update"));
    expect(phone.isOver).toBe(false);
    phone.leave();
  });
});

describe("in the name of another", () => {
  test("the coming clocks of somebody who is away are not claimed by twenty bytes, and their words arrive", async () => {
    const victim = await server.notes(shop.owner, pieceId);
    victim.doc.getText("condition").insert(0, "veneer");
    const onlooker = await server.notes(mallory, pieceId);
    await onlooker.until(() => onlooker.doc.getText("condition").toString() === "veneer");
    victim.leave();
    const client = victim.doc.clientID;
    const clock = Y.getState(onlooker.doc.store, client);
    victim.doc.getText("condition").insert(6, " lifts");
    for (const struct of [{ gone: 1000 }, { text: "x", left: [client, 0] as [number, number] }]) {
      const thief = await server.notes(mallory, pieceId);
      thief.send(updateFrame(forgedUpdate([{ client, clock, structs: [struct] }])));
      expect(await thief.hungUp()).toBe(closeCode.noRight);
    }
    const skipping = await server.notes(mallory, pieceId);
    for (let count = 0; count < 3; count += 1) {
      skipping.send(
        updateFrame(forgedUpdate([{ client, clock, structs: [{ hole: 1000 }, { text: "x", left: [client, 0] }] }])),
      );
    }
    expect(await skipping.hungUp()).toBe(closeCode.malformed);
    const back = await server.notes(shop.owner, pieceId);
    back.send(updateFrame(Y.encodeStateAsUpdate(victim.doc)));
    await onlooker.until(() => onlooker.doc.getText("condition").toString() === "veneer lifts");
    for (const phone of [back, onlooker]) phone.leave();
  });

  test("a client id is known to nobody before it has written", async () => {
    const [victim, thief] = [await server.notes(shop.owner, pieceId), await server.notes(mallory, pieceId)];
    victim.send(presenceFrame([{ clientId: victim.doc.clientID, clock: 1, state: {} }]));
    thief.send(new Uint8Array([3]));
    expect(await honest.goOn()).toBe(true);
    await thief.until(() => thief.heard.some(({ kind }) => kind === "update"));
    expect(thief.heard.filter(({ kind }) => kind === "presence")).toEqual([]);
    for (const phone of [victim, thief]) phone.leave();
  });
});

describe("what costs more than it brings", () => {
  test("a million items in twelve megabytes are refused by their size, and the others go on", async () => {
    const encoder = encoding.createEncoder();
    for (const number of [1, 1_000_000, 99, 0]) encoding.writeVarUint(encoder, number);
    for (let count = 0; count < 1_000_000; count += 1)
      encoding.writeUint8Array(encoder, new Uint8Array([4, 1, 1, 106, 1, 97]));
    const phone = await server.notes(mallory, pieceId);
    phone.send(updateFrame(encoding.toUint8Array(encoder)));
    expect(await honest.during(phone.hungUp())).toBe(true);
    expect(phone.closeCode).toBe(closeCode.tooLarge);
  });

  test("updates that can never be taken in are asked about, then refused, and neither stored nor told", async () => {
    const phone = await server.notes(mallory, pieceId);
    const stored = () => database().documentUpdate.count({ where: { memberId: mallory.memberId } });
    const before = await stored();
    for (let count = 0; count < 3; count += 1) {
      phone.send(updateFrame(forgedUpdate([{ client: 4711, clock: 1 << 20, structs: [{ gone: 1 }] }])));
    }
    expect(await honest.during(phone.hungUp())).toBe(true);
    expect(phone.closeCode).toBe(closeCode.malformed);
    expect(await stored()).toBe(before);
    const other = await server.notes(mallory, pieceId);
    expect(other.doc.store.pendingStructs).toBeNull();
    other.leave();
  });
});
