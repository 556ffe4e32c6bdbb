import * as z from "zod/mini";
import { type Ruling, refused } from "~/core/shop/define";
import { envelope, type Intent } from "~/core/shop/intent";
import { judge, needsOf } from "~/core/shop/judge";
import { type Moments, momentsOf } from "~/core/shop/moments";
import type { Refusal } from "~/core/shop/refusal";
import { refusalOfShape } from "~/core/shop/shape";
import type { DeviceQueues } from "./device-queues";
import type { LedgerPage } from "./ledger-page";
import { type Judged, kindIn } from "./ledger-steps";
import { loadUntilEnough } from "./load";
import { type Answer, answeredBefore, bodySha256, rulingOf, type StoredRuling } from "./rulings";

/** Whose queue this is. A shared tablet delivers for whoever picked themselves. */
export type QueueSession = { memberId?: string; deviceId: string; isSharedTablet: boolean };

export type QueueOutcome = { rulings: Answer[]; gap?: { memberId: string; resendFrom: number } };

/** What an intent must at least say of itself to get a ruling that is kept. */
const label = z.pick(envelope, { intentId: true, memberId: true, deviceId: true, deviceSeq: true });
type Label = z.infer<typeof label>;

/**
 * Judges a device's queue in its order. A gap in the numbers ends it, a refusal does not.
 *
 * @param behind what the device delivers after these, for rules that look at the rest of the queue
 * @param noted told of each answer as it is given
 */
export async function judgeQueue(
  page: LedgerPage,
  session: QueueSession,
  envelopes: readonly unknown[],
  behind: readonly unknown[],
  noted: (judged: Judged) => void = () => undefined,
): Promise<QueueOutcome> {
  const labels = envelopes.flatMap((found) => label.safeParse(found).data ?? []);
  const intentIds = labels.map(({ intentId }) => intentId);
  const intents = envelopes.map((found) => envelope.safeParse(found).data);
  const { queues, rulingById } = await page.begin(session.deviceId, intentIds, {
    bodies: intents.map((intent) => intent?.body),
    needs: intents.flatMap((intent) => (intent ? needsOf(intent, page.shopId, page.facts.memory) : [])),
  });
  const rest = [...intents, ...behind.map((found) => envelope.safeParse(found).data)];
  const fresh = intents.filter((intent) => intent !== undefined && !rulingById.has(intent.intentId)) as Intent[];
  if (fresh.length > 1) await lookAhead(page, session.deviceId, fresh);
  const rulings: Answer[] = [];
  let gap: QueueOutcome["gap"];
  const isAnswered = (intentId: string) => rulingById.has(intentId) || page.hasWritten(intentId);
  for (const [index, found] of envelopes.entries()) {
    const startedAt = performance.now();
    const isKnown = isAnswered(label.safeParse(found).data?.intentId ?? "");
    const answered = await judgeOne({
      page,
      session,
      queues,
      rulingById,
      found,
      coming: rest.slice(index + 1),
      cameAlone: rest.length === 1,
    });
    if ("resendFrom" in answered) {
      gap = answered;
      break;
    }
    rulings.push(answered);
    const isRepeated = isKnown && !(answered.verdict === "refused" && answered.refusal.kind === "intent-altered");
    noted({ kind: kindIn(found), answer: answered, isRepeated, tookMs: performance.now() - startedAt });
  }
  return gap ? { rulings, gap } : { rulings };
}

/**
 * Loads in a few questions what all of them will want, as far as that can be told before the first is judged; what only
 * turns up later is loaded then.
 */
async function lookAhead(page: LedgerPage, deviceId: string, intents: readonly Intent[]): Promise<void> {
  const { shopId, facts } = page;
  await page.lookAhead(
    deviceId,
    intents.map(({ body }) => body),
  );
  await loadUntilEnough(page, facts, (known) => intents.flatMap((intent) => needsOf(intent, shopId, known)));
}

