import type { Ruling } from "~/core/shop/define";
import type { Refusal } from "~/core/shop/refusal";
import { tableNames } from "~/core/shop/tables";
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

/**
 * A ruling as it is to be stored, and what the device is told.
 *
 * @param madeIds of rows that the intent makes although it is refused, and that are not stored yet
 */
export async function rulingToKeep(
  tx: Transaction,
  ruled: Ruled,
  madeIds: ReadonlySet<string>,
): Promise<{ stored: object; answer: Answer }> {
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
    unmadeIds: refusal ? (await absentOf(tx, shopId, idsIn(asked.body))).filter((id) => !madeIds.has(id)) : [],
  };
  return { stored, answer: answerOf({ ...stored, refusal }) };
}

/**
 * A refusal because of a thing that is not there, where the same device had asked to make that thing and was refused: the
 * first refusal is the explanation, and the queue behind it needs no other.
 */
export async function restsOnRefused(
  tx: Transaction,
  shopId: string,
  deviceId: string,
  body: unknown,
): Promise<Refusal | undefined> {
  const ids = await absentOf(tx, shopId, idsIn(body));
  if (ids.length === 0) return undefined;
  const first = await tx.ruling.findFirst({
    where: { shopId, deviceId, verdict: "refused", unmadeIds: { hasSome: ids } },
    orderBy: { recordedAt: "asc" },
  });
  if (!first) return undefined;
  const refusal = first.refusal as unknown as Refusal;
  return refusal.kind === "rests-on-refused"
    ? refusal
    : { kind: "rests-on-refused", intentId: first.intentId, itsKind: first.kind };
}

const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-[78][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
/** More ids than any intent names; a body beyond it is a fault, and is not remembered as a maker of things. */
const mostIds = 500;

function idsIn(body: unknown): string[] {
  const found = new Set<string>();
  const walk = (value: unknown): void => {
    if (typeof value === "string" && uuid.test(value)) found.add(value);
    else if (value !== null && typeof value === "object") for (const part of Object.values(value)) walk(part);
  };
  walk(body);
  return found.size > mostIds ? [] : [...found];
}

const everyTable = tableNames
  .map((table) => `SELECT id FROM "${table}" WHERE "shopId" = $1::uuid AND id = ANY($2::uuid[])`)
  .join(" UNION ALL ");

async function absentOf(tx: Transaction, shopId: string, ids: string[]): Promise<string[]> {
  if (ids.length === 0) return [];
  const there = await tx.$queryRawUnsafe<{ id: string }[]>(everyTable, shopId, ids);
  const known = new Set(there.map(({ id }) => id));
  return ids.filter((id) => !known.has(id));
}
