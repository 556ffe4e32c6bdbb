import { randomBytes } from "node:crypto";
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { dayMs, hourMs } from "~/core/units";
import { sha256 } from "~/data/canonical-json";
import { closeDatabase, database } from "~/data/db";
import {
  accepted,
  freshShop,
  intentOf,
  joined,
  minuteMs,
  newId,
  pieceBody,
  roomBody,
  type TestShop,
} from "../support/database";
import { codeOf, type Person, ShopApi } from "./support/shop-api";

let api: ShopApi;
let shop: TestShop;
let helper: Person;
let secret: string;
beforeEach(async () => {
  api = new ShopApi();
  shop = await freshShop();
  helper = await api.member(shop, "helper");
  secret = randomBytes(20).toString("base64url");
  await enrol(helper, secret);
});
afterEach(() => api.stop());
afterAll(closeDatabase);

const enrol = async (person: Person, words: string) =>
  (await api.as(person)).lastDelivery.enrol({ secretSha256: sha256(words) });
const sendLast = async (intents: unknown[], words = secret) =>
  (await api.as()).lastDelivery.send({ secret: words, intents });

/** The owner ends the helper's membership at this moment. */
async function end(at = api.now): Promise<void> {
  api.now = at;
  await accepted(shop.owner, "end-membership", { memberId: helper.memberId, why: "moved away" }, at);
}

const hours = (startedAt: number, endedAt: number) => ({
  entryId: newId(),
  memberId: helper.memberId,
  startedAt,
  endedAt,
  workKind: "bench",
  subjects: [],
});
const entryOf = (id: string) => database().entry.findFirst({ where: { shopId: shop.shopId, id } });

describe("a device whose member's place has ended", () => {
  test("delivers the hours made before the end, signed in or not, and they wait for the owner's word", async () => {
    const made = api.now;
    const before = hours(made - hourMs, made);
    const queue = [intentOf(helper, "add-entry", before, made)];
    await end(made + hourMs);
    api.now += dayMs;
    expect(await codeOf((await api.as(helper)).door.send({ intents: queue }))).toBe("UNAUTHORIZED");
    const answer = await sendLast(queue);
    expect(answer).toMatchObject({ isOver: false, endedAt: made + hourMs, rulings: [{ verdict: "accepted" }] });
    expect(await entryOf(before.entryId)).toMatchObject({ needsWord: "delivered-after-the-end" });
  });

  test("delivers a coat, a test, a reading and a carry, and the owner answers each", async () => {
    const piece = pieceBody(shop);
    const surfaceId = piece.surfaces[0]?.surfaceId;
    const bench = newId();
    await accepted(shop.owner, "add-piece", piece);
    await accepted(shop.owner, "add-room", { ...roomBody(bench), name: "Bench room" });
    const { pieceId } = piece;
    const [at, readingId, passId, failId] = [api.now + minuteMs, newId(), newId(), newId()];
    const onSurface = { pieceId, subject: { of: "surface", surfaceId }, kind: "thumb-twist" };
    const queue = [
      intentOf(
        helper,
        "record-reading",
        { readingId, roomId: shop.roomId, at, airCelsius: 30, humidityPercent: 20 },
        at,
      ),
      intentOf(helper, "record-test", { testId: passId, ...onSurface, result: "pass" }, at),
      intentOf(helper, "record-test", { testId: failId, ...onSurface, result: "fail" }, at),
      intentOf(helper, "move-room", { pieceId, roomId: bench, carried: "bearers", stance: "done" }, at),
      intentOf(helper, "finish-task", { taskId: newId() }, at),
    ];
    await end(api.now + hourMs);
    const { rulings } = await sendLast(queue);
    expect(rulings.map(({ verdict }) => verdict)).toEqual(["accepted", "accepted", "accepted", "accepted", "refused"]);
    const owner = await api.signIn(shop.owner);
    const waiting = await (await api.as(owner)).people.lateReports();
    expect(waiting.map(({ of, by }) => [of, by])).toEqual(
      ["reading", "test", "test", "carry"].map((of) => [of, helper.memberId]),
    );
    for (const { of, row } of waiting) {
      const said = row.id === failId ? "no" : "yes";
      await accepted(shop.owner, "answer-late", { of, id: row.id, answer: said }, api.now + minuteMs);
    }
    expect(await (await api.as(owner)).people.lateReports()).toEqual([]);
    const tests = await database().test.findMany({ where: { shopId: shop.shopId }, orderBy: { createdSeq: "asc" } });
    expect(tests.map(({ id, takenBackAt, needsWord }) => [id, takenBackAt === null, needsWord])).toEqual([
      [passId, true, null],
      [failId, false, null],
    ]);
    expect(await database().reading.findFirst({ where: { id: readingId } })).toMatchObject({ retractedAt: null });
    expect(await database().piece.findFirst({ where: { id: pieceId } })).toMatchObject({ roomId: bench });
  });

  test("gets the same ruling again where the answer was lost on the way, and the hours count once", async () => {
    const queue = [intentOf(helper, "add-entry", hours(api.now - hourMs, api.now), api.now)];
    await end(api.now + hourMs);
    const [first, second] = [await sendLast(queue), await sendLast(queue)];
    expect(second.rulings).toEqual(first.rulings);
    expect(await database().entry.count({ where: { shopId: shop.shopId } })).toBe(1);
  });

  test("takes and arranges nothing any more, whenever that was made", async () => {
    const piece = pieceBody(shop);
    await accepted(shop.owner, "add-piece", piece);
    const taskId = newId();
    await accepted(shop.owner, "add-task", { taskId, pieceId: piece.pieceId, title: "Strip", sort: "prep" });
    const made = api.now + minuteMs;
    const queue = [
      intentOf(helper, "claim-task", { claimId: newId(), taskId, memberIds: [helper.memberId] }, made),
      intentOf(helper, "edit-member", { memberId: helper.memberId, field: "name", value: "Somebody else" }, made),
      intentOf(helper, "leave", {}, made),
    ];
    const endsAt = api.now + hourMs;
    await end(endsAt);
    const { rulings } = await sendLast(queue);
    expect(rulings).toMatchObject(
      queue.map(() => ({ verdict: "refused", refusal: { kind: "no-longer-a-member", endedAt: endsAt } })),
    );
    expect(await database().claim.count({ where: { shopId: shop.shopId } })).toBe(0);
  });

  test("delivers for its own member and in its own name alone", async () => {
    const other = await joined(shop, "helper");
    const [now, body] = [api.now, hours(api.now - hourMs, api.now)];
    const forAnother = intentOf(other, "add-entry", { ...body, memberId: other.memberId }, now, {
      deviceId: helper.deviceId,
    });
    const onAnother = intentOf(helper, "add-entry", body, now, { deviceId: other.deviceId });
    await end(now + hourMs);
    const { rulings } = await sendLast([forAnother, onAnother]);
    expect(rulings).toMatchObject([
      { verdict: "refused", refusal: { kind: "unknown-thing", field: "memberId" } },
      { verdict: "refused", refusal: { kind: "unknown-thing", field: "deviceId" } },
    ]);
    expect(await database().entry.count({ where: { shopId: shop.shopId } })).toBe(0);
  });

  test("delivers for fourteen days, to the millisecond, and is then told that it is over", async () => {
    const queue = [intentOf(helper, "add-entry", hours(api.now - hourMs, api.now), api.now)];
    await end(api.now + hourMs);
    const untilAt = api.now + 14 * dayMs;
    api.now = untilAt;
    expect(await sendLast(queue)).toMatchObject({ isOver: true, untilAt, rulings: [] });
    api.now = untilAt - 1;
    expect(await sendLast(queue)).toMatchObject({ isOver: false, rulings: [{ verdict: "accepted" }] });
  });

  test("is told no more than the rulings of what it sends", async () => {
    await end();
    expect(Object.keys(await sendLast([])).sort()).toEqual([
      "endedAt",
      "gap",
      "isOver",
      "rulings",
      "serverAt",
      "untilAt",
    ]);
    const asNobody = await api.as();
    for (const asked of [
      asNobody.account.me(),
      asNobody.door.floorEpoch(),
      asNobody.hours.week({}),
      asNobody.notices.mine(),
      asNobody.people.invitations(),
    ]) {
      expect(await codeOf(asked)).toBe("UNAUTHORIZED");
    }
  });
});