type Turn = {
  page: LedgerPage;
  session: QueueSession;
  queues: DeviceQueues;
  /** Of those intents that had been judged before this batch. */
  rulingById: ReadonlyMap<string, StoredRuling>;
  found: unknown;
  coming: readonly (Intent | undefined)[];
  /** Nothing else waited on the device. */
  cameAlone: boolean;
};

async function judgeOne(turn: Turn): Promise<Answer | NonNullable<QueueOutcome["gap"]>> {
  const { page, queues, rulingById, found } = turn;
  const { tx, shopId, recordedAt } = page;
  const parsed = envelope.safeParse(found);
  const labelled = label.safeParse(found);
  const shapeless = (): Refusal =>
    refusalOfShape((parsed.error?.issues ?? []) as Parameters<typeof refusalOfShape>[0], found);
  if (!labelled.success)
    return unkept(String((found as { intentId?: unknown } | null)?.intentId ?? ""), recordedAt, shapeless());
  const { intentId, memberId, deviceSeq, deviceId } = labelled.data;
  const stranger = strangerIn(turn, labelled.data);
  if (stranger) return unkept(intentId, recordedAt, { kind: "unknown-thing", field: stranger });

  const asked = parsed.success ? parsed.data : { kind: "unreadable", body: found, memberId };
  const isOnThisPage = page.hasWritten(intentId);
  if (isOnThisPage) await page.store();
  const known = isOnThisPage ? await rulingOf(tx, shopId, intentId) : rulingById.get(intentId);
  const before = answeredBefore(known, intentId, bodySha256(asked), recordedAt);
  if (before) return before;
  const resendFrom = queues.gapBefore(memberId, deviceSeq);
  if (resendFrom !== undefined) return { memberId, resendFrom };

  const now: Moments = { happenedAt: recordedAt, madeAt: recordedAt, recordedAt, isClockTrusted: false };
  if (!parsed.success) {
    queues.advance(memberId, deviceSeq);
    return page.write({ intentId, asked, when: now, deviceId }, refused(shapeless()));
  }
  const intent = parsed.data;
  const when = momentsOf(intent, recordedAt, queues.madeBefore(memberId, deviceSeq), turn.cameAlone);
  const ruling = when.ok ? await rule(turn, intent, when.value) : refused(when.refusal);
  queues.advance(memberId, deviceSeq, when.ok ? when.value.madeAt : undefined);
  const { deviceAt, offsetMs } = intent;
  return page.write({ intentId, asked, when: when.ok ? when.value : now, deviceId, deviceAt, offsetMs }, ruling);
}

/** The field that does not belong to the session; nothing is kept of such an intent, it may be somebody else's. */
function strangerIn({ page, session }: Turn, { memberId, deviceId }: Label): "memberId" | "deviceId" | undefined {
  if (deviceId !== session.deviceId) return "deviceId";
  const isTheirs = session.isSharedTablet || memberId === session.memberId;
  return isTheirs && page.facts.get("member", memberId) ? undefined : "memberId";
}

const unkept = (intentId: string, recordedAt: number, refusal: Refusal): Answer => ({
  intentId,
  recordedAt,
  verdict: "refused",
  refusal,
});

async function rule({ page, session, coming }: Turn, intent: Intent, when: Moments): Promise<Ruling> {
  const { shopId, facts, seq } = page;
  await loadUntilEnough(page, facts, (known) => needsOf(intent, shopId, known));
  const ruling = judge({
    facts,
    intent,
    when,
    seq: seq + 1,
    isSharedTablet: session.isSharedTablet,
    coming: coming.filter((later): later is Intent => later?.memberId === intent.memberId),
  });
  if (ruling.verdict === "accepted" || ruling.refusal.kind !== "unknown-thing") return ruling;
  const first = await page.restsOn(intent.deviceId, intent.body);
  return first ? refused(first, ...ruling.events) : ruling;
}
