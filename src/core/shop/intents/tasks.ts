import * as z from "zod/mini";
import { ringThrough } from "../../tasks/task";
import { text } from "../../text";
import { instant, quantity } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, type Ruling, refused } from "../define";
import { jointId, pieceId, surfaceId, taskId } from "../entities/ids";
import { type Role, skills } from "../entities/people";
import { methods } from "../entities/pieces";
import { taskSorts } from "../entities/work";
import type { Facts, Need } from "../facts";
import { editField } from "../field-edit";
import { floorHands, partners } from "../roles";
import type { Task } from "../tables";
import { leadDone, leadLock, leadNeeds } from "./lead-lock";
import { notice } from "./notice";
import { claimEnds } from "./task-ends";
import { wettedByTask } from "./water";

/** Close-out tasks (oily rags) are made by the rules alone. */
const sortsByHand = taskSorts.filter((sort) => sort !== "close-out");

const taskFields = {
  title: text(120),
  methods: z.array(z.enum(methods)),
  surfaceIds: z.array(surfaceId).check(z.maxLength(40)),
  needsSkills: z.array(z.enum(skills)),
  needsMembers: quantity("needsMembers"),
  after: z.array(taskId).check(z.maxLength(40)),
  waitsMin: z.optional(quantity("durationMin")),
  estimateMin: z.optional(quantity("durationMin")),
  dueAt: z.optional(instant),
};

export const addTask = defineIntent({
  kind: "add-task",
  sort: "plan",
  who: floorHands,
  body: z.object({
    taskId,
    pieceId: z.optional(pieceId),
    /** The joint that is to be looked at, or glued again. */
    jointId: z.optional(jointId),
    sort: z.enum(sortsByHand),
    ...taskFields,
    methods: z._default(taskFields.methods, []),
    surfaceIds: z._default(taskFields.surfaceIds, []),
    needsSkills: z._default(taskFields.needsSkills, []),
    needsMembers: z._default(taskFields.needsMembers, 1),
    after: z._default(taskFields.after, []),
  }),
  reads: (body) => [
    ...(body.pieceId
      ? ([
          { table: "piece", id: body.pieceId },
          { table: "surface", field: "pieceId", value: body.pieceId },
          { table: "task", field: "pieceId", value: body.pieceId },
        ] satisfies Need[])
      : []),
    ...(body.jointId ? ([{ table: "joint", id: body.jointId }] satisfies Need[]) : []),
    ...body.after.map((id): Need => ({ table: "task", id })),
  ],
  judge: (c) => {
    const { taskId: id, ...fields } = c.body;
    const piece = fields.pieceId ? c.facts.get("piece", fields.pieceId) : undefined;
    if (fields.pieceId && !piece) return refused({ kind: "unknown-thing", field: "pieceId" });
    if (piece?.archivedAt !== undefined) {
      return refused({
        kind: "after-it-left",
        thing: piece.number,
        happenedAt: c.when.happenedAt,
        leftAt: piece.archivedAt,
      });
    }
    if (fields.after.some((other) => !c.facts.get("task", other)))
      return refused({ kind: "unknown-thing", field: "after" });
    if (fields.surfaceIds.some((surface) => !piece || c.facts.get("surface", surface)?.pieceId !== piece.id)) {
      return refused({ kind: "unknown-thing", field: "surfaceIds" });
    }
    if (fields.jointId && (!piece || c.facts.get("joint", fields.jointId)?.pieceId !== piece.id)) {
      return refused({ kind: "unknown-thing", field: "jointId" });
    }
    return accepted({
      kind: "task-added",
      pieceId: fields.pieceId,
      memberId: c.by.id,
      changes: [made("task", { id, ...fields, state: "open" })],
    });
  },
});

/** Every task of the piece, so that a ring in their order is seen. */
const taskNeeds = (body: { taskId: string }, facts: Facts): Need[] => {
  const task = facts.get("task", body.taskId);
  return [
    { table: "task", id: body.taskId },
    { table: "claim", field: "taskId", value: body.taskId },
    { running: true },
    ...(task?.pieceId ? ([{ table: "task", field: "pieceId", value: task.pieceId }] satisfies Need[]) : []),
  ];
};

const editable = z.discriminatedUnion("field", [
  z.object({ taskId, field: z.literal("title"), was: z.optional(z.unknown()), value: taskFields.title }),
  z.object({ taskId, field: z.literal("methods"), was: z.optional(z.unknown()), value: taskFields.methods }),
  z.object({ taskId, field: z.literal("needsSkills"), was: z.optional(z.unknown()), value: taskFields.needsSkills }),
  z.object({ taskId, field: z.literal("needsMembers"), was: z.optional(z.unknown()), value: taskFields.needsMembers }),
  z.object({ taskId, field: z.literal("after"), was: z.optional(z.unknown()), value: taskFields.after }),
  z.object({ taskId, field: z.literal("waitsMin"), was: z.optional(z.unknown()), value: taskFields.waitsMin }),
  z.object({ taskId, field: z.literal("estimateMin"), was: z.optional(z.unknown()), value: taskFields.estimateMin }),
  z.object({ taskId, field: z.literal("dueAt"), was: z.optional(z.unknown()), value: taskFields.dueAt }),
]);

