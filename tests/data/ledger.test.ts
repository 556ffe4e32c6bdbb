import { afterAll, describe, expect, test } from "vitest";
import { closeDatabase, database } from "~/data/db";
import { isPassing } from "~/data/faults";
import { commitBatch, commitBatches, commitEntrance } from "~/data/ledger";
import { LedgerPage } from "~/data/ledger-page";
import { differences, replay, storedRows } from "~/data/replay";
import * as support from "../support/database";

const { accepted, ask, deliver, freshShop, intentOf, joined, mondayAt, newId, pieceBody } = support;

afterAll(closeDatabase);

const seqsOf = async (shopId: string) =>
  (await database().ledgerEntry.findMany({ where: { shopId }, orderBy: { seq: "asc" } })).map(({ seq }) => seq);
const upTo = (last: number) => Array.from({ length: last }, (_, index) => index + 1);

describe("one answer for one intent", () => {
  test("an intent that is sent twice gets its first ruling word for word, and happens once", async () => {
    const shop = await freshShop();
    const envelope = intentOf(shop.owner, "add-piece", pieceBody(shop));
    const first = await deliver(shop.owner, [envelope]);
    const second = await deliver(shop.owner, [envelope, envelope], mondayAt + 3_600_000);
    expect(second.rulings).toEqual([first.rulings[0], first.rulings[0]]);
    expect(second.rowsAfter).toEqual([]);
    expect(await database().piece.count({ where: { shopId: shop.shopId } })).toBe(1);
  });

  test("a refusal, too, is given again word for word when the shop has changed since", async () => {
    const shop = await freshShop();
    const taskId = newId();
    const early = intentOf(shop.owner, "claim-task", { claimId: newId(), taskId, memberIds: [shop.owner.memberId] });
    const first = await deliver(shop.owner, [early]);
    expect(first.rulings[0]).toMatchObject({ verdict: "refused", refusal: { kind: "unknown-thing" } });
    await accepted(shop.owner, "add-task", { taskId, title: "Scrape", sort: "prep" });
    expect((await deliver(shop.owner, [early])).rulings).toEqual(first.rulings);
  });

  test("another body under a used id is refused as altered, and the first stands", async () => {
    const shop = await freshShop();
    const body = pieceBody(shop);
    const envelope = intentOf(shop.owner, "add-piece", body);
    await deliver(shop.owner, [envelope]);
    const altered = await deliver(shop.owner, [{ ...envelope, body: { ...body, name: "Teak dresser" } }]);
    expect(altered.rulings[0]).toMatchObject({ verdict: "refused", refusal: { kind: "intent-altered" } });
    expect(await database().piece.findFirst({ where: { shopId: shop.shopId } })).toMatchObject({ name: "Oak dresser" });
    const again = await deliver(shop.owner, [envelope]);
    expect(again.rulings[0]?.verdict).toBe("accepted");
  });

  test("keys in another order are the same body", async () => {
    const shop = await freshShop();
    const envelope = intentOf(shop.owner, "add-board", { boardId: newId(), name: "Market" });
    const first = await deliver(shop.owner, [envelope]);
    const { boardId, name } = envelope.body as { boardId: string; name: string };
    expect((await deliver(shop.owner, [{ ...envelope, body: { name, boardId } }])).rulings).toEqual(first.rulings);
  });
});

