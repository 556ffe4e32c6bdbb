import fc from "fast-check";
import { afterAll, expect, test } from "vitest";
import { mayBeTakenBack } from "~/core/shop/ways-back";
import { closeDatabase, database } from "~/data/db";
import { differences, replay, storedRows } from "~/data/replay";
import { deliver, freshShop, intentOf, joined, minuteMs, mondayAt } from "../support/database";
import { historyOf, intentOfStep, step } from "../support/histories";

afterAll(closeDatabase);

test("whatever the shop does, its ledger replayed from nothing gives exactly the rows that are stored", async () => {
  const verdictsByKind = new Map<string, Set<string>>();
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 60, maxLength: 90, size: "max" }), async (steps) => {
      const shop = await freshShop();
      const history = historyOf(shop, [shop.owner, await joined(shop, "partner"), await joined(shop, "helper")]);
      let at = mondayAt;
      for (const s of steps) {
        at += s.laterMin * minuteMs;
        const { hand, kind, body } = intentOfStep(history, s, at);
        const intent = intentOf(hand, kind, body, at);
        const { failed, rulings } = await deliver(hand, [intent], at);
        if (failed[0]) throw failed[0].error;
        if (mayBeTakenBack(kind) && rulings[0]?.seq) history.done.push({ intentId: intent.intentId, hand });
        verdictsByKind.set(kind, (verdictsByKind.get(kind) ?? new Set()).add(rulings[0]?.verdict ?? "none"));
      }
      expect(differences(await replay(shop.shopId), await storedRows(shop.shopId))).toEqual([]);
      const entries = await database().ledgerEntry.findMany({
        where: { shopId: shop.shopId },
        orderBy: { seq: "asc" },
      });
      expect(entries.map(({ seq }) => seq)).toEqual(entries.map((_, index) => index + 1));
    }),
    { numRuns: 12, seed: 20261026, endOnFailure: true },
  );
  // a history in which everything is refused would prove nothing
  const landed = [...verdictsByKind].filter(([, verdicts]) => verdicts.has("accepted")).map(([kind]) => kind);
  expect(landed.length, `accepted at least once: ${landed.join(", ")}`).toBeGreaterThanOrEqual(34);
  expect(landed).toContain("take-back");
}, 240_000);

test("a row that was changed behind the ledger's back is found", async () => {
  const shop = await freshShop();
  await database().room.updateMany({ where: { shopId: shop.shopId }, data: { gapLimitMin: 60 } });
  expect(differences(await replay(shop.shopId), await storedRows(shop.shopId))).toMatchObject([
    { table: "room", id: shop.roomId, replayed: { gapLimitMin: 180 }, stored: { gapLimitMin: 60 } },
  ]);
});
