import type { Sockets } from "./sockets";

/** A stretch of a shop's ledger, and the members who stand differently after it. */
export type LedgerNews = { shopId: string; fromSeq: number; seq: number; memberIds: readonly string[] };

/**
 * Knows up to which number of each shop's ledger open sockets agree with it. Whose membership has ended is silenced before
 * anything of what comes after can reach them. Where a stretch of the ledger went by unheard, everybody is asked again.
 */
export class RightsWatch {
  private readonly knownSeqByShop = new Map<string, number>();

  constructor(private readonly sockets: Sockets) {}

  take({ shopId, fromSeq, seq, memberIds }: LedgerNews): void {
    const known = this.knownSeqByShop.get(shopId);
    if (known !== undefined && seq <= known) return;
    this.knownSeqByShop.set(shopId, seq);
    const isUnheard = known === undefined || fromSeq > known;
    const members = new Set(memberIds);
    if (!isUnheard && members.size === 0) return;
    void this.sockets.doubtWhere(
      (access) =>
        access.shopId === shopId && (isUnheard || (access.memberId !== undefined && members.has(access.memberId))),
    );
  }

  /** Something is about to be told that rests on the ledger up to this number. */
  reaches(shopId: string, seq: number): void {
    this.take({ shopId, fromSeq: seq, seq, memberIds: [] });
  }

  /** Of shops without an open socket nothing is remembered. */
  forgetAllBut(shopIds: ReadonlySet<string>): void {
    for (const shopId of this.knownSeqByShop.keys()) if (!shopIds.has(shopId)) this.knownSeqByShop.delete(shopId);
  }
}