describe("a device's queue", () => {
  test("a gap stops the queue where it is and says from where to send again", async () => {
    const shop = await freshShop();
    const [one, lost, three] = [1, 2, 3].map(() => intentOf(shop.owner, "add-board", { boardId: newId(), name: "B" }));
    const outcome = await deliver(shop.owner, [one, three]);
    expect(outcome.rulings).toHaveLength(1);
    expect(outcome.gap).toEqual({ memberId: shop.owner.memberId, resendFrom: lost?.deviceSeq });
    const resent = await deliver(shop.owner, [lost, three]);
    expect(resent.rulings.map(({ verdict }) => verdict)).toEqual(["accepted", "accepted"]);
  });

  test("one refusal does not stop what is behind it", async () => {
    const shop = await freshShop();
    const outcome = await deliver(shop.owner, [
      intentOf(shop.owner, "no-such-thing", {}),
      intentOf(shop.owner, "add-board", { boardId: newId(), name: "Market" }),
    ]);
    expect(outcome.rulings.map(({ verdict }) => verdict)).toEqual(["refused", "accepted"]);
  });

  test("an envelope without an id is refused and leaves nothing behind", async () => {
    const shop = await freshShop();
    const rulings = await database().ruling.count({ where: { shopId: shop.shopId } });
    const outcome = await deliver(shop.owner, [{ kind: "add-board" }, null, 7]);
    expect(outcome.rulings.map(({ verdict }) => verdict)).toEqual(["refused", "refused", "refused"]);
    expect(await database().ruling.count({ where: { shopId: shop.shopId } })).toBe(rulings);
  });

  test("an unreadable envelope with a label is refused for good, and the queue goes on behind it", async () => {
    const shop = await freshShop();
    const unreadable = { ...intentOf(shop.owner, "add-board", {}), deviceAt: "yesterday" };
    const next = intentOf(shop.owner, "add-board", { boardId: newId(), name: "Market" });
    const outcome = await deliver(shop.owner, [unreadable, next]);
    expect(outcome.rulings[0]).toMatchObject({ verdict: "refused", refusal: { kind: "malformed", field: "deviceAt" } });
    expect(outcome.rulings[1]?.verdict).toBe("accepted");
    expect((await deliver(shop.owner, [unreadable])).rulings[0]).toEqual(outcome.rulings[0]);
  });

  test("what rests on a refused making is refused with its reason, and again when it rests on that", async () => {
    const shop = await freshShop();
    const [pieceId, taskId] = [newId(), newId()];
    const making = intentOf(shop.owner, "add-piece", { ...pieceBody(shop, pieceId), roomId: newId() });
    const outcome = await deliver(shop.owner, [
      making,
      intentOf(shop.owner, "add-task", { taskId, pieceId, title: "Scrape", sort: "prep" }),
      intentOf(shop.owner, "claim-task", { claimId: newId(), taskId, memberIds: [shop.owner.memberId] }),
    ]);
    const because = { kind: "rests-on-refused", intentId: making.intentId, itsKind: "add-piece" };
    expect(outcome.rulings.map((ruling) => ruling.verdict === "refused" && ruling.refusal)).toEqual([
      { kind: "unknown-thing", field: "roomId" },
      because,
      because,
    ]);
    await accepted(shop.owner, "add-piece", pieceBody(shop, pieceId));
    await accepted(shop.owner, "add-task", { taskId, pieceId, title: "Scrape", sort: "prep" });
  });

  test("nobody delivers for another member, nor for another device", async () => {
    const shop = await freshShop();
    const helper = await joined(shop, "helper");
    const body = { boardId: newId(), name: "Market" };
    const forged = { ...intentOf(helper, "add-board", body), memberId: shop.owner.memberId };
    const elsewhere = { ...intentOf(helper, "add-board", body), deviceId: shop.owner.deviceId };
    const outcome = await deliver(helper, [forged, elsewhere]);
    expect(outcome.rulings.map((ruling) => ruling.verdict === "refused" && ruling.refusal)).toEqual([
      { kind: "unknown-thing", field: "memberId" },
      { kind: "unknown-thing", field: "deviceId" },
    ]);
    expect(await database().board.count({ where: { shopId: shop.shopId } })).toBe(1);
  });

  test("a shared tablet delivers for each member who picks themselves, and counts their queues apart", async () => {
    const shop = await freshShop();
    const helper = await joined(shop, "helper");
    const tablet = newId();
    await database().device.create({
      data: { shopId: shop.shopId, id: tablet, name: "tablet", lastHeardAt: mondayAt },
    });
    const session = { deviceId: tablet, isSharedTablet: true };
    const envelopes = [shop.owner, helper].map(({ memberId }) => ({
      ...intentOf({ ...helper, memberId, deviceSeq: 0 }, "add-piece", pieceBody(shop)),
      deviceId: tablet,
    }));
    const outcome = await commitBatch({ shopId: shop.shopId, envelopes, session, now: mondayAt });
    expect(outcome.rulings.map(({ verdict }) => verdict)).toEqual(["accepted", "accepted"]);
    const stranger = {
      ...intentOf({ ...helper, memberId: newId(), deviceSeq: 0 }, "add-piece", pieceBody(shop)),
      deviceId: tablet,
    };
    const refused = await commitBatch({ shopId: shop.shopId, envelopes: [stranger], session, now: mondayAt });
    expect(refused.rulings[0]).toMatchObject({ refusal: { kind: "unknown-thing", field: "memberId" } });
  });
});

