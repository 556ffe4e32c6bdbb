/** What somebody did in the last day and may still take back, or why not. */
import { type Hindrance, takeBackHindrance, takeBackNeeds } from "~/core/shop/intents/take-back";
import { isTakenBack, type PastEntry, pastAmong } from "~/core/shop/past";
import { mayBeTakenBack, takenBackKinds } from "~/core/shop/ways-back";
import { dayMs, type InstantMs } from "~/core/units";
import { database, type Transaction } from "./db";
import { loadUntilEnough } from "./load";
import { LoadedFacts } from "./loaded-facts";
import { pastSince } from "./past";

/** Open, hindered by what rests on it, or done already. */
export type TakingBack = { state: "open" } | { state: "hindered"; refusal: Hindrance } | { state: "taken-back" };

export type Act = { seq: number; intentId: string; kind: string; memberId?: string; madeAt: InstantMs };

type Asked = { shopId: string; memberId: string | undefined; now: InstantMs };

/** Of these acts, by intent, those that the member may ask about at all: their own, of the last day. */
export async function takingBackOf(
  acts: readonly Act[],
  { shopId, memberId, now }: Asked,
): Promise<Map<string, TakingBack>> {
  const own = acts.filter((act) => act.memberId === memberId && mayBeTakenBack(act.kind) && act.madeAt + dayMs >= now);
  const first = own.reduce((least, { seq }) => Math.min(least, seq), Number.POSITIVE_INFINITY);
  if (memberId === undefined || own.length === 0) return new Map();
  const tx: Transaction = database();
  const entries = await pastSince(tx, shopId, first);
  const facts = new LoadedFacts();
  const pasts = own.flatMap(({ intentId }) => pastAmong(entries, intentId) ?? []);
  await loadUntilEnough({ tx, shopId, store: async () => undefined }, facts, () => pasts.flatMap(takeBackNeeds));
  return new Map(
    pasts.map((past): [string, TakingBack] => {
      if (isTakenBack(past)) return [past.entry.intentId, { state: "taken-back" }];
      const refusal = takeBackHindrance(facts, past, now);
      return [past.entry.intentId, refusal ? { state: "hindered", refusal } : { state: "open" }];
    }),
  );
}

/** How far back in the ledger somebody's own acts are looked for: a day of a busy shop is a fraction of it. */
const linesLookedAt = 3_000;
const mostActs = 30;

export type OwnAct = Act & { happenedAt: InstantMs; pieceId?: string; takingBack: TakingBack };

/** What a member did in the last day and may be taken back, the latest first. */
export async function ownActs(asked: Asked & { memberId: string }): Promise<OwnAct[]> {
  const { shopId, memberId, now } = asked;
  const found = await database().$queryRaw<
    (Pick<PastEntry, "intentId" | "kind"> & { seq: number; madeAt: bigint; happenedAt: bigint; pieceIds: string[] })[]
  >`
    SELECT "seq", "intentId", "kind", "madeAt", "happenedAt", "pieceIds" FROM (
      SELECT * FROM "ledgerEntry" WHERE "shopId" = ${shopId}::uuid ORDER BY "seq" DESC LIMIT ${linesLookedAt}) AS latest
    WHERE "memberId" = ${memberId}::uuid AND "verdict" = 'accepted' AND "kind" = ANY(${[...takenBackKinds]})
      AND "madeAt" >= ${now - dayMs}::bigint
    ORDER BY "seq" DESC LIMIT ${mostActs}`;
  const acts = found.map(({ madeAt, happenedAt, pieceIds, ...act }) => ({
    ...act,
    memberId,
    madeAt: Number(madeAt),
    happenedAt: Number(happenedAt),
    ...(pieceIds[0] === undefined ? {} : { pieceId: pieceIds[0] }),
  }));
  const takingBack = await takingBackOf(acts, asked);
  return acts.flatMap((act) => {
    const state = takingBack.get(act.intentId);
    return state ? [{ ...act, takingBack: state }] : [];
  });
}
