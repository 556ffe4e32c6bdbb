import { afterAll, expect, test } from "vitest";
import { closeDatabase } from "~/data/db";
import { ShopServer } from "../server/support/shop-server";
import { type Seat, unsteadyRun } from "../server/support/unsteady";
import { freshShop, joined } from "../support/database";

/** A run that failed is had again by `SOAK_SEED=… npm run soak -- three-devices`. */
const [first, runs] = process.env.SOAK_SEED ? [Number(process.env.SOAK_SEED), 1] : [1, 1000];
const runsOfShop = 50;

afterAll(closeDatabase);

test(`in ${runs} runs on lines that lose, repeat and shuffle, nothing is lost, nothing differs, nothing is left waiting`, async () => {
  const harmed: object[] = [];
  for (let from = first; from < first + runs; from += runsOfShop) {
    const server = await ShopServer.start();
    const shop = await freshShop();
    const seats: Seat[] = [];
    for (const hand of [shop.owner, await joined(shop, "partner"), await joined(shop, "helper")])
      seats.push({ hand, cookie: await server.signIn(hand) });
    for (let seed = from; seed < Math.min(from + runsOfShop, first + runs); seed += 1) {
      const harm = await unsteadyRun(server, shop, seats, seed);
      if (Object.values(harm).some((found) => found.length > 0)) harmed.push({ seed, ...harm });
    }
    expect(server.faults).toEqual([]);
    await server.stop();
    console.log(`runs up to ${from + runsOfShop - 1}: ${harmed.length} harmed`);
  }
  expect(harmed).toEqual([]);
});
