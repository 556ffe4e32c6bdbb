import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { closeDatabase, database } from "~/data/db";
import { freshShop, intentOf, newId, type TestShop } from "../support/database";
import { codeOf, type Person, ShopApi } from "./support/shop-api";

let api: ShopApi;
let shop: TestShop;
let owner: Person;
beforeEach(async () => {
  api = new ShopApi();
  shop = await freshShop();
  owner = await api.signIn(shop.owner);
});
afterEach(() => api.stop());
afterAll(closeDatabase);

const sweep = (taskId = newId()) => ({ taskId, title: "Sweep", sort: "other" });

/** Everything that the shop is made of, but for the rulings themselves. */
async function stateOf({ shopId }: TestShop) {
  const of = { where: { shopId } };
  const head = await database().ledgerHead.findUniqueOrThrow(of);
  const rows = [database().task.findMany(of), database().member.findMany(of), database().piece.findMany(of)];
  return JSON.stringify([head.seq, await Promise.all(rows)], (_, value) =>
    typeof value === "bigint" ? Number(value) : value,
  );
}

describe("the one door", () => {
  test("answers each intent in the order in which it came", async () => {
    const same = newId();
    const { rulings } = await api.send(
      owner,
      ["add-task", sweep(same)],
      ["finish-task", { taskId: newId() }],
      ["add-task", sweep()],
    );
    expect(rulings.map(({ verdict }) => verdict)).toEqual(["accepted", "refused", "accepted"]);
  });

  test("gives the same answer to an intent that is sent again, and changes nothing by it", async () => {
    const envelope = intentOf(owner, "add-task", sweep());
    const send = async () => (await (await api.as(owner)).door.send({ intents: [envelope] })).rulings;
    const first = await send();
    const before = await stateOf(shop);
    api.now += 60_000;
    expect(await send()).toEqual(first);
    expect(await stateOf(shop)).toBe(before);
  });

  test("says from where to send again when something was lost on the way", async () => {
    const [lost, later] = [intentOf(owner, "add-task", sweep()), intentOf(owner, "add-task", sweep())];
    const { rulings, gap } = await (await api.as(owner)).door.send({ intents: [later] });
    expect([rulings, gap]).toEqual([[], { memberId: owner.memberId, resendFrom: lost.deviceSeq }]);
  });

  test("tells the server's time with every answer, for the device's clock", async () => {
    api.now += 12_345;
    expect((await api.send(owner)).serverAt).toBe(api.now);
    expect(await (await api.as()).door.time()).toBe(api.now);
  });

  test("takes five hundred intents at once and not one more", async () => {
    const caller = await api.as(owner);
    const many = (count: number) => Array.from({ length: count }, () => null);
    expect(await codeOf(caller.door.send({ intents: many(501) }))).toBe("BAD_REQUEST");
    expect((await caller.door.send({ intents: many(500) })).rulings).toHaveLength(500);
  });
});

describe("what does not have the shape of an intent", () => {
  const nested = (depth: number): unknown => (depth === 0 ? "a" : [nested(depth - 1)]);
  const good = () => intentOf(owner, "add-task", sweep());
  const shapes: [string, () => unknown][] = [
    ["nothing", () => null],
    ["a number", () => 42],
    ["words", () => "claim everything"],
    ["a list", () => [good()]],
    ["an envelope without an id", () => ({ ...good(), intentId: undefined })],
    ["an id that is none", () => ({ ...good(), intentId: "1; drop table piece" })],
    ["an intent of a kind that no shop knows", () => ({ ...good(), kind: "give-me-the-shop" })],
    ["the name of something that every object has", () => ({ ...good(), kind: "constructor" })],
    ["a time before time", () => ({ ...good(), deviceAt: -1 })],
    ["a time that is no number", () => ({ ...good(), deviceAt: "yesterday" })],
    ["a queue that counts backwards", () => ({ ...good(), deviceSeq: -3 })],
    ["another language's envelope", () => ({ ...good(), schemaVersion: 99 })],
    ["no body", () => ({ ...good(), body: undefined })],
    ["a body of lists in lists", () => ({ ...good(), body: nested(500) })],
    ["a title that fills a book", () => ({ ...good(), body: { ...sweep(), title: "a".repeat(100_000) } })],
    [
      "a title with a zero character, which the database does not take",
      () => ({ ...good(), body: { ...sweep(), title: "a\u0000b" } }),
    ],
    ["a kind with a zero character", () => ({ ...good(), kind: "add\u0000task" })],
    ["a kind with half a character", () => ({ ...good(), kind: "add-task\ud800" })],
    [
      "a key of a setting with half a character",
      () => ({ ...good(), kind: "set-shop", body: { key: "a\ud800", value: 1 } }),
    ],
    [
      "an old value with a zero character, for a piece that is not there",
      () => ({ ...good(), kind: "edit-piece", body: { pieceId: newId(), field: "name", was: "a\u0000", value: "b" } }),
    ],
    [
      "a field with a zero character in its name",
      () => ({ ...good(), kind: "edit-member", body: { memberId: owner.memberId, field: "name\u0000", value: "b" } }),
    ],
    [
      "an old value with half a character",
      () => ({
        ...good(),
        kind: "edit-member",
        body: { memberId: owner.memberId, field: "name", was: "a\ud800", value: "b" },
      }),
    ],
    ["half a character", () => ({ ...good(), body: { ...sweep(), title: "a\ud800" } })],
    [
      "a body that would change what objects are",
      () => ({ ...good(), body: JSON.parse('{"__proto__":{"sort":"other"}}') }),
    ],
    ["somebody else's device", () => ({ ...good(), deviceId: newId() })],
    ["somebody who is not here", () => ({ ...good(), memberId: newId() })],
  ];

  test.each(shapes)("%s is refused, and the shop is as it was", async (_, shape) => {
    const before = await stateOf(shop);
    const { rulings } = await (await api.as(owner)).door.send({ intents: [shape()] });
    expect(rulings).toMatchObject([{ verdict: "refused" }]);
    expect(await stateOf(shop)).toBe(before);
    expect(api.faults).toEqual([]);
  });

  test("does not keep what stands behind it in the queue from being taken", async () => {
    const bad = { ...intentOf(owner, "add-task", sweep()), schemaVersion: 99 };
    const behind = intentOf(owner, "add-task", sweep());
    const { rulings } = await (await api.as(owner)).door.send({ intents: [bad, behind] });
    expect(rulings.map(({ verdict }) => verdict)).toEqual(["refused", "accepted"]);
  });
});
