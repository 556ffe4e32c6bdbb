/**
 * Writes down the way of an intent, under its own id: received, judged, committed, told, and on every neighbour applied.
 * Where one of these lines is missing, that is where it went no further; a line "judged" without a "committed" is a
 * transaction that was given up, and judged again when the device sent it again.
 */
import { referenceOf } from "~/api/error-reference";
import { type Committed, intentIdsIn, type Judged } from "~/data/ledger-steps";
import type { Log } from "./log";
import { figures } from "./metrics/figures";
import type { DocumentNews } from "./neighbours";

export type Via = "hint" | "look";

export class Witness {
  constructor(private readonly log: Log) {}

  received(shopId: string, envelopes: readonly unknown[]): void {
    if (envelopes.length > 0) this.log.info("received", { shopId, intentIds: intentIdsIn(envelopes) });
  }

  /** Nothing of it stands as far as is known here; the device sends it again. */
  gaveUp(shopId: string, envelopes: readonly unknown[], error: unknown): void {
    this.log.warn("gave-up", { shopId, intentIds: intentIdsIn(envelopes), reference: referenceOf(error) });
  }

  readonly judged = (shopId: string, { kind, answer, isRepeated, tookMs }: Judged): void => {
    const { intentId, verdict, seq } = answer;
    const refusal = answer.verdict === "refused" ? { refusal: answer.refusal.kind } : {};
    const said = isRepeated ? "repeated" : verdict;
    this.log.info("judged", { intentId, shopId, kind, verdict: said, ...refusal, seq, tookMs });
  };

  /** @returns the intents that were judged now, for whoever is told of what they changed */
  committed({ judged, waitedMs, tookMs, ...of }: Committed): string[] {
    figures.lockWaited(waitedMs);
    figures.committed("floor", tookMs);
    for (const one of judged) figures.ruled(one);
    const intentIds = judged.flatMap(({ isRepeated, answer }) => (isRepeated ? [] : answer.intentId));
    this.log.info("committed", { intentIds, ...of, waitedMs, tookMs });
    return intentIds;
  }

  told(of: { shopId: string; seq: number; intentIds: readonly string[]; tookMs: number; count: number }): void {
    figures.told("floor", of.tookMs);
    this.log.info("told", of);
  }

  /** @param tookMs since it was heard of; undefined where this process had it before */
  applied(shopId: string, { documentId, seq, intentIds }: DocumentNews, via: Via, tookMs?: number): void {
    if (tookMs !== undefined && via === "hint") figures.caughtUp(tookMs);
    if (tookMs !== undefined && via === "look") figures.caughtByLooking("floor");
    this.log.info("applied", { shopId, documentId, seq, intentIds, via, tookMs });
  }
}
