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

/** An intent in the line, and whether the server has accepted it already. */
type InLine = Pending & { isSettling: boolean };

/** A floor with what was laid over it, so that the next intent can be laid over that. */
export type LaidFloor = OptimisticFloor & {
  facts: OverlayFacts;
  line: readonly InLine[];
  lastMadeAt: InstantMs | undefined;
};

type Circumstances = {
  /** The ledger number that this device has seen. */
  seq: number;
  isSharedTablet: boolean;
  /** Accepted by the server already, but not yet in the floor that this device holds. */
  settling?: readonly Pending[];
  /** What was laid before, and whether the floor beneath, and all else, is still as it was then. */
  last?: { laid: LaidFloor; isFloorSame: boolean };
};

const isSameInLine = (one: InLine, other: InLine | undefined) =>
  one.intent === other?.intent &&
  one.expectedOffsetMs === other.expectedOffsetMs &&
  one.isSettling === other.isSettling;

/**
 * Lays accepted but not yet seen intents, then waiting ones in their order, over the floor. Where nothing beneath has
 * changed and new ones only stand behind those that were laid before, only the new ones are judged.
 */
export function optimisticFloor(
  floor: Facts,
  waiting: readonly Pending[],
  { seq, isSharedTablet, settling = [], last }: Circumstances,
): LaidFloor {
  const settlingIds = new Set(settling.map(({ intent }) => intent.intentId));
  const line: InLine[] = [
    ...settling.map((pending) => ({ ...pending, isSettling: true })),
    ...waiting
      .filter(({ intent }) => !settlingIds.has(intent.intentId))
      .map((pending) => ({ ...pending, isSettling: false })),
  ];
  const before = last?.laid;
  const isMore = last?.isFloorSame && last.laid.line.every((laid, index) => isSameInLine(laid, line[index]));
  const kept = isMore ? last.laid : undefined;
  const facts = kept?.facts.copy() ?? before?.facts.anew(floor) ?? new OverlayFacts(floor);
  const pendingRows = new Set(kept?.pendingRows);
  const verdictByIntentId = new Map(kept?.verdictByIntentId);
  let lastMadeAt = kept?.lastMadeAt;
  for (let index = kept?.line.length ?? 0; index < line.length; index += 1) {
    const { isSettling, ...pending } = line[index] as InLine;
    const judged = judgeHere(facts, pending, { seq: seq + index + 1, isSharedTablet, lastMadeAt });
    lastMadeAt = judged.madeAt;
    if (!isSettling) verdictByIntentId.set(pending.intent.intentId, judged.verdict);
    if (judged.verdict.verdict !== "accepted-here") continue;
    for (const event of judged.verdict.events) {
      const after = apply(facts, event);
      facts.take(after, before?.facts);
      if (!isSettling) for (const { table, row } of after) pendingRows.add(rowKey(table, row.id));
    }
  }
  return { facts, pendingRows, verdictByIntentId, line, lastMadeAt };
}

type JudgingHere = { seq: number; isSharedTablet: boolean; lastMadeAt?: InstantMs };

/**
 * One intent as the server would rule on it had it arrived when it was made. What waits behind it counts there only for
 * the hours worked on a claim lost while apart, of which a device cannot tell: so each is judged by what lies before it.
 */
export function judgeHere(
  facts: Facts,
  pending: Pending,
  { seq, isSharedTablet, lastMadeAt }: JudgingHere,
): { verdict: VerdictHere; madeAt: InstantMs } {
  const intent = asMeasured(pending);
  const recordedAt = Math.max(intent.deviceAt + (intent.offsetMs ?? 0), lastMadeAt ?? 0);
  const when = momentsOf(intent, recordedAt, lastMadeAt);
  if (!when.ok) return { verdict: { verdict: "refused-here", refusal: when.refusal }, madeAt: recordedAt };
  const { madeAt } = when.value;
  try {
    const ruling = judge({ facts, intent, when: when.value, seq, isSharedTablet });
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
