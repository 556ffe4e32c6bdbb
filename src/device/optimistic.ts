/**
 * What the screens show before the server has ruled: the pending intents, judged and applied here by the same rules, laid
 * over the floor. Each is judged at the moment when it was made, so the answer rests on the floor and the queue alone
 * and not on when it is worked out.
 */
import { apply } from "~/core/shop/apply";
import type { ShopEvent } from "~/core/shop/event";
import { CannotTellHere, type Facts } from "~/core/shop/facts";
import type { Intent } from "~/core/shop/intent";
import { judge } from "~/core/shop/judge";
import { momentsOf } from "~/core/shop/moments";
import type { Refusal } from "~/core/shop/refusal";
import type { TableName } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { OverlayFacts } from "./overlay-facts";

export type VerdictHere =
  | { verdict: "accepted-here"; events: ShopEvent[] }
  | { verdict: "refused-here"; refusal: Refusal }
  | { verdict: "cannot-tell"; missing: string };

export type Pending = {
  intent: Intent;
  /** Not measured when it was made: taken for true until the next contact says otherwise. */
  expectedOffsetMs?: number;
};

export type RowKey = `${TableName}:${string}`;
export const rowKey = (table: TableName, id: string): RowKey => `${table}:${id}`;

export type OptimisticFloor = {
  facts: Facts;
  /** The rows that are shown as they will be if the server agrees. */
  pendingRows: ReadonlySet<RowKey>;
  verdictByIntentId: ReadonlyMap<string, VerdictHere>;
};

type Circumstances = {
  /** The ledger number that this device has seen. */
  seq: number;
  isSharedTablet: boolean;
  /** Accepted by the server already, but not yet in the floor that this device holds. */
  settling?: readonly Pending[];
};

/** Lays accepted but not yet seen intents, then waiting ones in their order, over the floor. */
export function optimisticFloor(
  floor: Facts,
  waiting: readonly Pending[],
  { seq, isSharedTablet, settling = [] }: Circumstances,
): OptimisticFloor {
  const facts = new OverlayFacts(floor);
  const pendingRows = new Set<RowKey>();
  const verdictByIntentId = new Map<string, VerdictHere>();
  const settlingIds = new Set(settling.map(({ intent }) => intent.intentId));
  const inLine = [...settling, ...waiting.filter(({ intent }) => !settlingIds.has(intent.intentId))];
  let lastMadeAt: InstantMs | undefined;
  const measured = inLine.map((pending) => asMeasured(pending));
  inLine.forEach((pending, index) => {
    const coming = measured.slice(index + 1);
    const judged = judgeHere(facts, pending, { seq: seq + index + 1, isSharedTablet, lastMadeAt, coming });
    const { intentId } = pending.intent;
    lastMadeAt = judged.madeAt;
    const isSettling = settlingIds.has(intentId);
    if (!isSettling) verdictByIntentId.set(intentId, judged.verdict);
    if (judged.verdict.verdict !== "accepted-here") return;
    for (const event of judged.verdict.events) {
      const after = apply(facts, event);
      facts.take(after);
      if (!isSettling) for (const { table, row } of after) pendingRows.add(rowKey(table, row.id));
    }
  });
  return { facts, pendingRows, verdictByIntentId };
}

type JudgingHere = { seq: number; isSharedTablet: boolean; lastMadeAt?: InstantMs; coming?: readonly Intent[] };

/** One intent as the server would rule on it had it arrived when it was made. */
export function judgeHere(
  facts: Facts,
  pending: Pending,
  { seq, isSharedTablet, lastMadeAt, coming }: JudgingHere,
): { verdict: VerdictHere; madeAt: InstantMs } {
  const intent = asMeasured(pending);
  const recordedAt = Math.max(intent.deviceAt + (intent.offsetMs ?? 0), lastMadeAt ?? 0);
  const when = momentsOf(intent, recordedAt, lastMadeAt);
  if (!when.ok) return { verdict: { verdict: "refused-here", refusal: when.refusal }, madeAt: recordedAt };
  const { madeAt } = when.value;
  try {
    const ruling = judge({ facts, intent, when: when.value, seq, isSharedTablet, coming });
    if (ruling.verdict === "accepted") return { verdict: { verdict: "accepted-here", events: ruling.events }, madeAt };
    const { refusal } = ruling;
    // a thing may have been archived, ended or not have arrived yet: only the server knows all of them
    if (refusal.kind === "unknown-thing")
      return { verdict: { verdict: "cannot-tell", missing: refusal.field }, madeAt };
    return { verdict: { verdict: "refused-here", refusal }, madeAt };
  } catch (error) {
    if (!(error instanceof CannotTellHere)) throw error;
    return { verdict: { verdict: "cannot-tell", missing: error.missing }, madeAt };
  }
}

const asMeasured = ({ intent, expectedOffsetMs }: Pending): Intent =>
  intent.offsetMs === undefined && expectedOffsetMs !== undefined ? { ...intent, offsetMs: expectedOffsetMs } : intent;