describe("shops stay apart", () => {
  test("the id of another shop's room, board or task is the id of nothing here", async () => {
    const [mine, theirs] = [await freshShop(), await freshShop()];
    const taskId = newId();
    await accepted(theirs.owner, "add-task", { taskId, title: "Scrape", sort: "prep" });
    const claim = { claimId: newId(), taskId, memberIds: [mine.owner.memberId] };
    const inTheirRoom = { ...pieceBody(mine), roomId: theirs.roomId };
    const onTheirBoard = { ...pieceBody(mine), boardId: theirs.boardId };
    for (const [kind, body] of [
      ["claim-task", claim],
      ["add-piece", inTheirRoom],
      ["add-piece", onTheirBoard],
    ] as const) {
      expect(await ask(mine.owner, kind, body)).toMatchObject({
        verdict: "refused",
        refusal: { kind: "unknown-thing" },
      });
    }
  });

  test("an id that is taken makes no second thing and changes nothing of the first", async () => {
    const shop = await freshShop();
    const body = pieceBody(shop);
    await accepted(shop.owner, "add-piece", body);
    const again = await ask(shop.owner, "add-piece", { ...pieceBody(shop, body.pieceId), name: "A copy" });
    expect(again).toMatchObject({ verdict: "refused" });
    expect(await database().piece.findMany({ where: { shopId: shop.shopId }, select: { name: true } })).toEqual([
      { name: "Oak dresser" },
    ]);
  });
});

