/** What waits on this device, in the order in which it will be sent. */
import type { Facts } from "~/core/shop/facts";
import type { Intent } from "~/core/shop/intent";
import type { InstantMs } from "~/core/units";
import type { KeptIntent } from "~/device/queue-database";
import { ordinal } from "~/ui/floor/pending-pieces";
import { moment } from "~/ui/format";
import type { PendingChange } from "~/ui/kit/pending-list";
import { actWords } from "./act-words";

const takings = ["claim-task", "release-task", "hand-over-claim", "move-stage", "archive-piece"];

type Body = Record<string, unknown>;
const idIn = (body: Body, field: string): string | undefined => {
  const value = body[field];
  return typeof value === "string" ? value : undefined;
};

/** The piece that an intent is about, as this device knows it. */
export function pieceIdOf(facts: Facts, intent: Pick<Intent, "body">): string | undefined {
  const body = (intent.body ?? {}) as Body;
  const direct = idIn(body, "pieceId");
  if (direct) return direct;
  for (const table of ["task", "coat", "surface", "pair", "promise"] as const) {
    const id = idIn(body, `${table}Id`);
    const pieceId = id && facts.get(table, id)?.pieceId;
    if (pieceId) return pieceId;
  }
  const [first] = Array.isArray(body.subjects) ? (body.subjects as Body[]) : [];
  if (first) return idIn(first, "pieceId");
  const entry = facts.running().find(({ id }) => id === body.entryId);
  return entry?.subjects[0]?.pieceId;
}

/** When it was done, by the server's clock as far as this device knew it. */
export const madeAt = ({ intent, expectedOffsetMs }: Pick<KeptIntent, "intent" | "expectedOffsetMs">): InstantMs =>
  intent.happenedAt ?? intent.deviceAt + (intent.offsetMs ?? expectedOffsetMs ?? 0);

type Now = { now: InstantMs; zone: string; heardAt?: InstantMs };

export const pendingChanges = (
  facts: Facts,
  waiting: readonly KeptIntent[],
  { now, zone, heardAt }: Now,
): PendingChange[] =>
  waiting.map((kept, index) => {
    const { intent } = kept;
    const pieceId = pieceIdOf(facts, intent);
    const body = (intent.body ?? {}) as Body;
    const task = facts.get("task", idIn(body, "taskId") ?? "");
    // rags put away say so by themselves
    const title = task?.sort === "close-out" ? undefined : (task?.title ?? idIn(body, "title"));
    const act = actWords[intent.kind] ?? intent.kind.replaceAll("-", " ");
    return {
      id: intent.intentId,
      tag: pieceId && facts.get("piece", pieceId)?.number,
      href: pieceId && `/piece?id=${pieceId}`,
      place: `${ordinal(index + 1)}, ${moment(madeAt(kept), now, zone)}`,
      act: title ? `${act}: ${title}` : act,
      note:
        takings.includes(intent.kind) && heardAt !== undefined
          ? `As this device last heard, ${moment(heardAt, now, zone)}. Somebody else may have been first.`
          : undefined,
    };
  });
