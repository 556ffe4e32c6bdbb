import { afterAll, expect, test } from "vitest";
import { closeDatabase, database } from "~/data/db";
import { accepted, deliver, freshShop, intentOf, minuteMs, mondayAt, newId } from "../support/database";

afterAll(closeDatabase);

const rows = 200_000; // what one import may hold
const stepMs = 2 * minuteMs;

test("a logger's 200 000 readings are stored whole, sent twice they are there once, and taken back they are all marked", async () => {
  const shop = await freshShop();
  const firstAt = mondayAt - rows * stepMs;
  const body = {
    roomId: shop.roomId,
    at: Array.from({ length: rows }, (_, row) => firstAt + row * stepMs),
    airTenths: Array.from({ length: rows }, (_, row) => 180 + (row % 60)),
    humidityTenths: Array.from({ length: rows }, (_, row) => 400 + (row % 200)),
  };
  const envelope = intentOf(shop.owner, "import-readings", body);
  const startedAt = performance.now();
  const outcome = await deliver(shop.owner, [envelope]);
  console.log(`200 000 readings committed in ${((performance.now() - startedAt) / 1000).toFixed(1)} s`);
  expect(outcome.failed).toEqual([]);
  expect(outcome.rulings).toMatchObject([{ verdict: "accepted" }]);
  const { shopId } = shop;
  const last = await database().reading.findFirst({ where: { shopId }, orderBy: { at: "desc" } });
  expect(await database().reading.count({ where: { shopId } })).toBe(rows);
  expect([Number(last?.at), Number(last?.airCelsius), Number(last?.humidityPercent)]).toEqual([
    firstAt + (rows - 1) * stepMs,
    (180 + ((rows - 1) % 60)) / 10,
    (400 + ((rows - 1) % 200)) / 10,
  ]);
  expect((await deliver(shop.owner, [envelope])).rulings).toEqual(outcome.rulings);

  const { importId } = (await database().reading.findFirst({ where: { shopId } })) ?? {};
  await accepted(shop.owner, "retract-import", { importId, why: "the wrong room" });
  expect(await database().reading.count({ where: { shopId, retractedAt: null } })).toBe(0);
  // the same moment may be read again once the first reading is taken back
  const again = { readingId: newId(), roomId: shop.roomId, at: mondayAt, airCelsius: 20, humidityPercent: 50 };
  await accepted(shop.owner, "record-reading", again);
}, 120_000);
