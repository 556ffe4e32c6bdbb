/**
 * What a turn at the ledger says of itself while it goes on, for figures and for the log. An intent is known by its id
 * from the device that made it to the neighbour that shows what it did: it is in the envelope, the ledger, the ruling.
 */
import * as z from "zod/mini";
import { envelope } from "~/core/shop/intent";
import { definitionOf } from "~/core/shop/intents";
import type { Answer } from "./rulings";

export type Judged = {
  /** What was asked; "unreadable" where the envelope does not say, or says nothing that the shop knows. */
  kind: string;
  answer: Answer;
  /** It had been judged before, and gets the answer of that time. */
  isRepeated: boolean;
  tookMs: number;
};

export type Committed = {
  shopId: string;
  fromSeq: number;
  seq: number;
  judged: readonly Judged[];
  /** Until the turn had the shop's lock. */
  waitedMs: number;
  /** From the last statement until it is stored for good. */
  tookMs: number;
};

export type LedgerSteps = {
  /** Inside of the transaction, which may still be given up. */
  judged?: (shopId: string, judged: Judged) => void;
  /** Stored for good, and not yet told. */
  committed?: (committed: Committed) => void;
};

const named = z.pick(envelope, { intentId: true });
const asked = z.pick(envelope, { kind: true });

/** The ids of the intents in a batch; of an envelope without a good one, nothing. */
export const intentIdsIn = (envelopes: readonly unknown[]): string[] =>
  envelopes.flatMap((found) => named.safeParse(found).data?.intentId ?? []);

/** What an envelope asks, where the shop knows such an intent: any other word is the device's own. */
export function kindIn(found: unknown): string {
  const kind = asked.safeParse(found).data?.kind;
  return kind !== undefined && definitionOf(kind) ? kind : "unreadable";
}
