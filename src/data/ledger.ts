/**
 * The only writer of the shop's state. A batch of a device's queue is judged in one transaction under the lock of its
 * shop, each intent against what the ones before it left; every intent gets its answer, and nobody is told of anything
 * before it is stored for good.
 */
import type { RowAfter } from "~/core/shop/apply";
import { newIdOf, refused } from "~/core/shop/define";
import { envelope, type Intent } from "~/core/shop/intent";
import { type Entrance, entranceOf } from "~/core/shop/intents/entrances";
import type { Moments } from "~/core/shop/moments";
import type { Refusal } from "~/core/shop/refusal";
import { refusalOfShape } from "~/core/shop/shape";
import { database, type Transaction } from "./db";
import { isPassing } from "./faults";
import { judgeQueue, type QueueOutcome, type QueueSession } from "./judge-queue";
import { LedgerPage } from "./ledger-page";
import type { LedgerSteps } from "./ledger-steps";
import { loadUntilEnough } from "./load";
import { type Answer, answeredBefore, bodySha256, rulingOf } from "./rulings";
import { TurnWatch } from "./turn-watch";

/**
 * What a turn at the ledger left different, for the documents and the screens: each row once, as it is at the end.
 * `fromSeq` is the last number before it.
 */
export type Applied = { shopId: string; fromSeq: number; seq: number; rowsAfter: RowAfter[] };

export type LedgerHooks = LedgerSteps & {
  /** Inside of the transaction, last before its end: the shared documents take what changed, or nothing is stored. */
  onApplied?: (tx: Transaction, applied: Applied) => Promise<void>;
  /** After the commit: now it may be told. */
  published?: (applied: Applied) => void;
};

export type Batch = {
  shopId: string;
  envelopes: readonly unknown[];
  /** What the device delivers behind these, to be looked at and not judged. */
  behind?: readonly unknown[];
  session: QueueSession;
  /** The server's clock, epoch milliseconds. */
  now: number;
};

export type BatchOutcome = Applied & {
  rulings: Answer[];
  /** Something before this number was lost on the way: send again from there. What follows was not looked at. */
  gap?: { memberId: string; resendFrom: number };
  /** Kept from being judged by a bug: without a ruling, so the device keeps them and may send them again. */
  failed: { intentId: string | undefined; error: unknown }[];
};

/** The longest batch is the import of a logger's year. */
const transactionTimes = { maxWait: 15_000, timeout: 120_000 };

/**
 * Judges a batch. If a bug breaks the transaction, the intents are judged one by one: the good ones land, the bad one is
 * left without a ruling. What breaks for a passing reason (a lost connection) is thrown: the device sends it all again.
 */
export async function commitBatch(batch: Batch, hooks: LedgerHooks = {}): Promise<BatchOutcome> {
  try {
    return await commitTogether(batch, hooks);
  } catch (error) {
    if (isPassing(error)) throw error;
    return commitOneByOne(batch, hooks);
  }
}

/**
 * Judges the batches of several devices of one shop, one after the other in one transaction: one lock, one flush. If a
 * bug breaks it, each device's batch is judged by itself, so that no one's fault is another's.
 */
export async function commitBatches(
  batches: readonly Batch[],
  hooks: LedgerHooks = {},
): Promise<PromiseSettledResult<BatchOutcome>[]> {
  const [first, ...others] = batches;
  if (!first) return [];
  if (others.length === 0) return [{ status: "fulfilled", value: await commitBatch(first, hooks) }];
  try {
    return (await commitAll(batches, hooks)).map((value) => ({ status: "fulfilled", value }));
  } catch (error) {
    if (isPassing(error)) throw error;
  }
  const apart: PromiseSettledResult<BatchOutcome>[] = [];
  for (const batch of batches) apart.push(...(await Promise.allSettled([commitBatch(batch, hooks)])));
  return apart;
}

async function commitTogether(batch: Batch, hooks: LedgerHooks): Promise<BatchOutcome> {
  const [outcome] = await commitAll([batch], hooks);
  return outcome as BatchOutcome;
}

async function commitAll(batches: readonly Batch[], hooks: LedgerHooks): Promise<BatchOutcome[]> {
  const { shopId } = batches[0] as Batch;
  const now = Math.max(...batches.map((batch) => batch.now));
  const isMuch = hasMore(
    batches.map(({ envelopes }) => envelopes),
    quicklyJudgedValues,
  );
  const turn = new TurnWatch(hooks);
  const { outcomes, applied } = await database().$transaction(async (tx) => {
    const page = await LedgerPage.open(tx, shopId, now, { isMuch });
    if (!page) throw new Error(`no shop ${shopId}`);
    turn.begins(shopId);
    const outcomes: QueueOutcome[] = [];
    for (const { session, envelopes, behind = [] } of batches)
      outcomes.push(await judgeQueue(page, session, envelopes, behind, turn.judged));
    return { outcomes, applied: turn.ends(await finish(page, hooks)) };
  }, transactionTimes);
  turn.stands(applied);
  tell(applied, hooks);
  return outcomes.map((outcome) => ({ ...outcome, ...applied, failed: [] }));
}

/** A queue with more in it takes seconds to judge: the import of a logger's readings. */
const quicklyJudgedValues = 50_000;

