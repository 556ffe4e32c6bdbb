import fc from "fast-check";
import { afterAll, expect, test } from "vitest";
import { closeDatabase, database } from "~/data/db";
import { differences, replay, storedRows } from "~/data/replay";
import { deliver, freshShop, type Hand, intentOf, joined, minuteMs, mondayAt, newId, pieceBody, roomBody } from "../support/database";

afterAll(closeDatabase);

/** What exists, or nearly: an intent names one of the first few things of its sort, made or refused. */
type Named = { pieceIds: string[]; taskIds: string[]; entryIds: string[]; roomIds: string[]; surfaceIds: string[]; sheetIds: string[]; coatIds: string[] };

/** One step of a history: who, what, on which of the things so far, how many minutes later. */
const step = fc.record({
  who: fc.nat({ max: 2 }),
  what: fc.nat(),
  which: fc.nat({ max: 5 }),
  other: fc.nat({ max: 5 }),
  later: fc.nat({ max: 240 }),
  back: fc.nat({ max: 90 }),
  amount: fc.nat({ max: 500 }),
});
type Step = typeof step extends fc.Arbitrary<infer Value> ? Value : never;

const pick = (ids: string[], which: number) => ids[which % Math.max(ids.length, 1)] ?? newId();
const keep = (ids: string[], id = newId()) => {
  ids.push(id);
  return id;
};

const makers: ((s: Step, n: Named, shop: Parameters<typeof pieceBody>[0], hands: Hand[], at: number) => [string, object])[] = [
  (_, n, shop) => {
    const body = pieceBody(shop, keep(n.pieceIds));
    for (const { surfaceId } of body.surfaces) n.surfaceIds.push(surfaceId);
    return ["add-piece", body];
  },
  (s, n) => ["add-piece", { pieceId: keep(n.pieceIds), number: "K-1", boardId: pick([], 0), name: "x", roomId: pick(n.roomIds, s.which) }],
  (s, n) => ["edit-piece", { pieceId: pick(n.pieceIds, s.which), field: "name", was: "Oak dresser", value: `Dresser ${s.amount}` }],
  (s, n) => ["add-task", { taskId: keep(n.taskIds), pieceId: pick(n.pieceIds, s.which), title: "Scrape", sort: "prep" }],
  (s, n) => ["add-task", { taskId: keep(n.taskIds), title: "Sweep", sort: "other", after: [pick(n.taskIds, s.other)] }],
  (s, n, _, hands) => ["claim-task", { claimId: newId(), taskId: pick(n.taskIds, s.which), memberIds: [hands[s.who]?.memberId] }],
  (s, n, _, hands) => ["hand-over-claim", { claimId: newId(), taskId: pick(n.taskIds, s.which), toMemberId: hands[s.other % 3]?.memberId }],
  (s, n) => ["release-task", { taskId: pick(n.taskIds, s.which), note: "back later" }],
  (s, n) => ["end-claim", { taskId: pick(n.taskIds, s.which), why: "needed today" }],
  (s, n) => ["finish-task", { taskId: pick(n.taskIds, s.which) }],
  (s, n) => ["set-aside-task", { taskId: pick(n.taskIds, s.which), why: "not worth it" }],
  (s, n) => ["reopen-task", { taskId: pick(n.taskIds, s.which), why: "it came loose" }],
  (s, n) => [
    "start-timer",
    { entryId: keep(n.entryIds), workKind: "bench", subjects: s.amount % 2 ? [{ pieceId: pick(n.pieceIds, s.which), taskId: pick(n.taskIds, s.other) }] : [] },
  ],
  (s, n) => ["stop-timer", { entryId: pick(n.entryIds, s.which), restMin: s.amount % 30 }],
  (s, n, _, hands, at) => [
    "write-entry",
    { entryId: keep(n.entryIds), memberId: hands[s.who]?.memberId, startedAt: at - (s.amount + 1) * minuteMs, endedAt: at, workKind: "van", subjects: [] },
  ],
  (s, n) => ["correct-entry", { entryId: pick(n.entryIds, s.which), restMin: s.amount % 40, why: "forgot the lunch" }],
  (_, n) => ["add-room", roomBody(keep(n.roomIds))],
  (s, n, _, __, at) => [
    "record-reading",
    { readingId: newId(), roomId: pick(n.roomIds, s.which), at: at - s.back * minuteMs, airCelsius: s.amount / 10, humidityPercent: 1 + (s.amount % 990) / 10 },
  ],
  (s, n, _, __, at) => [
    "import-readings",
    { roomId: pick(n.roomIds, s.which), at: [0, 1, 2].map((row) => at - (300 - row) * minuteMs), airTenths: [180, 181, 182], humidityTenths: [500, s.amount + 10, 510] },
  ],
  (s, n) => ["move-room", { pieceId: pick(n.pieceIds, s.which), roomId: pick(n.roomIds, s.other), carried: "bearers", stance: s.amount % 2 ? "done" : "asking" }],
  (s, n) => ["move-stage", { pieceId: pick(n.pieceIds, s.which), to: ["repair", "prep", "finish"][s.other % 3], stance: "done" }],
  (s, n) => ["set-pairs", { pairs: [{ pairId: newId(), surfaceA: pick(n.surfaceIds, s.which), surfaceB: pick(n.surfaceIds, s.other), sort: "stacked" }] }],
  (s, n, _, hands) => ["change-role", { memberId: hands[s.other % 3]?.memberId, role: s.amount % 2 ? "partner" : "helper" }],
  (s) => ["set-shop", { key: "leaseMin", was: 4320, value: 1440 + s.amount }],
  (s, n) => ["archive-piece", { pieceId: pick(n.pieceIds, s.which), how: "used-for-parts", why: "woodworm" }],
];

