/** What was refused, sent again: with the time that a person has typed, or because the cause is gone. */
import type { Result } from "~/core/result";
import { type Intent, schemaVersion } from "~/core/shop/intent";
import { definitionOf } from "~/core/shop/intents";
import type { InstantMs } from "~/core/units";
import type { DeviceClock, Stamp } from "./clock";
import type { IntentQueue } from "./intent-queue";
import type { NotKept } from "./not-kept";
import type { KeptIntent, RefusedIntent } from "./queue-database";
import type { UnsentIntent } from "./unsent-file";

type MendParts = { queue: IntentQueue; clock: Pick<DeviceClock, "stamp">; newId: () => string; seenSeq: number };

/**
 * Puts refused intents at the end of the line under ids of their own: the shop keeps its answer to the old ones. What was
 * refused only because it rests on one of them goes along.
 *
 * @param happenedAt what a person says of the first of them; the others keep what they said
 */
export function sendAgain(
  { queue, clock, newId, seenSeq }: MendParts,
  intentIds: readonly string[],
  happenedAt?: InstantMs,
): Promise<Result<number, NotKept>> {
  const rows = withDependents(queue.kept, intentIds);
  const mended = rows.map(({ intent }, index): UnsentIntent => {
    const at = index === 0 && happenedAt !== undefined ? happenedAt : happeningOf(intent);
    const { expectedOffsetMs, ...stamp } = stampOf(intent, at, clock);
    const { kind, body, memberId, deviceId } = intent;
    const said = { kind, body, memberId, deviceId, deviceSeq: 1, seenSeq, schemaVersion } as const;
    const again = { intentId: newId(), ...said, ...stamp, ...(at === undefined ? {} : { happenedAt: at }) };
    return expectedOffsetMs === undefined ? { intent: again } : { intent: again, expectedOffsetMs };
  });
  return queue.replace(
    rows.map(({ intent }) => intent.intentId),
    mended,
  );
}

/** Those named, in their order, and all that rests on them. */
export function withDependents(kept: readonly KeptIntent[], intentIds: readonly string[]): RefusedIntent[] {
  const wanted = new Set(intentIds);
  return kept.filter((row): row is RefusedIntent => {
    if (row.state !== "refused") return false;
    const { refusal } = row;
    return wanted.has(row.intent.intentId) || (refusal.kind === "rests-on-refused" && wanted.has(refusal.intentId));
  });
}

const isReport = ({ kind }: Intent): boolean => definitionOf(kind)?.sort === "report";

/** A report keeps its time; a taking that is sent again is made now. */
function happeningOf(intent: Intent): InstantMs | undefined {
  if (intent.happenedAt !== undefined) return intent.happenedAt;
  return isReport(intent) && intent.offsetMs !== undefined ? intent.deviceAt + intent.offsetMs : undefined;
}

/** A report whose time nobody knows goes as it was made, so that it is asked about and not taken for made now. */
function stampOf(intent: Intent, happenedAt: InstantMs | undefined, clock: MendParts["clock"]): Stamp {
  return isReport(intent) && happenedAt === undefined ? { deviceAt: intent.deviceAt } : clock.stamp();
}