/** Are there more values in this than so many? */
function hasMore(found: unknown, count: number): boolean {
  const waiting = [found];
  for (let seen = 0; waiting.length > 0; seen += 1) {
    if (seen + waiting.length > count) return true;
    const value = waiting.pop();
    if (value === null || typeof value !== "object") continue;
    for (const part of Object.values(value)) waiting.push(part);
  }
  return false;
}

async function commitOneByOne(batch: Batch, hooks: LedgerHooks): Promise<BatchOutcome> {
  const whole: BatchOutcome = { shopId: batch.shopId, fromSeq: 0, seq: 0, rowsAfter: [], rulings: [], failed: [] };
  for (const [index, found] of batch.envelopes.entries()) {
    try {
      const behind = [...batch.envelopes.slice(index + 1), ...(batch.behind ?? [])];
      const one = await commitTogether({ ...batch, envelopes: [found], behind }, hooks);
      whole.seq = one.seq;
      whole.rowsAfter.push(...one.rowsAfter);
      whole.rulings.push(...one.rulings);
      if (one.gap) return { ...whole, gap: one.gap };
    } catch (error) {
      if (isPassing(error)) throw error;
      const parsed = envelope.safeParse(found);
      whole.failed.push({ intentId: parsed.data?.intentId, error });
      if (parsed.success) await passOver(batch, parsed.data);
    }
  }
  return whole;
}

/** What is behind an intent that could not be judged must not wait for it. */
const passOver = ({ shopId, session, now }: Batch, intent: Intent): Promise<void> =>
  database().$transaction(async (tx) => {
    const page = await LedgerPage.open(tx, shopId, now);
    if (!page) return;
    const { queues } = await page.begin(session.deviceId, []);
    queues.advance(intent.memberId, intent.deviceSeq);
    await page.close();
  });

export type EntranceAsked = {
  kind: string;
  intentId: string;
  /** The shop that is founded or joined. */
  shopId: string;
  body: unknown;
  deviceId?: string;
  now: number;
};

export type EntranceHooks = LedgerHooks & {
  /** Inside of the transaction, when somebody has become a member: their account and their seat come with it, or nothing. */
  alongside?: (tx: Transaction, memberId: string) => Promise<void>;
};

/** Founding a shop, or joining one: judged by the same lock and ledger, though nobody is a member yet. */
export async function commitEntrance(asked: EntranceAsked, hooks: EntranceHooks = {}): Promise<Answer> {
  const { shopId, intentId, now } = asked;
  const refusedNow = (refusal: Refusal): Answer => ({ intentId, recordedAt: now, verdict: "refused", refusal });
  const entrance = entranceOf(asked.kind);
  if (!entrance) return refusedNow({ kind: "malformed", field: "kind", expected: "a way into a shop" });
  const body = entrance.body.safeParse(asked.body);
  if (!body.success)
    return refusedNow(refusalOfShape(body.error.issues as Parameters<typeof refusalOfShape>[0], asked.body));
  const isFounding = entrance.kind === "found-shop";
  const turn = new TurnWatch(hooks);
  const done = await database().$transaction(async (tx) => {
    const page =
      (await LedgerPage.open(tx, shopId, now)) ?? (isFounding ? LedgerPage.first(tx, shopId, now) : undefined);
    if (!page) return { answer: refusedNow({ kind: "invitation-over", reason: "unknown" }) };
    turn.begins(shopId);
    const startedAt = performance.now();
    const sent = { kind: asked.kind, body: asked.body };
    const known = await rulingOf(tx, shopId, intentId);
    const before = answeredBefore(known, intentId, bodySha256(sent), page.recordedAt);
    if (before) return { answer: before };
    const answer = await enterShop(page, entrance, asked, body.data);
    turn.judged({ kind: entrance.kind, answer, isRepeated: false, tookMs: performance.now() - startedAt });
    await page.store();
    if (answer.verdict === "accepted") await hooks.alongside?.(tx, (body.data as { memberId: string }).memberId);
    // a founding that was refused has no shop that a ledger could belong to
    return { answer, applied: page.seq > 0 ? turn.ends(await finish(page, hooks)) : undefined };
  }, transactionTimes);
  if (done.applied) {
    turn.stands(done.applied);
    tell(done.applied, hooks);
  }
  return done.answer;
}

async function enterShop(
  page: LedgerPage,
  entrance: Entrance,
  { intentId, kind, deviceId, body: sent }: EntranceAsked,
  body: unknown,
): Promise<Answer> {
  const { shopId, recordedAt, facts } = page;
  await loadUntilEnough(page, facts, () => entrance.reads(body));
  const when: Moments = { happenedAt: recordedAt, madeAt: recordedAt, recordedAt, isClockTrusted: true };
  const isOtherShop = kind === "found-shop" && (body as { shopId: string }).shopId !== shopId;
  const ruling = isOtherShop
    ? refused({ kind: "unknown-thing", field: "shopId" })
    : entrance.judge({ facts, body, when, newId: newIdOf(intentId) });
  return page.write({ intentId, asked: { kind, body: sent }, when, deviceId }, ruling);
}

async function finish(page: LedgerPage, hooks: LedgerHooks): Promise<Applied> {
  await page.close();
  const { shopId, fromSeq, seq, rowsAfter } = page;
  const applied: Applied = { shopId, fromSeq, seq, rowsAfter };
  if (applied.rowsAfter.length > 0) await hooks.onApplied?.(page.tx, applied);
  return applied;
}

function tell(applied: Applied, hooks: LedgerHooks): void {
  if (applied.rowsAfter.length > 0) hooks.published?.(applied);
}
