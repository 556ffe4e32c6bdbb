import type { Ruling } from "~/core/shop/define";
import type { Refusal } from "~/core/shop/refusal";
import { canonicalJson, sha256 } from "./canonical-json";
import type { Transaction } from "./db";

/** What the device is told. The same intent gets the same answer, word for word, however often it is sent. */
export type Answer = { intentId: string; recordedAt: number; seq?: number } & (
  | { verdict: "accepted" }
  | { verdict: "refused"; refusal: Refusal }
);

/** What makes two intents of one id the same: what was asked, by whom, and when it happened. */
export type Asked = { kind: string; body: unknown; memberId?: string; happenedAt?: number };

export const bodySha256 = ({ kind, body, memberId, happenedAt }: Asked): string =>
  sha256(canonicalJson({ kind, body, memberId, happenedAt }));

export type StoredRuling = {
  intentId: string;
  bodySha256: string;
  verdict: string;
  refusal: unknown;
  seq: number | null;
  recordedAt: bigint | number;
};

export function answerOf(stored: StoredRuling): Answer {
  const common = {
    intentId: stored.intentId,
    recordedAt: Number(stored.recordedAt),
    ...(stored.seq === null ? {} : { seq: stored.seq }),
  };
  return stored.verdict === "accepted"
    ? { ...common, verdict: "accepted" }
    : { ...common, verdict: "refused", refusal: stored.refusal as Refusal };
}

/** The answer that an intent has had already; one whose body differs is refused, and the first stands. */
export function answeredBefore(
  stored: StoredRuling | undefined,
  intentId: string,
  sha: string,
  recordedAt: number,
): Answer | undefined {
  if (!stored) return undefined;
  if (stored.bodySha256 === sha) return answerOf(stored);
  return { intentId, recordedAt, verdict: "refused", refusal: { kind: "intent-altered", intentId } };
}

export const rulingOf = async (tx: Transaction, shopId: string, intentId: string): Promise<StoredRuling | undefined> =>
  (await tx.ruling.findUnique({ where: { shopId_intentId: { shopId, intentId } } })) ?? undefined;

export type Ruled = {
  shopId: string;
  intentId: string;
  asked: Asked;
  deviceId?: string;
  ruling: Ruling;
  recordedAt: number;
  seq?: number;
};

/** A refused intent that asked to make things which are not there. */
export type RefusedMaker = { intentId: string; kind: string; refusal: Refusal; unmadeIds: readonly string[] };

/**
 * A ruling as it is to be stored, and what the device is told.
 *
 * @param unmadeIds what a refused intent names and nobody has made
 */
export function rulingToKeep(ruled: Ruled, unmadeIds: readonly string[]): { stored: object; answer: Answer } {
  const { shopId, intentId, asked, ruling, recordedAt } = ruled;
  const refusal = ruling.verdict === "refused" ? (JSON.parse(JSON.stringify(ruling.refusal)) as Refusal) : undefined;
  const stored = {
    shopId,
    intentId,
    bodySha256: bodySha256(asked),
    kind: asked.kind,
    memberId: asked.memberId ?? null,
    deviceId: ruled.deviceId ?? null,
    verdict: ruling.verdict,
    refusal: refusal ?? null,
    seq: ruled.seq ?? null,
    recordedAt,
    unmadeIds: refusal ? unmadeIds : [],
  };
  return { stored, answer: answerOf({ ...stored, refusal }) };
}

/** What this device asked to make and was refused, of these things; the first comes first. */
export async function refusedMakersOf(
  tx: Transaction,
  { shopId, deviceId, ids }: { shopId: string; deviceId: string; ids: readonly string[] },
): Promise<RefusedMaker[]> {
  if (ids.length === 0) return [];
  const found = await tx.ruling.findMany({
    where: { shopId, deviceId, verdict: "refused", unmadeIds: { hasSome: [...ids] } },
    orderBy: { recordedAt: "asc" },
    select: { intentId: true, kind: true, refusal: true, unmadeIds: true },
  });
  return found.map((one) => ({ ...one, refusal: one.refusal as unknown as Refusal }));
}

/**
 * A refusal because of a thing that is not there, where the same device had asked to make that thing and was refused: the
 * first refusal is the explanation, and the queue behind it needs no other.
 */
export function restsOnRefused(makers: readonly RefusedMaker[], absentIds: readonly string[]): Refusal | undefined {
  const first = makers.find(({ unmadeIds }) => absentIds.some((id) => unmadeIds.includes(id)));
  if (!first) return undefined;
  return first.refusal.kind === "rests-on-refused"
    ? first.refusal
    : { kind: "rests-on-refused", intentId: first.intentId, itsKind: first.kind };
}
