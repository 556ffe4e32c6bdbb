import type { ShopEvent } from "~/core/shop/event";
import { database } from "./db";

export type HistoryEntry = {
  seq: number;
  intentId: string;
  kind: string;
  memberId?: string;
  madeAt: number;
  happenedAt: number;
  recordedAt: number;
  why?: string;
  events: ShopEvent[];
};

/** What the ledger says of a piece, the latest first; `beforeSeq` for the page after. */
export async function historyOfPiece(wanted: {
  shopId: string;
  pieceId: string;
  beforeSeq?: number;
  limit: number;
}): Promise<HistoryEntry[]> {
  const { shopId, pieceId, beforeSeq, limit } = wanted;
  const entries = await database().ledgerEntry.findMany({
    where: {
      shopId,
      pieceIds: { has: pieceId },
      verdict: "accepted",
      ...(beforeSeq ? { seq: { lt: beforeSeq } } : {}),
    },
    orderBy: { seq: "desc" },
    take: limit,
  });
  return entries.map((entry) => ({
    seq: entry.seq,
    intentId: entry.intentId,
    kind: entry.kind,
    ...(entry.memberId ? { memberId: entry.memberId } : {}),
    madeAt: Number(entry.madeAt),
    happenedAt: Number(entry.happenedAt),
    recordedAt: Number(entry.recordedAt),
    ...(entry.why ? { why: entry.why } : {}),
    events: (entry.events as unknown as ShopEvent[]).filter((event) => event.pieceId === pieceId),
  }));
}
