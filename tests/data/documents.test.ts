import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { closeDatabase } from "~/data/db";
import { DocumentLog, type Writer } from "~/data/document-log";
import {
  appendUpdates,
  endOfEpoch,
  ensureDocument,
  foundAgain,
  keptBehindSnapshotMs,
  readDocument,
  storeSnapshot,
  updatesAfter,
  writersOf,
} from "~/data/documents";
import { entriesBetween } from "~/data/entries";
import { historyOfPiece } from "~/data/history";
import { accepted, freshShop, minuteMs, mondayAt, newId, pieceBody } from "../support/database";

afterAll(closeDatabase);

const upTo = (last: number) => Array.from({ length: last }, (_, index) => index + 1);
const bytes = (...values: number[]) => Uint8Array.from(values);

const snapshotOf = (documentId: string, snapshotSeq: number, ...values: number[]) => {
  const state = bytes(...values);
  return { documentId, epoch: 1, snapshotSeq, state, now: mondayAt, isWhole: () => true };
};

async function freshDocument() {
  const { shopId } = await freshShop();
  return ensureDocument({ shopId, kind: "floor", subjectId: shopId });
}
const append = (documentId: string, epoch: number, ...values: number[]) =>
  appendUpdates({ documentId, epoch, updates: values.map((value) => ({ update: bytes(value) })), now: mondayAt });

describe("shared documents", () => {
  test("a document is made once, and its updates come back in the order in which they were stored", async () => {
    const { shopId } = await freshShop();
    const name = { shopId, kind: "notes", subjectId: newId() } as const;
    const [one, other] = await Promise.all([ensureDocument(name), ensureDocument(name)]);
    expect(one).toEqual(other);
    expect([await append(one.documentId, 1, 7, 8), await append(one.documentId, 1, 9)]).toEqual([1, 3]);
    const { updates, lastSeq } = await readDocument(one.documentId);
    expect(updates.map(({ seq, update }) => [seq, ...update])).toEqual([
      [1, 7],
      [2, 8],
      [3, 9],
    ]);
    expect(lastSeq).toBe(3);
  });

  test("of updates that many send at once none is lost and no number is given twice", async () => {
    const { documentId } = await freshDocument();
    const firsts = await Promise.all(Array.from({ length: 12 }, (_, value) => append(documentId, 1, value, value)));
    expect(firsts.sort((a, b) => Number(a) - Number(b))).toEqual(
      Array.from({ length: 12 }, (_, index) => 1 + 2 * index),
    );
    expect((await readDocument(documentId)).updates).toHaveLength(24);
  });

  test("after a snapshot only later updates are read, and an earlier snapshot does not replace it", async () => {
    const { documentId } = await freshDocument();
    await append(documentId, 1, 1, 2, 3);
    expect(await storeSnapshot(snapshotOf(documentId, 2, 1, 2))).toBe(true);
    expect(await storeSnapshot(snapshotOf(documentId, 1, 1))).toBe(false);
    const { snapshot, updates, bytes: size } = await readDocument(documentId);
    expect([[...(snapshot ?? [])], updates.map(({ seq }) => seq), size]).toEqual([[1, 2], [3], 3]);
  });

  test("where the database gives a snapshot back as something else, no update is dropped and the old one stays", async () => {
    const { documentId } = await freshDocument();
    await append(documentId, 1, 1, 2, 3);
    const late = { now: mondayAt + 2 * keptBehindSnapshotMs, isWhole: () => false };
    await expect(storeSnapshot({ ...snapshotOf(documentId, 3, 9), ...late })).rejects.toThrow("something else");
    expect(await readDocument(documentId)).toMatchObject({ snapshotSeq: 0 });
    expect((await readDocument(documentId)).updates).toHaveLength(3);
  });

  test("a new epoch does not begin over updates that its founder has not seen", async () => {
    const { documentId } = await freshDocument();
    await append(documentId, 1, 1, 2);
    expect(await foundAgain({ documentId, epoch: 1, state: bytes(5), lastSeq: 1 })).toBeUndefined();
    const last = { state: bytes(7), now: mondayAt };
    expect(await foundAgain({ documentId, epoch: 1, state: bytes(5), lastSeq: 2, last })).toBe(2);
    expect([...((await endOfEpoch(documentId, 1)) ?? [])]).toEqual([7]);
    expect(await endOfEpoch(documentId, 2)).toBeUndefined();
  });

  test("what was made against an epoch that is over is not taken", async () => {
    const { documentId } = await freshDocument();
    await append(documentId, 1, 1, 2);
    expect(await foundAgain({ documentId, epoch: 1, state: bytes(5) })).toBe(2);
    expect(await append(documentId, 1, 3)).toBeUndefined();
    expect(await foundAgain({ documentId, epoch: 1, state: bytes(6) })).toBeUndefined();
    expect(await readDocument(documentId)).toMatchObject({ epoch: 2, lastSeq: 0, updates: [] });
  });
});

