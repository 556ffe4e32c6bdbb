import { afterAll, afterEach, beforeEach, expect, test } from "vitest";
import { closeDatabase } from "~/data/db";
import { freshShop, joined, type TestShop } from "../support/database";
import { ShopServer } from "./support/shop-server";
import { type Seat, unsteadyRun } from "./support/unsteady";

let server: ShopServer;
let shop: TestShop;
let seats: Seat[];
beforeEach(async () => {
  server = await ShopServer.start();
  shop = await freshShop();
  const hands = [shop.owner, await joined(shop, "partner"), await joined(shop, "helper")];
  seats = [];
  for (const hand of hands) seats.push({ hand, cookie: await server.signIn(hand) });
});
afterEach(() => server.stop());
afterAll(closeDatabase);

const runs = 20;

test("three devices on lines that lose, repeat and shuffle what they say end with the same words and every intent judged once", async () => {
  for (let seed = 1; seed <= runs; seed += 1) {
    const harm = await unsteadyRun(server, shop, seats, seed);
    expect(harm, `seed ${seed}`).toEqual({ lost: [], diverged: [], pending: [] });
  }
  expect(server.faults).toEqual([]);
});
