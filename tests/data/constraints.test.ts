import { afterAll, beforeAll, expect, test } from "vitest";
import { closeDatabase, database } from "~/data/db";
import { accepted, freshShop, joined, mondayAt, newId, pieceBody, type TestShop } from "../support/database";

// The rules refuse all of this long before; the database is the second lock, and here it is tried from behind.

let shop: TestShop;
const body = { pieceId: newId(), taskId: newId(), entryId: newId(), pairId: newId(), readingId: newId() };
let surfaceIds: string[];

beforeAll(async () => {
  shop = await freshShop();
  const piece = pieceBody(shop, body.pieceId);
  surfaceIds = piece.surfaces.map(({ surfaceId }) => surfaceId);
  await accepted(shop.owner, "add-piece", piece);
  const [surfaceA, surfaceB] = surfaceIds;
  await accepted(shop.owner, "set-pairs", { pairs: [{ pairId: body.pairId, surfaceA, surfaceB, sort: "assembled" }] });
  const { taskId, entryId, readingId } = body;
  await accepted(shop.owner, "add-task", { taskId, title: "Scrape", sort: "prep", pieceId: body.pieceId });
  await accepted(shop.owner, "claim-task", { claimId: newId(), taskId, memberIds: [shop.owner.memberId] });
  await accepted(shop.owner, "start-timer", { entryId, workKind: "bench", subjects: [] });
  const air = { airCelsius: 20, humidityPercent: 50 };
  await accepted(shop.owner, "record-reading", { readingId, roomId: shop.roomId, at: mondayAt, ...air });
});
afterAll(closeDatabase);

/** The row that is there, once more under another id. */
const again = (table: string) =>
  `INSERT INTO "${table}" SELECT * FROM jsonb_populate_record(NULL::"${table}", (SELECT to_jsonb(t) FROM "${table}" t
   WHERE "shopId" = $1::uuid LIMIT 1) || jsonb_build_object('id', gen_random_uuid()))`;
const set = (table: string, what: string) => `UPDATE "${table}" SET ${what} WHERE "shopId" = $1::uuid`;

test.each([
  { what: "two live claims on one task", sql: again("claim"), by: "claim_one_live_per_task" },
  { what: "two running timers of one member", sql: again("entry"), by: "entry_one_running_per_member" },
  { what: "two readings of one thermometer at one moment", sql: again("reading"), by: "reading_one_per_source" },
  { what: "a piece in two rooms", sql: again("roomStay"), by: "roomStay_one_open_per_piece" },
  { what: "a number twice", sql: again("piece"), by: "piece_shopId_number_key" },
  { what: "the same two faces as two pairs", sql: again("pair"), by: "pair_once_per_set" },
  { what: "a pair of one surface", sql: set("pair", '"surfaceB" = "surfaceA"'), by: "pair_of_two" },
  { what: "an entry that ends when it starts", sql: set("entry", '"endedAt" = "startedAt"'), by: "entry_order" },
  { what: "less than no rest", sql: set("entry", '"restMin" = -1'), by: "entry_rest" },
  { what: "a share below nothing", sql: set("entry", `"subjects" = '[{"weight":-1}]'`), by: "entry_weights" },
  { what: "air of no humidity", sql: set("reading", '"humidityPercent" = 0.9'), by: "reading_humidity" },
  { what: "air beyond saturation", sql: set("reading", '"humidityPercent" = 100.1'), by: "reading_humidity" },
  { what: "air at 60.1 °C", sql: set("reading", '"airCelsius" = 60.1'), by: "reading_air" },
  { what: "air at −40.1 °C", sql: set("reading", '"airCelsius" = -40.1'), by: "reading_air" },
  { what: "a stay that ends before it begins", sql: set("roomStay", '"toAt" = "fromAt" - 1'), by: "roomStay_order" },
  {
    what: "a claim that ends before it begins",
    sql: set("claim", `"endedAt" = "claimedAt" - 1, ending = 'released'`),
    by: "claim_order",
  },
  { what: "a claim that ended without how", sql: set("claim", '"endedAt" = "claimedAt"'), by: "claim_ending" },
  {
    what: "a claim of three",
    sql: set("claim", '"memberIds" = "memberIds" || "memberIds" || "memberIds"'),
    by: "claim_people",
  },
  { what: "a wait of less than nothing", sql: set("task", '"waitsMin" = -5'), by: "task_durations" },
  { what: "a day that is none", sql: set("piece", `"acquiredOn" = 'last week'`), by: "piece_acquired_day" },
  { what: "a surface of no size", sql: set("surface", '"squareDecimetres" = 0'), by: "surface_area" },
  { what: "a weekday eight", sql: set("shop", '"weekStartsOn" = 8'), by: "shop_week_start" },
])("the database refuses $what", async ({ sql, by }) => {
  await expect(database().$executeRawUnsafe(sql, shop.shopId)).rejects.toThrow(by);
});

const coat = (position: number, applied: object | null) => ({
  sql: `INSERT INTO coat ("shopId", id, "pieceId", "surfaceId", position, "sheetId", state, applied, "createdSeq", "changedSeq")
    VALUES ($1::uuid, gen_random_uuid(), $2::uuid, $3::uuid, ${position}, gen_random_uuid(), 'planned', $4::jsonb, 1, 1)`,
  applied: applied && JSON.stringify(applied),
});

test.each([
  { what: "coat 0", ...coat(0, null), by: "coat_position" },
  { what: "coat 41", ...coat(41, null), by: "coat_position" },
  { what: "a coat that ended before it began", ...coat(1, { startedAt: 2, endedAt: 1 }), by: "coat_order" },
  {
    what: "a coat of a sheet that is not there",
    ...coat(1, { startedAt: 1, endedAt: 1 }),
    by: "coat_shopId_sheetId_fkey",
  },
])("the database refuses $what", async ({ sql, applied, by }) => {
  const inserted = database().$executeRawUnsafe(sql, shop.shopId, body.pieceId, surfaceIds[0], applied);
  await expect(inserted).rejects.toThrow(by);
});

test("the database refuses a second live promise of one sort for a piece", async () => {
  const promise = { shopId: shop.shopId, pieceId: body.pieceId, sort: "delivery", dueAt: mondayAt, isWholeDay: true };
  const more = { toWhom: "buyer", state: "made", isKnowinglyEarly: false, createdSeq: 1, changedSeq: 1 };
  const make = () => database().promise.create({ data: { id: newId(), ...promise, ...more } });
  await make();
  await expect(make()).rejects.toThrow("Unique constraint");
});

test("the database refuses to name a room, board or member of another shop", async () => {
  const other = await freshShop();
  const helper = await joined(other, "helper");
  for (const [table, column, id] of [
    ["piece", "roomId", other.roomId],
    ["piece", "boardId", other.boardId],
    ["entry", "memberId", helper.memberId],
  ]) {
    const named = database().$executeRawUnsafe(set(table as string, `"${column}" = '${id}'`), shop.shopId);
    await expect(named).rejects.toThrow("fkey");
  }
});