describe("the ledger", () => {
  test("two queues at the same time are written one after the other, without a gap in the numbers", async () => {
    const shop = await freshShop();
    const helper = await joined(shop, "helper");
    const before = (await seqsOf(shop.shopId)).length;
    const queueOf = (hand: support.Hand) => upTo(8).map(() => intentOf(hand, "add-piece", pieceBody(shop)));
    const outcomes = await Promise.all([shop.owner, helper].map((hand) => deliver(hand, queueOf(hand))));
    expect(outcomes.flatMap(({ rulings }) => rulings).every(({ verdict }) => verdict === "accepted")).toBe(true);
    expect(await seqsOf(shop.shopId)).toEqual(upTo(before + 16));
  });

  test("whoever stops in the middle of their turn loses it after some seconds, and the next one goes on", async () => {
    const shop = await freshShop();
    let wake = () => {};
    const asleep = new Promise<void>((resolve) => {
      wake = resolve;
    });
    let hasTurn = () => {};
    const inTurn = new Promise<void>((resolve) => {
      hasTurn = resolve;
    });
    const stopped = database().$transaction(
      async (tx) => {
        const page = await LedgerPage.open(tx, shop.shopId, mondayAt);
        hasTurn();
        await asleep;
        await page?.close();
      },
      { timeout: 60_000 },
    );
    await inTurn;
    await accepted(shop.owner, "add-piece", pieceBody(shop));
    wake();
    await expect(stopped).rejects.toSatisfy(isPassing);
    expect(await seqsOf(shop.shopId)).toEqual(upTo((await seqsOf(shop.shopId)).length));
  });

  test("batches of several devices that are judged together each get their own answers, and a bug of one hurts no other", async () => {
    const shop = await freshShop();
    const helper = await joined(shop, "helper");
    const batchOf = (hand: support.Hand, name: string) => ({
      shopId: shop.shopId,
      envelopes: [intentOf(hand, "add-task", { taskId: newId(), title: name, sort: "prep" })],
      session: { memberId: hand.memberId, deviceId: hand.deviceId, isSharedTablet: false },
      now: mondayAt,
    });
    let told = 0;
    const hooks = {
      onApplied: async (_: unknown, { rowsAfter }: { rowsAfter: { row: object }[] }) => {
        if (rowsAfter.some(({ row }) => "title" in row && row.title === "Bad")) throw new Error("a bug");
      },
      published: () => {
        told += 1;
      },
    };
    const good = [batchOf(shop.owner, "Scrape"), batchOf(helper, "Sand")];
    const together = await commitBatches(good, hooks);
    expect(together.map((one) => one.status === "fulfilled" && one.value.rulings[0]?.verdict)).toEqual([
      "accepted",
      "accepted",
    ]);
    expect(told).toBe(1);
    const [bad, fine] = await commitBatches([batchOf(shop.owner, "Bad"), batchOf(helper, "Oil")], hooks);
    expect(bad).toMatchObject({
      status: "fulfilled",
      value: { rulings: [], failed: [{ error: { message: "a bug" } }] },
    });
    expect(fine).toMatchObject({ status: "fulfilled", value: { rulings: [{ verdict: "accepted" }] } });
    const again = await commitBatches(good, hooks);
    expect(again.map((one) => one.status === "fulfilled" && one.value.rulings)).toEqual(
      together.map((one) => one.status === "fulfilled" && one.value.rulings),
    );
  });

  test("of two who claim the same task at once exactly one gets it", async () => {
    const shop = await freshShop();
    const helper = await joined(shop, "helper");
    const taskId = newId();
    await accepted(shop.owner, "add-task", { taskId, title: "Scrape", sort: "prep" });
    const claims = await Promise.all(
      [shop.owner, helper].map((hand) =>
        ask(hand, "claim-task", { claimId: newId(), taskId, memberIds: [hand.memberId] }),
      ),
    );
    expect(claims.map(({ verdict }) => verdict).sort()).toEqual(["accepted", "refused"]);
  });

  test("the time of recording does not run back when the server's clock is set back", async () => {
    const shop = await freshShop();
    await accepted(shop.owner, "add-piece", pieceBody(shop), mondayAt + 60_000);
    const later = await accepted(shop.owner, "add-piece", pieceBody(shop), mondayAt + 1000);
    expect(later.recordedAt).toBe(mondayAt + 60_000);
  });

  test.each(['UPDATE "ledgerEntry" SET kind = kind', 'DELETE FROM "ledgerEntry"', 'TRUNCATE "ledgerEntry"'])(
    "nobody changes what it says: %s",
    async (sql) => {
      await freshShop();
      await expect(database().$executeRawUnsafe(sql)).rejects.toThrow("the ledger only grows");
    },
  );

  test("documents that cannot take a change keep it from being stored, and nobody is told", async () => {
    const shop = await freshShop();
    const envelope = intentOf(shop.owner, "add-piece", pieceBody(shop));
    const told: number[] = [];
    const broken = { onApplied: () => Promise.reject(new Error("no room")), published: () => told.push(1) };
    const outcome = await deliver(shop.owner, [envelope], mondayAt, broken);
    expect(outcome.failed).toMatchObject([{ intentId: envelope.intentId, error: { message: "no room" } }]);
    expect(await database().piece.count({ where: { shopId: shop.shopId } })).toBe(0);
    expect(told).toEqual([]);
    // the fault is mended, and the device sends again what has no ruling
    expect((await deliver(shop.owner, [envelope])).rulings[0]?.verdict).toBe("accepted");
  });

  test("a bug in the middle of a queue leaves that intent without a ruling and lets the others through", async () => {
    const shop = await freshShop();
    const names = ["One", "Bad", "Two"];
    const envelopes = names.map((name) => intentOf(shop.owner, "add-board", { boardId: newId(), name }));
    const hooks = {
      onApplied: async (_: unknown, { rowsAfter }: { rowsAfter: { row: object }[] }) => {
        if (rowsAfter.some(({ row }) => "name" in row && row.name === "Bad")) throw new Error("a bug");
      },
    };
    const outcome = await deliver(shop.owner, envelopes, mondayAt, hooks);
    expect(outcome.rulings.map(({ intentId }) => intentId)).toEqual([envelopes[0]?.intentId, envelopes[2]?.intentId]);
    expect(outcome.failed.map(({ intentId }) => intentId)).toEqual([envelopes[1]?.intentId]);
  });

  test("tells after the commit what changed, each row once and as it is at the end", async () => {
    const shop = await freshShop();
    const taskId = newId();
    const order: string[] = [];
    const { rowsAfter } = await deliver(
      shop.owner,
      [
        intentOf(shop.owner, "add-task", { taskId, title: "Scrape", sort: "prep" }),
        intentOf(shop.owner, "claim-task", { claimId: newId(), taskId, memberIds: [shop.owner.memberId] }),
      ],
      mondayAt,
      { onApplied: async () => void order.push("applied"), published: () => order.push("told") },
    );
    expect(order).toEqual(["applied", "told"]);
    expect(rowsAfter.map(({ table, isNew }) => [table, isNew])).toEqual([
      ["task", true],
      ["claim", true],
    ]);
    expect(rowsAfter[0]?.row).toMatchObject({ state: "held" });
  });
});

