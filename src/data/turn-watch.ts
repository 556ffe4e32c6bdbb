import type { Applied } from "./ledger";
import type { Committed, Judged, LedgerSteps } from "./ledger-steps";

/** Times a turn at the ledger, and says what was judged in it once it stands. */
export class TurnWatch {
  private readonly judgedSoFar: Judged[] = [];
  private readonly askedAt = performance.now();
  private hadLockAt = this.askedAt;
  private endedAt = this.askedAt;
  private shopId = "";

  constructor(private readonly steps: LedgerSteps) {}

  begins(shopId: string): void {
    this.shopId = shopId;
    this.hadLockAt = performance.now();
  }

  readonly judged = (judged: Judged): void => {
    this.judgedSoFar.push(judged);
    this.steps.judged?.(this.shopId, judged);
  };

  ends(applied: Applied): Applied {
    this.endedAt = performance.now();
    return applied;
  }

  stands({ shopId, fromSeq, seq }: Applied): void {
    const committed: Committed = {
      shopId,
      fromSeq,
      seq,
      judged: this.judgedSoFar,
      waitedMs: this.hadLockAt - this.askedAt,
      tookMs: performance.now() - this.endedAt,
    };
    this.steps.committed?.(committed);
  }
}
