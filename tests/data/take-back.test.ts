import { afterAll, expect, test } from "vitest";
import { closeDatabase, database } from "~/data/db";
import { ownActs } from "~/data/own-acts";
import { differences, replay, storedRows } from "~/data/replay";
import {
  accepted,
  ask,
  deliver,
  freshShop,
  intentOf,
  joined,
  minuteMs,
  mondayAt,
  newId,
  pieceBody,
} from "../support/database";

afterAll(closeDatabase);

/** A shop with a piece whose top may be oiled; everybody in it. */
async function shopWithOil() {
  const shop = await freshShop();
  const [partner, piece, sheetId] = [await joined(shop, "partner"), pieceBody(shop), newId()];
  await accepted(shop.owner, "add-piece", piece);
  const product = { productId: newId(), sheetId, name: "Wiping oil", family: "oil-varnish" };
  await accepted(shop.owner, "add-product", product);
  const coat = (coatId: string, surface: 0 | 1 = 0) => ({
    coatId,
    surfaceId: piece.surfaces[surface]?.surfaceId,
    sheetId,
    startedAt: mondayAt,
    endedAt: mondayAt,
    by: [partner.memberId],
    roomId: shop.roomId,
    stance: "done",
  });
  return { shop, partner, piece, coat };
}

const rowsOf = async (shopId: string) => differences(await storedRows(shopId), await replay(shopId));

test("a coat that was logged by mistake is gone from the rows, both stand in the ledger, and a replay agrees", async () => {
  const { shop, partner, coat } = await shopWithOil();
  const [before, coatId] = [await storedRows(shop.shopId), newId()];
  const logged = intentOf(partner, "log-coat", coat(coatId));
  expect((await deliver(partner, [logged])).rulings).toMatchObject([{ verdict: "accepted" }]);
  expect(await database().task.count({ where: { shopId: shop.shopId, coatId } })).toBe(1);
  await accepted(partner, "take-back", { intentId: logged.intentId }, mondayAt + minuteMs);
  expect(differences(before, await storedRows(shop.shopId))).toEqual([]);
  expect(await rowsOf(shop.shopId)).toEqual([]);
  const last = await database().ledgerEntry.findMany({
    where: { shopId: shop.shopId },
    orderBy: { seq: "desc" },
    take: 2,
  });
  expect(last.map(({ kind }) => kind)).toEqual(["take-back", "log-coat"]);
  // its id is free again: it never was
  await accepted(partner, "log-coat", coat(coatId), mondayAt + 2 * minuteMs);
  expect(await rowsOf(shop.shopId)).toEqual([]);
});

test("done and taken back in one delivery, with a coat of the same id laid after it, is as one by one", async () => {
  const { shop, partner, coat } = await shopWithOil();
  const coatId = newId();
  const first = intentOf(partner, "log-coat", coat(coatId, 1));
  const { rulings, failed } = await deliver(partner, [
    first,
    intentOf(partner, "take-back", { intentId: first.intentId }),
    intentOf(partner, "log-coat", coat(coatId)),
  ]);
  expect(failed).toEqual([]);
  expect(rulings.map(({ verdict }) => verdict)).toEqual(["accepted", "accepted", "accepted"]);
  expect(await rowsOf(shop.shopId)).toEqual([]);
  expect(await database().coat.findFirst({ where: { shopId: shop.shopId, id: coatId } })).toMatchObject({
    surfaceId: coat(coatId).surfaceId,
  });
});

test("sent again, a taking back has the same answer and happens once; asked anew, it is so already", async () => {
  const { shop, partner, coat } = await shopWithOil();
  const logged = intentOf(partner, "log-coat", coat(newId()));
  await deliver(partner, [logged]);
  const back = intentOf(partner, "take-back", { intentId: logged.intentId });
  const [one, two] = [await deliver(partner, [back]), await deliver(partner, [back])];
  expect(two.rulings).toEqual(one.rulings);
  expect(two.rowsAfter).toEqual([]);
  const again = await accepted(partner, "take-back", { intentId: logged.intentId });
  expect(again.seq).toBeUndefined();
  expect(await database().ledgerEntry.count({ where: { shopId: shop.shopId, kind: "take-back" } })).toBe(1);
});