describe("coming in", () => {
  test("two who use one invitation at once: one is a member, the other is told that it is used", async () => {
    const shop = await freshShop();
    const secretSha256 = "ab".repeat(32).slice(0, 52) + shop.shopId.slice(24);
    const expiresAt = mondayAt + 3_600_000;
    await accepted(shop.owner, "invite", {
      invitationId: newId(),
      role: "helper",
      forName: "Jo",
      secretSha256,
      expiresAt,
    });
    const join = () =>
      commitEntrance({
        kind: "join",
        intentId: newId(),
        shopId: shop.shopId,
        body: { secretSha256, memberId: newId(), memberName: "Jo", markLetter: "J", markOutline: "arch" },
        now: mondayAt,
      });
    const answers = await Promise.all([join(), join()]);
    expect(answers.map(({ verdict }) => verdict).sort()).toEqual(["accepted", "refused"]);
    expect(answers.find(({ verdict }) => verdict === "refused")).toMatchObject({
      refusal: { kind: "invitation-over", reason: "used" },
    });
    expect(await database().member.count({ where: { shopId: shop.shopId } })).toBe(2);
  });

  test("founding again with the same intent answers the same; if the account beside it fails, there is no shop", async () => {
    const shopId = newId();
    const asked = { kind: "found-shop", intentId: newId(), shopId, body: support.foundingOf(shopId), now: mondayAt };
    const failing = { alongside: () => Promise.reject(new Error("no account")) };
    await expect(commitEntrance(asked, failing)).rejects.toThrow("no account");
    expect(await database().shop.count({ where: { shopId } })).toBe(0);
    const first = await commitEntrance(asked);
    expect(first.verdict).toBe("accepted");
    expect(await commitEntrance({ ...asked, now: mondayAt + 5000 })).toEqual(first);
    expect(differences(await replay(shopId), await storedRows(shopId))).toEqual([]);
  });
});