describe("the log of what members write together", () => {
  const [fern, max] = [newId(), newId()];
  const handOf = (memberId: string, clientId: number) => ({ clientId, memberId, deviceId: memberId });
  const additionTo = (documentId: string, epoch: number, writers = [] as Writer[], ...values: number[]) => ({
    documentId,
    epoch,
    updates: values.map((value) => ({ update: bytes(value), memberId: fern })),
    writers,
    now: mondayAt,
  });
  let log: DocumentLog;
  beforeEach(() => {
    log = new DocumentLog();
  });
  afterEach(() => log.close());

  test("additions to many documents at once come back in order, each document with numbers of its own", async () => {
    const ids = (await Promise.all([freshDocument(), freshDocument(), freshDocument()])).map((one) => one.documentId);
    const all = Array.from({ length: 60 }, (_, n) => log.append(additionTo(ids[n % 3] as string, 1, [], n, n)));
    const firsts = await Promise.all(all);
    expect(firsts).toEqual(firsts.map((_, n) => ({ firstSeq: 1 + 2 * Math.floor(n / 3) })));
    for (const [place, documentId] of ids.entries()) {
      const { updates, lastSeq, bytes: size } = await readDocument(documentId);
      expect(updates.map(({ update }) => update[0])).toEqual(upTo(40).map((n) => place + 3 * Math.floor((n - 1) / 2)));
      expect([lastSeq, size]).toEqual([40, 40]);
    }
  });

  test("what was made against an epoch that is over is refused, and what waits beside it is stored", async () => {
    const [one, other] = [(await freshDocument()).documentId, (await freshDocument()).documentId];
    await foundAgain({ documentId: one, epoch: 1, state: bytes(5) });
    const asked = [additionTo(one, 1, [], 1), additionTo(other, 1, [], 2), additionTo(one, 2, [], 3)];
    expect(await Promise.all(asked.map((addition) => log.append(addition)))).toEqual([
      "refused",
      { firstSeq: 1 },
      { firstSeq: 1 },
    ]);
  });

  test("a client id that two processes take at once belongs to one of them, and the other's words are not stored", async () => {
    const { documentId } = await freshDocument();
    const other = new DocumentLog();
    const found = await Promise.all([
      log.append(additionTo(documentId, 1, [handOf(fern, 7)], 1)),
      other.append(additionTo(documentId, 1, [handOf(max, 7)], 2)),
    ]);
    await other.close();
    expect(found.filter((one) => one === "refused")).toHaveLength(1);
    expect((await readDocument(documentId)).updates).toHaveLength(1);
    const [owner] = await writersOf(documentId);
    expect(owner?.memberId).toBe(found[0] === "refused" ? max : fern);
    const again = await log.append(additionTo(documentId, 1, [handOf(owner?.memberId ?? "", 7)], 3));
    expect(again).toEqual({ firstSeq: 2 });
  });

  test("what a copy lacks is read from the log, and the whole where the log no longer reaches back", async () => {
    const { documentId } = await freshDocument();
    for (let count = 0; count < 3; count += 1) await append(documentId, 1, ...upTo(50));
    expect((await updatesAfter({ documentId, epoch: 1, lastSeq: 147 })).updates.map(([one]) => one)).toEqual([
      48, 49, 50,
    ]);
    const soon = mondayAt + keptBehindSnapshotMs;
    await storeSnapshot({ ...snapshotOf(documentId, 149, 98), now: soon });
    expect((await updatesAfter({ documentId, epoch: 1, lastSeq: 147 })).updates).toHaveLength(3);
    await storeSnapshot({ ...snapshotOf(documentId, 150, 99), now: soon + 1 });
    const whole = await updatesAfter({ documentId, epoch: 1, lastSeq: 10 });
    expect([whole.lastSeq, whole.updates.map(([one]) => one)]).toEqual([150, [99]]);
    expect((await updatesAfter({ documentId, epoch: 1, lastSeq: 150 })).updates).toEqual([]);
    await foundAgain({ documentId, epoch: 1, state: bytes(5) });
    expect(await updatesAfter({ documentId, epoch: 1, lastSeq: 10 })).toMatchObject({ epoch: 2, updates: [] });
  });
});

describe("asking", () => {
  test("the history of a piece is its own, the latest first, and goes on page by page", async () => {
    const shop = await freshShop();
    const [mine, other] = [pieceBody(shop), pieceBody(shop)];
    await accepted(shop.owner, "add-piece", mine);
    await accepted(shop.owner, "add-piece", other);
    const { pieceId } = mine;
    await accepted(shop.owner, "edit-piece", { pieceId, field: "name", was: mine.name, value: "Ash dresser" });
    const [latest] = await historyOfPiece({ shopId: shop.shopId, pieceId, limit: 1 });
    expect(latest).toMatchObject({ kind: "edit-piece", memberId: shop.owner.memberId });
    const before = await historyOfPiece({ shopId: shop.shopId, pieceId, limit: 9, beforeSeq: latest?.seq ?? 0 });
    expect(before.map(({ kind }) => kind)).toEqual(["add-piece"]);
  });

  test("a week has the entries that touch it, the one over midnight and the running one included", async () => {
    const shop = await freshShop();
    const { shopId } = shop;
    const { memberId } = shop.owner;
    const [fromAt, toAt] = [mondayAt - 600 * minuteMs, mondayAt];
    const add = async (startMin: number, endMin: number) => {
      const entryId = newId();
      const times = { startedAt: fromAt + startMin * minuteMs, endedAt: fromAt + endMin * minuteMs };
      await accepted(shop.owner, "add-entry", { entryId, memberId, ...times, workKind: "bench", subjects: [] });
      return entryId;
    };
    await add(-60, 0);
    const [over, within] = [await add(-30, 30), await add(60, 120)];
    const running = newId();
    await accepted(shop.owner, "start-timer", { entryId: running, workKind: "bench", subjects: [] }, toAt - minuteMs);
    const found = await entriesBetween({ shopId, memberId, fromAt, toAt });
    expect(found.map(({ id }) => id)).toEqual([over, within]);
    const until = await entriesBetween({ shopId, memberId, fromAt, toAt: toAt + minuteMs });
    expect(until.map(({ id }) => id)).toContain(running);
  });
});
