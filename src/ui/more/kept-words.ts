/** What waits on this device, in the order in which it will be sent. */
import type { Facts } from "~/core/shop/facts";
import type { Intent } from "~/core/shop/intent";
import type { InstantMs } from "~/core/units";
import type { KeptIntent } from "~/device/queue-database";
import { moment } from "~/ui/format";
import type { PendingChange } from "~/ui/kit/pending-list";

/** What was done, in the past tense of whoever did it. */
export const actWords: Record<string, string> = {
  "claim-task": "Task taken",
  "end-claim": "Somebody’s claim ended",
  "hand-over-claim": "Task handed over",
  "release-task": "Task released",
  "log-coat": "Coat laid",
  "log-mend": "Flaw mended",
  "log-wiped": "Wiped back",
  "report-flaw": "Flaw seen",
  "report-removed": "Coat taken off",
  "add-entry": "Hours written",
  "correct-entry": "Hours corrected",
  "change-role": "Role changed",
  "edit-member": "Member changed",
  "end-membership": "Membership ended",
  invite: "Invitation made",
  leave: "Left the shop",
  "withdraw-invitation": "Invitation taken back",
  "see-notice": "Message seen",
  "press-together": "Pressed together",
  "set-apart": "Set apart",
  "add-piece": "Piece added",
  "archive-piece": "Piece put away",
  "edit-piece": "Piece changed",
  "restore-piece": "Piece brought back",
  "add-board": "Board added",
  "add-room": "Room added",
  "close-board": "Board closed",
  "close-room": "Room closed",
  "edit-board": "Board changed",
  "edit-room": "Room changed",
  "add-product": "Product added",
  "copy-sheet": "Data sheet copied",
  "edit-sheet": "Data sheet changed",
  "retire-product": "Product retired",
  "drop-promise": "Promise dropped",
  "keep-promise": "Promise kept",
  "move-promise": "Promise moved",
  promise: "Promise made",
  "close-out-rags": "Oily rags put away",
  "import-readings": "Readings imported",
  "record-reading": "Reading written",
  "retract-import": "Import taken back",
  "retract-reading": "Reading taken back",
  "move-room": "Carried to another room",
  "change-schedule": "Schedule changed",
  "set-shop": "Shop changed",
  "move-stage": "Stage moved",
  "add-surface": "Surface added",
  "edit-surface": "Surface changed",
  "set-pairs": "Faces that touch noted",
  "add-task": "Task added",
  "edit-task": "Task changed",
  "finish-task": "Task finished",
  "reopen-task": "Task opened again",
  "set-aside-task": "Task set aside",
  "record-test": "Test by hand",
  "take-back-test": "Test taken back",
  "start-timer": "Timer started",
  "stop-timer": "Timer stopped",
};

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

/** "1st", "2nd", "3rd", "4th", "11th" */
export function ordinal(place: number): string {
  const teen = place % 100 >= 11 && place % 100 <= 13;
  const ending = teen ? "th" : (["th", "st", "nd", "rd"][place % 10] ?? "th");
  return `${place}${ending}`;
}

/** When it was done, by the server's clock as far as this device knew it. */
export const madeAt = ({ intent, expectedOffsetMs }: Pick<KeptIntent, "intent" | "expectedOffsetMs">): InstantMs =>
  intent.happenedAt ?? intent.deviceAt + (intent.offsetMs ?? expectedOffsetMs ?? 0);

type Now = { now: InstantMs; zone: string; heardAt?: InstantMs };

export const pendingChanges = (facts: Facts, waiting: readonly KeptIntent[], { now, zone, heardAt }: Now): PendingChange[] =>
  waiting.map((kept, index) => {
    const { intent } = kept;
    const pieceId = pieceIdOf(facts, intent);
    const body = (intent.body ?? {}) as Body;
    const task = idIn(body, "taskId");
    const title = (task && facts.get("task", task)?.title) ?? idIn(body, "title");
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