test("what somebody built on it meanwhile is named, also when both arrive in the same breath", async () => {
  const { shop, partner, coat } = await shopWithOil();
  const coatId = newId();
  const logged = intentOf(partner, "log-coat", coat(coatId));
  await deliver(partner, [logged]);
  const flaw = intentOf(shop.owner, "report-flaw", { coatId, cause: "dust" }, mondayAt + minuteMs);
  await deliver(shop.owner, [flaw], mondayAt + minuteMs);
  const answer = await ask(partner, "take-back", { intentId: logged.intentId }, mondayAt + 2 * minuteMs);
  expect(answer).toMatchObject({
    verdict: "refused",
    refusal: {
      kind: "something-rests-on-it",
      itsKind: "log-coat",
      intentIds: [flaw.intentId],
      resting: [{ kind: "report-flaw", byMemberId: shop.owner.memberId, at: mondayAt + minuteMs }],
    },
  });
});

test("somebody else's repeat of it, which left no entry, is found and named", async () => {
  const { shop, partner, coat } = await shopWithOil();
  const coatId = newId();
  await accepted(partner, "log-coat", coat(coatId));
  const wiped = intentOf(partner, "log-wiped", { coatId }, mondayAt + minuteMs);
  await deliver(partner, [wiped], mondayAt + minuteMs);
  const repeat = intentOf(shop.owner, "log-wiped", { coatId }, mondayAt + 2 * minuteMs);
  const { rulings } = await deliver(shop.owner, [repeat], mondayAt + 2 * minuteMs);
  expect(rulings[0]?.seq).toBeUndefined();
  const answer = await ask(partner, "take-back", { intentId: wiped.intentId }, mondayAt + 3 * minuteMs);
  expect(answer).toMatchObject({ refusal: { kind: "something-rests-on-it", intentIds: [repeat.intentId] } });
});

test("another member's act, and an act that was refused, are not there to be taken back", async () => {
  const { shop, partner, coat } = await shopWithOil();
  const logged = intentOf(partner, "log-coat", coat(newId()));
  await deliver(partner, [logged]);
  expect(await ask(shop.owner, "take-back", { intentId: logged.intentId })).toMatchObject({
    refusal: { kind: "may-not" },
  });
  const nothing = intentOf(partner, "log-wiped", { coatId: newId() });
  await deliver(partner, [nothing]);
  expect(await ask(partner, "take-back", { intentId: nothing.intentId })).toMatchObject({
    verdict: "refused",
    refusal: { kind: "rests-on-refused", intentId: nothing.intentId, itsKind: "log-wiped" },
  });
});

test("a member is shown what of their last day may be taken back, what stays and why, and what is no more", async () => {
  const { shop, partner, coat } = await shopWithOil();
  const { shopId } = shop;
  const [open, held] = [newId(), newId()];
  const logged = [coat(open), coat(held, 1)].map((body) => intentOf(partner, "log-coat", body));
  const wiped = intentOf(partner, "log-wiped", { coatId: open }, mondayAt + minuteMs);
  await deliver(partner, [...logged, wiped], mondayAt + minuteMs);
  await accepted(partner, "take-back", { intentId: wiped.intentId }, mondayAt + 2 * minuteMs);
  await accepted(shop.owner, "report-flaw", { coatId: held, cause: "run" }, mondayAt + 3 * minuteMs);
  const ofPartner = { shopId, memberId: partner.memberId };
  const shown = await ownActs({ ...ofPartner, now: mondayAt + 4 * minuteMs });
  expect(shown.map(({ kind, takingBack }) => [kind, takingBack.state])).toEqual([
    ["log-wiped", "taken-back"],
    ["log-coat", "hindered"],
    ["log-coat", "open"],
  ]);
  expect(shown[1]?.takingBack).toMatchObject({ refusal: { resting: [{ kind: "report-flaw" }] } });
  expect(await ownActs({ ...ofPartner, now: mondayAt + 25 * 60 * minuteMs })).toEqual([]);
});
