import { afterAll, afterEach, beforeEach, expect, test } from "vitest";
import { roomAir } from "~/core/climate/history";
import type { checkpointOf } from "~/core/cure/checkpoint";
import type { LaidCoat } from "~/core/cure/picture";
import { creditMin, filmOf } from "~/core/cure/progress";
import { type AirDay, unpackAir } from "~/core/shop/floor";
import { pictureOf } from "~/core/shop/picture";
import { closeDatabase, database } from "~/data/db";
import { storedRows } from "~/data/replay";
import { inventedAir, recordInventedReadings, sensorName } from "../../server/sensor";
import { freshShop, mondayAt, newId, pieceBody, type TestShop } from "../support/database";
import type { Phone } from "./support/phone";
import { ShopServer } from "./support/shop-server";

const hourMs = 3_600_000;
const dayMs = 24 * hourMs;
let server: ShopServer;
let shop: TestShop;
beforeEach(async () => {
  server = await ShopServer.start();
  shop = await freshShop();
});
afterEach(() => server.stop());
afterAll(closeDatabase);

/** A logger reads every hour, to the end of a day; a wave of two degrees a day. */
async function readFor(days: number): Promise<void> {
  const until = server.now + days * dayMs;
  while (server.now < until) {
    const readings = Array.from({ length: 24 }, (_, hour): [string, unknown] => {
      const at = server.now + (hour + 1) * hourMs;
      const airCelsius = Math.round((19 + 2 * Math.sin(at / dayMs)) * 10) / 10;
      const body = { readingId: newId(at), roomId: shop.roomId, at, airCelsius, humidityPercent: 50, source: "logger" };
      return ["record-reading", body];
    });
    server.now += dayMs;
    await server.accepted(shop.owner, ...readings);
  }
}

/** The readings that a device has of the room. */
const carried = (phone: Phone) =>
  [...phone.doc.getMap("air").values()]
    .flatMap((day) => unpackAir(shop.roomId, day as AirDay))
    .sort((one, other) => one.at - other.at);

const airFromAt = (phone: Phone) => phone.doc.getMap("meta").get("airFromAt") as number;

async function layCoat(): Promise<string> {
  const piece = pieceBody(shop);
  const [productId, sheetId, coatId] = [newId(), newId(), newId()];
  const surfaceId = piece.surfaces[0]?.surfaceId;
  await server.accepted(
    shop.owner,
    ["add-piece", { ...piece, stage: "finish", isPainted: "no" }],
    ["add-product", { productId, sheetId, name: "Sage paint", family: "water-borne-paint" }],
    [
      "log-coat",
      {
        coatId,
        surfaceId,
        sheetId,
        startedAt: server.now - 600_000,
        endedAt: server.now,
        by: [shop.owner.memberId],
        roomId: shop.roomId,
        stance: "done",
      },
    ],
  );
  return coatId;
}

test("the floor carries a fortnight of air, and moves on with the days without a word from anybody", async () => {
  await readFor(3);
  const phone = await server.floor(shop.owner);
  expect(carried(phone)).toHaveLength(72);
  await readFor(14);
  const before = airFromAt(phone);
  server.now += dayMs;
  await phone.until(() => airFromAt(phone) > before);
  expect(airFromAt(phone) - before).toBe(dayMs);
  const [first, second] = carried(phone);
  expect(first?.at).toBeLessThan(airFromAt(phone));
  expect(second?.at).toBeGreaterThanOrEqual(airFromAt(phone));
  expect(carried(phone).length).toBeGreaterThan(12 * 24);
  expect(carried(phone).length).toBeLessThanOrEqual(14 * 24 + 1);
});

test("a retracted reading leaves the floor, and a late one from before the window is not lost on its films", async () => {
  await readFor(1);
  const phone = await server.floor(shop.owner);
  const readingId = newId();
  const at = server.now - 30 * 60_000;
  const body = { readingId, roomId: shop.roomId, at, airCelsius: 3, humidityPercent: 90, source: "hand" };
  await server.accepted(shop.owner, ["record-reading", body]);
  await phone.until(() => carried(phone).some(({ airCelsius }) => airCelsius === 3));
  await server.accepted(shop.owner, ["retract-reading", { readingId, why: "the thermometer lay in the snow" }]);
  await phone.until(() => !carried(phone).some(({ airCelsius }) => airCelsius === 3));
});

test("a device answers for a film from before the window like the server, to a minute's millionth", async () => {
  server.now += hourMs;
  const coatId = await layCoat();
  await readFor(20);
  const phone = await server.floor(shop.owner);
  // the last day may just have begun, and its window with it
  await phone.until(() => phone.doc.getMap("checkpoint").has(coatId));
  const checkpoint = phone.doc.getMap("checkpoint").get(coatId) as ReturnType<typeof checkpointOf>;
  expect(checkpoint.at).toBe(airFromAt(phone));
  expect(checkpoint.safeMin).toBeGreaterThan(0);

  const facts = await storedRows(shop.shopId);
  const coat = facts.get("coat", coatId) as LaidCoat;
  const whole = pictureOf(facts, coat.pieceId);
  const room = facts.get("room", shop.roomId);
  if (!whole || !room) throw new Error("the piece is gone");
  const onDevice = {
    ...whole,
    airByRoomId: new Map([[room.id, roomAir(carried(phone), room)]]),
    checkpointByCoatId: new Map([[coatId, checkpoint]]),
  };
  for (const track of ["safe", "likely", "fast"] as const) {
    const here = creditMin(filmOf(onDevice, coat, server.now), track, server.now);
    const there = creditMin(filmOf(whole, coat, server.now), track, server.now);
    expect(Math.abs(here - there)).toBeLessThan(1e-6);
    expect(there).toBeGreaterThan(checkpoint.safeMin);
  }
});

test("the invented sensor reads every room that is read, through the door, and says what it is", async () => {
  const phone = await server.floor(shop.owner);
  server.now += 10 * 60_000;
  await recordInventedReadings(server.hub, shop.shopId, server.now);
  server.now += 10 * 60_000;
  await recordInventedReadings(server.hub, shop.shopId, server.now);
  await phone.until(() => carried(phone).length === 2);
  expect(await database().device.count({ where: { shopId: shop.shopId, name: sensorName } })).toBe(1);
  expect(carried(phone).at(-1)).toMatchObject({
    at: server.now,
    ...inventedAir({ usualCelsius: 20, usualHumidityPercent: 50 }, server.now),
  });
});

test("invented air is within two degrees of the usual at any hour", () => {
  for (let at = mondayAt; at < mondayAt + dayMs; at += hourMs) {
    const { airCelsius } = inventedAir({ usualCelsius: 18, usualHumidityPercent: 50 }, at);
    expect(Math.abs(airCelsius - 18)).toBeLessThan(2);
  }
});