describe("a pass", () => {
  test("opens nothing while its member is one: a phone that was taken delivers for nobody", async () => {
    const queue = [intentOf(helper, "add-entry", hours(api.now - hourMs, api.now), api.now)];
    expect(await codeOf(sendLast(queue))).toBe("UNAUTHORIZED");
    expect(await database().entry.count({ where: { shopId: shop.shopId } })).toBe(0);
  });

  test("that was never made known, or was replaced, opens nothing", async () => {
    const newer = randomBytes(20).toString("base64url");
    await enrol(helper, newer);
    await end();
    expect(await codeOf(sendLast([], randomBytes(20).toString("base64url")))).toBe("UNAUTHORIZED");
    expect(await codeOf(sendLast([]))).toBe("UNAUTHORIZED");
    expect(await codeOf(sendLast([], newer))).toBeUndefined();
  });

  test("is made known by a member on their own device: not by a shared tablet, nor by whose place has ended", async () => {
    const owner = await api.signIn(shop.owner);
    await (await api.as(owner)).account.shareTablet();
    expect(await codeOf(enrol(owner, secret))).toBe("FORBIDDEN");
    await end();
    expect(await codeOf(enrol(helper, "another secret, of some length"))).toBe("UNAUTHORIZED");
  });

  test("is known to the shop by its hash alone", async () => {
    const kept = await database().deliveryPass.findFirstOrThrow({ where: { memberId: helper.memberId } });
    expect(kept).toMatchObject({ deviceId: helper.deviceId, secretSha256: sha256(secret) });
    expect(JSON.stringify(kept, (_, value) => (typeof value === "bigint" ? Number(value) : value))).not.toContain(
      secret,
    );
    expect(await codeOf(sendLast([], sha256(secret)))).toBe("UNAUTHORIZED");
  });

  test("made known again by the same device is the same pass", async () => {
    await enrol(helper, secret);
    expect(await database().deliveryPass.count({ where: { memberId: helper.memberId } })).toBe(1);
  });
});
