/** What the ledger says happened, for whoever wants to take something of it back. */
import type { ShopEvent } from "~/core/shop/event";
import type { PastEntry } from "~/core/shop/past";
import type { Transaction } from "./db";

/** Whole years of a logger; nothing that can be taken back is named by them, and they look at nothing. */
const airKinds = ["import-readings", "retract-import"];

type Found = {
  intentId: string;
  kind: string;
  memberId: string | null;
  madeAt: bigint;
  seq: number | null;
  events: ShopEvent[];
};

/**
 * An accepted intent and what was ruled after it, in the order of the ledger; nothing where it left no entry. At the end
 * those of others who reported the same and were told that it is so already: they left no entry.
 */
export async function pastFrom(tx: Transaction, shopId: string, intentId: string): Promise<PastEntry[]> {
  const [first] = await tx.$queryRaw<{ seq: number }[]>`
    SELECT "seq" FROM "ledgerEntry"
    WHERE "shopId" = ${shopId}::uuid AND "intentId" = ${intentId}::uuid AND "verdict" = 'accepted'`;
  return first ? pastSince(tx, shopId, first.seq) : [];
}

/** Everything that was ruled from a ledger number on. */
export async function pastSince(tx: Transaction, shopId: string, seq: number): Promise<PastEntry[]> {
  const found = await tx.$queryRaw<Found[]>`
    SELECT "intentId", "kind", "memberId", "madeAt", "seq", "events", 0 AS "part" FROM "ledgerEntry"
    WHERE "shopId" = ${shopId}::uuid AND "seq" >= ${seq}::int AND "kind" <> ALL(${airKinds})
    UNION ALL
    SELECT "intentId", "kind", "memberId", "recordedAt", NULL, '[]'::jsonb, 1 FROM "ruling"
    WHERE "shopId" = ${shopId}::uuid AND "seq" IS NULL AND "verdict" = 'accepted'
      AND "recordedAt" >= (SELECT "recordedAt" FROM "ledgerEntry" WHERE "shopId" = ${shopId}::uuid AND "seq" = ${seq}::int)
    ORDER BY "part", "seq"`;
  return found.map(({ memberId, madeAt, seq: number, ...entry }) => ({
    ...entry,
    madeAt: Number(madeAt),
    ...(memberId === null ? {} : { memberId }),
    ...(number === null ? {} : { seq: number }),
  }));
}
