/** What an intent went through is found in the logs of all servers by its own id, and nothing of what it says is. */
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { floorRoom } from "~/core/wire";
import { closeDatabase } from "~/data/db";
import { freshShop, intentOf, joined, pieceBody } from "../support/database";
import { buildDoor, type Door, killDoor, openDoor, removeDoor, send } from "./support/doors";
import { type Phone, phoneIn } from "./support/phone";
import { ShopServer } from "./support/shop-server";

let here: Door;
let there: Door;
const phones: Phone[] = [];
beforeAll(async () => {
  await buildDoor();
  [here, there] = await Promise.all([openDoor(), openDoor()]);
}, 120_000);
afterEach(() => {
  for (const phone of phones.splice(0)) phone.leave();
});
afterAll(async () => {
  await Promise.all([here, there].map(killDoor));
  removeDoor();
  await closeDatabase();
});

type Line = {
  at: string;
  node: string;
  event: string;
  level: string;
  intentId?: string;
  intentIds?: string[];
} & Record<string, unknown>;
const linesOf = ({ lines }: Door): Line[] =>
  lines.filter((line) => line.startsWith("{")).map((line) => JSON.parse(line) as Line);
const about = (door: Door, intentId: string): Line[] =>
  linesOf(door).filter((line) => line.intentId === intentId || line.intentIds?.includes(intentId));

async function logged(door: Door, isSo: () => boolean): Promise<void> {
  while (!isSo()) await new Promise((resolve) => door.child.stdout?.once("data", resolve));
}

const figuresOf = async ({ port }: Door): Promise<string> => (await fetch(`http://127.0.0.1:${port}/metrics`)).text();

async function open(room: string, cookie: string): Promise<Phone> {
  const phone = await phoneIn(room, { cookie });
  phones.push(phone);
  return phone;
}

async function openShop() {
  const shop = await freshShop();
  const signer = await ShopServer.start();
  signer.now = Date.now(); // the processes go by the real clock
  const helper = await joined(shop, "helper");
  const [cookie, helperCookie] = [await signer.signIn(shop.owner), await signer.signIn(helper)];
  await signer.stop();
  const phone = await open(`ws://127.0.0.1:${there.port}/sync/${floorRoom(shop.shopId, 1)}`, helperCookie);
  return { shop, cookie, helper, helperCookie, phone };
}

test("an intent is received, judged, committed and told on one server, then applied on the other, under its own id", async () => {
  const { shop, cookie, phone } = await openShop();
  const title = "Aunt Tilda's walnut dresser";
  const intent = intentOf(shop.owner, "add-piece", { ...pieceBody(shop), title }, Date.now());
  expect(await send(here.port, cookie, intent)).toBe(true);
  await phone.until(() => phone.rows("piece").length === 1);
  await logged(here, () => about(here, intent.intentId).length >= 4);
  await logged(there, () => about(there, intent.intentId).length >= 1);

  const [ours, theirs] = [about(here, intent.intentId), about(there, intent.intentId)];
  expect(ours.map(({ event }) => event)).toEqual(["received", "judged", "committed", "told"]);
  expect(theirs.map(({ event }) => event)).toEqual(["applied"]);
  expect(new Set([...ours, ...theirs].map(({ node }) => node)).size).toBe(2);
  const moments = [...ours, ...theirs].map(({ at }) => Date.parse(at));
  expect(moments).toEqual([...moments].sort((one, other) => one - other));
  expect(ours[1]).toMatchObject({ kind: "add-piece", verdict: "accepted", shopId: shop.shopId });

  const [ourFigures, theirFigures] = [await figuresOf(here), await figuresOf(there)];
  expect(ourFigures).toContain('tackfree_intents_total{kind="add-piece"} 1\n');
  expect(ourFigures).toContain('tackfree_rulings_total{verdict="accepted"} 1\n');
  expect(ourFigures).toContain('tackfree_commit_seconds_count{room="floor"} 1\n');
  expect(theirFigures).toContain('tackfree_intents_total{kind="add-piece"} 0\n');
  expect(theirFigures).toMatch(/\ntackfree_neighbour_lag_seconds_count [1-9]/);
  expect(theirFigures).toContain('tackfree_sockets{room="floor"} 1\n');

  // who reads the log learns nothing of the shop: neither what is in it, nor who, nor from where
  const written = [...here.lines, ...there.lines].join("\n");
  for (const word of ["Tilda", "walnut", cookie, "127.0.0.1"]) expect(written).not.toContain(word);
}, 120_000);

test("a refused intent is judged with the code of its refusal, and told to nobody", async () => {
  const { shop, helper, helperCookie } = await openShop();
  const body = { memberId: shop.owner.memberId, why: "moved away to Hull" };
  const intent = intentOf(helper, "end-membership", body, Date.now());
  await expect(send(here.port, helperCookie, intent)).rejects.toThrow("may-not");
  await logged(here, () => about(here, intent.intentId).length >= 3);
  const ours = about(here, intent.intentId);
  expect(ours.map(({ event }) => event)).toEqual(["received", "judged", "committed"]);
  expect(ours[1]).toMatchObject({ kind: "end-membership", verdict: "refused", refusal: "may-not" });
  expect(about(there, intent.intentId)).toEqual([]);
  expect(await figuresOf(here)).toContain('tackfree_refusals_total{code="may-not"} 1\n');
  expect(here.lines.join("\n")).not.toContain("Hull");
}, 120_000);