export const editTask = defineIntent({
  kind: "edit-task",
  sort: "plan",
  who: partners,
  body: editable,
  reads: taskNeeds,
  judge: (c) => {
    const task = c.facts.get("task", c.body.taskId);
    if (!task) return refused({ kind: "unknown-thing", field: "taskId" });
    // oily rags are never put off, nor made to wait for anything
    if (task.sort === "close-out") return refused({ kind: "rags-not-safe", taskId: task.id, how: "changed" });
    if (c.body.field === "after") {
      const tasksById = new Map(c.facts.where("task", "pieceId", task.pieceId ?? "").map((other) => [other.id, other]));
      if (c.body.value.some((id) => !tasksById.has(id))) return refused({ kind: "unknown-thing", field: "after" });
      const ring = ringThrough(task.id, c.body.value, tasksById);
      if (ring) return refused({ kind: "task-cycle", taskIds: ring });
    }
    return editField(c, "task", task, { kind: "task-changed", pieceId: task.pieceId });
  },
});

export const setAsideTask = defineIntent({
  kind: "set-aside-task",
  sort: "plan",
  who: partners,
  body: z.object({ taskId, why: text(300) }),
  reads: taskNeeds,
  judge: (c) => {
    const task = c.facts.get("task", c.body.taskId);
    if (!task) return refused({ kind: "unknown-thing", field: "taskId" });
    // oily rags are never put off
    if (task.sort === "close-out") return refused({ kind: "rags-not-safe", taskId: task.id, how: "set-aside" });
    if (task.state === "set-aside") return alreadySo();
    if (task.state === "finished") return refused({ kind: "task-is-over", taskId: task.id, state: task.state });
    return accepted({
      kind: "task-set-aside",
      pieceId: task.pieceId,
      memberId: c.by.id,
      changes: [
        changed("task", task.id, { state: "set-aside", setAsideWhy: c.body.why }),
        ...claimEnds(c, task, "released"),
      ],
    });
  },
});

/** A stage move, a finished task, a wipe: how far back each role writes them. */
const finishBackMin: Partial<Record<Role, number>> = { helper: 24 * 60, partner: 72 * 60, owner: 72 * 60 };

export const finishTask = defineIntent({
  kind: "finish-task",
  sort: "report",
  who: floorHands,
  oldestMin: finishBackMin,
  body: z.object({
    taskId,
    leftUndone: z.optional(text(300)),
    /** Dry sanding or heat on paint that may hold lead is refused while it asks; told as done, lead follows. */
    stance: z._default(z.enum(["asking", "done"]), "asking"),
  }),
  reads: (body, facts) => {
    const piece = facts.get("task", body.taskId)?.pieceId;
    const surfaces: Need[] = piece ? [{ table: "surface", field: "pieceId", value: piece }] : [];
    return [...taskNeeds(body, facts), ...surfaces, ...(piece ? leadNeeds(piece) : [])];
  },
  judge: (c) => {
    const task = c.facts.get("task", c.body.taskId);
    if (!task) return refused({ kind: "unknown-thing", field: "taskId" });
    if (task.sort === "close-out") return refused({ kind: "rags-not-safe", taskId: task.id, how: "unsaid" });
    if (task.state === "finished") return alreadySo();
    const lead = leadLock(c, task, c.when.happenedAt);
    if (lead && c.body.stance === "asking") return refused(lead);
    return finished(c, task);
  },
});

function finished(c: Context<{ leftUndone?: string }>, task: Task): Ruling {
  const live = c.facts.where("claim", "taskId", task.id).find((claim) => claim.endedAt === undefined);
  const others = live && !live.memberIds.includes(c.by.id) ? live.memberIds : [];
  return accepted({
    kind: "task-finished",
    pieceId: task.pieceId,
    memberId: c.by.id,
    changes: [
      changed("task", task.id, {
        state: "finished",
        finished: { at: c.when.happenedAt, by: c.by.id, leftUndone: c.body.leftUndone },
      }),
      ...claimEnds(c, task, "finished"),
      ...others.map((id, index) =>
        notice(c, index, id, "task-finished-by-other", { pieceId: task.pieceId, taskId: task.id }),
      ),
      ...leadDone(c, [task], c.when.happenedAt),
      ...wettedByTask(c.facts, task, c.when.happenedAt),
    ],
  });
}

export const reopenTask = defineIntent({
  kind: "reopen-task",
  sort: "report",
  who: floorHands,
  body: z.object({ taskId, cause: text(120) }),
  reads: taskNeeds,
  judge: (c) => {
    const task = c.facts.get("task", c.body.taskId);
    if (!task) return refused({ kind: "unknown-thing", field: "taskId" });
    if (task.state === "open" || task.state === "held") return alreadySo();
    return accepted({
      kind: "task-reopened",
      pieceId: task.pieceId,
      memberId: c.by.id,
      changes: [
        changed("task", task.id, { state: "open", finished: null, setAsideWhy: null, reworkCause: c.body.cause }),
      ],
    });
  },
});