test("whatever the shop does, its ledger replayed from nothing gives exactly the rows that are stored", async () => {
  const kinds = new Map<string, Set<string>>();
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 20, maxLength: 60 }), async (steps) => {
      const shop = await freshShop();
      const hands = [shop.owner, await joined(shop, "partner"), await joined(shop, "helper")];
      const named: Named = { pieceIds: [], taskIds: [], entryIds: [], roomIds: [shop.roomId], surfaceIds: [], sheetIds: [], coatIds: [] };
      let at = mondayAt;
      for (const s of steps) {
        at += s.later * minuteMs;
        const hand = hands[s.who] as Hand;
        const maker = makers[s.what % makers.length] as (typeof makers)[number];
        const [kind, body] = maker(s, named, shop, hands, at);
        const { failed, rulings } = await deliver(hand, [intentOf(hand, kind, body, at)], at);
        if (failed[0]) throw failed[0].error;
        kinds.set(kind, (kinds.get(kind) ?? new Set()).add(rulings[0]?.verdict ?? "none"));
      }
      expect(differences(await replay(shop.shopId), await storedRows(shop.shopId))).toEqual([]);
      const entries = await database().ledgerEntry.findMany({ where: { shopId: shop.shopId }, orderBy: { seq: "asc" } });
      expect(entries.map(({ seq }) => seq)).toEqual(entries.map((_, index) => index + 1));
    }),
    { numRuns: 15, seed: 20261026, endOnFailure: true },
  );
  // a history in which everything is refused would prove nothing
  const landed = [...kinds].filter(([, verdicts]) => verdicts.has("accepted")).map(([kind]) => kind);
  expect(landed.length, `of ${[...kinds.keys()]}, accepted: ${landed}`).toBeGreaterThan(15);
}, 240_000);

test("a row that was changed behind the ledger's back is found", async () => {
  const shop = await freshShop();
  await database().room.updateMany({ where: { shopId: shop.shopId }, data: { gapLimitMin: 60 } });
  expect(differences(await replay(shop.shopId), await storedRows(shop.shopId))).toMatchObject([
    { table: "room", id: shop.roomId, replayed: { gapLimitMin: 180 }, stored: { gapLimitMin: 60 } },
  ]);
});
