/** Taking back what was done on this device: out of the queue where it never left, else asked of the server. */
import type { Facts } from "~/core/shop/facts";
import type { Intent } from "~/core/shop/intent";
import { somethingRests } from "~/core/shop/intents/take-back";
import type { PastEntry } from "~/core/shop/past";
import { restsOn } from "~/core/shop/rests-on";
import type { IntentQueue } from "./intent-queue";
import type { VerdictHere } from "./optimistic";
import type { Propose, Proposed } from "./propose";
import type { WaitingIntent } from "./queue-database";

/** `withdrawn`: it was never sent, and nobody will hear of it. */
export type TakenBack = { state: "withdrawn" } | Proposed;

export type TakeBack = (intentId: string) => Promise<TakenBack>;

type TakeBackParts = {
  queue: Pick<IntentQueue, "waiting" | "withdraw">;
  propose: Propose;
  /** The floor as shown, and what this device thinks of what waits. */
  shown: () => { facts: Facts; verdictByIntentId: ReadonlyMap<string, VerdictHere> };
};

export const takerBack =
  ({ queue, propose, shown }: TakeBackParts): TakeBack =>
  async (intentId) => {
    const { waiting } = queue;
    const index = waiting.findIndex(({ intent }) => intent.intentId === intentId);
    const row = waiting[index];
    if (row && !row.hasTravelled) {
      const resting = restingInLine(row, waiting.slice(index + 1), shown());
      if (resting.length > 0) return { state: "refused", refusal: somethingRests(row.intent.kind, resting) };
      if (await queue.withdraw(intentId)) return { state: "withdrawn" };
    }
    return propose("take-back", { intentId });
  };

/** What waits behind it and rests on it, by the rule of the ledger, as far as this device can tell what each will do. */
function restingInLine(
  row: WaitingIntent,
  behind: readonly WaitingIntent[],
  { facts, verdictByIntentId }: ReturnType<TakeBackParts["shown"]>,
): PastEntry[] {
  const entryOf = ({ intent, expectedOffsetMs = 0 }: WaitingIntent): PastEntry | undefined => {
    const verdict = verdictByIntentId.get(intent.intentId);
    const { intentId, kind, memberId, deviceAt, offsetMs = expectedOffsetMs } = intent;
    const events = verdict?.verdict === "accepted-here" ? verdict.events : undefined;
    const madeAt = intent.happenedAt ?? deviceAt + offsetMs;
    return events && { intentId, kind, memberId, madeAt, events };
  };
  const earlier = entryOf(row);
  return behind.flatMap((other) => {
    const later = entryOf(other);
    const rests = earlier && later ? restsOn(facts, later, earlier) : namesTheSame(row.intent, other.intent);
    if (!rests) return [];
    const { intentId, kind, memberId, deviceAt, offsetMs = 0 } = other.intent;
    return [later ?? { intentId, kind, memberId, madeAt: deviceAt + offsetMs, events: [] }];
  });
}

const ids = /[0-9a-f]{8}-[0-9a-f]{4}-[78][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}/g;

/** Where this device cannot tell what one of them does, to speak of one same thing is enough. */
const namesTheSame = (one: Intent, other: Intent): boolean => {
  const named = new Set([...(JSON.stringify(one.body).match(ids) ?? []), one.intentId]);
  return (JSON.stringify(other.body).match(ids) ?? []).some((id) => named.has(id));
};
