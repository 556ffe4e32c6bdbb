import type { Facts } from "~/core/shop/facts";
import { type Intent, schemaVersion } from "~/core/shop/intent";
import type { Refusal } from "~/core/shop/refusal";
import type { InstantMs } from "~/core/units";
import type { DeviceClock } from "./clock";
import type { IntentQueue } from "./intent-queue";
import type { NotKept } from "./not-kept";
import { judgeHere } from "./optimistic";

export type Proposed =
  /** On the disk of this device, and on its way. `isSure`: judged here as the server would, not just kept. */
  | { state: "kept"; intent: Intent; isSure: boolean }
  /** Refused here and now; nothing was kept. The person decides what to do instead. */
  | { state: "refused"; refusal: Refusal }
  /** The device could not keep it. Nothing was sent. */
  | { state: "not-kept"; failure: NotKept };

export type Propose = (kind: string, body: unknown, said?: { happenedAt?: InstantMs }) => Promise<Proposed>;

type ProposeParts = {
  clock: Pick<DeviceClock, "stamp">;
  newId: () => string;
  queue: IntentQueue;
  isSharedTablet: boolean;
  /** The floor as shown, with what is pending laid over it. */
  shown: () => { facts: Facts; seq: number; pendingCount: number };
  flush: () => Promise<void>;
};

/** How the screens change anything: put in an envelope, judged here, kept on this device, then sent. */
export function proposer({ clock, newId, queue, isSharedTablet, shown, flush }: ProposeParts): Propose {
  return async (kind, body, { happenedAt } = {}) => {
    const { facts, seq, pendingCount } = shown();
    const stamp = clock.stamp();
    const draft = {
      intentId: newId(),
      kind,
      body,
      seenSeq: seq,
      schemaVersion,
      ...(happenedAt === undefined ? {} : { happenedAt }),
    } as const;
    const { expectedOffsetMs, ...measured } = stamp;
    const { memberId, deviceId } = queue.owner;
    // the queue gives the number; no rule looks at it
    const intent: Intent = { ...draft, ...measured, memberId, deviceId, deviceSeq: 1 };
    const { verdict } = judgeHere(facts, { intent, expectedOffsetMs }, { seq: seq + pendingCount + 1, isSharedTablet });
    if (verdict.verdict === "refused-here") return { state: "refused", refusal: verdict.refusal };
    const kept = await queue.add(draft, stamp);
    if (!kept.ok) return { state: "not-kept", failure: kept.refusal };
    // not awaited: kept is kept, whether or not there is a server just now
    void flush();
    return { state: "kept", intent: kept.value, isSure: verdict.verdict === "accepted-here" };
  };
}
