import * as z from "zod/mini";
import { type LeadState, leadState, methodLock } from "../../safety/lead";
import { text } from "../../text";
import type { InstantMs } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, refused } from "../define";
import { pieceId } from "../entities/ids";
import type { Method } from "../entities/pieces";
import type { Change } from "../event";
import type { Facts, Need } from "../facts";
import type { RefusalOf } from "../refusal";
import { partners, roleAt } from "../roles";
import type { Piece, Shop, Task } from "../tables";
import { notice } from "./notice";

type Known = Pick<Context<unknown>, "facts" | "shop">;

const stateOf = ({ facts, shop }: Known, piece: Piece, at: InstantMs): LeadState =>
  leadState(piece, facts.where("test", "pieceId", piece.id), shop.leadBanYear, at);

const lockedOf = (methods: readonly Method[], state: LeadState, shop: Shop): Method[] => [
  ...new Set(methods.filter((method) => methodLock(state, method, shop.swabSuffices) === "locked")),
];

/** What a lock rests on: the piece and every test of its paint. */
export const leadNeeds = (piece: string): Need[] => [
  { table: "piece", id: piece },
  { table: "test", field: "pieceId", value: piece },
];

/** Old paint that may hold lead is not sanded dry or heated: the refusal of work whose methods would raise its dust. */
export function leadLockOn(
  known: Known,
  piece: Piece,
  methods: readonly Method[],
  at: InstantMs,
): RefusalOf<"lead-locked"> | undefined {
  const state = stateOf(known, piece, at);
  const locked = lockedOf(methods, state, known.shop);
  if (locked.length === 0) return undefined;
  const banYear = known.shop.leadBanYear;
  return { kind: "lead-locked", leadState: state, methods: locked, banYear, subjectIds: [piece.id] };
}

/** The same for a task. Paint is judged as it was known when the work is said to be done; a taking, as it is known now. */
export function leadLock(known: Known, task: Task, at: InstantMs): RefusalOf<"lead-locked"> | undefined {
  const piece = task.pieceId ? known.facts.get("piece", task.pieceId) : undefined;
  return piece && leadLockOn(known, piece, task.methods, at);
}

/**
 * What follows where locked work was done all the same: nobody knows what its dust held, so the piece counts as lead from
 * then on, and the owners are told. Nothing where no task was locked, or a laboratory has cleared the paint by now.
 *
 * @param ordinal of the first notice: notices of one intent must differ
 */
export function leadDone(c: Context<unknown>, tasks: readonly Task[], at: InstantMs, ordinal = 100): Change[] {
  const isLocked = (task: Task) => leadLock(c, task, at) && leadLock(c, task, c.when.recordedAt);
  const pieceIds = new Set(tasks.filter(isLocked).flatMap((task) => task.pieceId ?? []));
  const owners = c.facts.all("member").filter((member) => roleAt(member, c.when.recordedAt) === "owner");
  return [...pieceIds].flatMap((id, index) => {
    const piece = c.facts.get("piece", id) as Piece;
    return [
      ...(piece.treatAsLead ? [] : [changed("piece", id, { treatAsLead: { by: c.by.id, at, why: doneWhy } })]),
      ...owners.map((owner, place) =>
        notice(c, ordinal + index * owners.length + place, owner.id, "treated-as-lead", { pieceId: id }),
      ),
    ];
  });
}

const doneWhy = "Sanded dry, heated or stripped before its paint was known";

/** The tasks that work was on. */
export const tasksOf = (facts: Facts, subjects: readonly { taskId?: string }[]): Task[] =>
  subjects.flatMap((subject) => (subject.taskId ? (facts.get("task", subject.taskId) ?? []) : []));

/** Somebody decides that a piece counts as lead, tested or not. Only stripping and a laboratory undo it. */
export const treatAsLead = defineIntent({
  kind: "treat-as-lead",
  sort: "word",
  who: partners,
  body: z.object({ pieceId, why: text(300) }),
  reads: (body) => [{ table: "piece", id: body.pieceId }],
  judge: (c) => {
    const piece = c.facts.get("piece", c.body.pieceId);
    if (!piece) return refused({ kind: "unknown-thing", field: "pieceId" });
    if (piece.treatAsLead) return alreadySo();
    return accepted({
      kind: "lead-decided",
      pieceId: piece.id,
      memberId: c.by.id,
      changes: [changed("piece", piece.id, { treatAsLead: { by: c.by.id, at: c.when.happenedAt, why: c.body.why } })],
    });
  },
});
