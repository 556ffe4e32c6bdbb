import * as z from "zod/mini";
import { text } from "../../text";
import { accepted, alreadySo, changed, defineIntent, refused } from "../define";
import { taskId } from "../entities/ids";
import type { Role } from "../entities/people";
import type { Facts, Need } from "../facts";
import { floorHands } from "../roles";
import { notice } from "./notice";
import { claimEnds } from "./task-ends";

/**
 * How oily rags are put away: they heat by themselves when heaped. Flat in one layer in the open, or under water in a
 * lidded metal can. The data sheet and local fire code go before this list. Source: common practice.
 */
export const safeRagEnds = ["flat-outdoors", "water-can"] as const;
const isSafeEnd = (how: string) => (safeRagEnds as readonly string[]).includes(how);

const ragsBackMin: Partial<Record<Role, number>> = { helper: 24 * 60, partner: 72 * 60, owner: 72 * 60 };

const reads = (body: { taskId: string }, facts: Facts): Need[] => {
  const coatId = facts.get("task", body.taskId)?.coatId;
  return [
    { table: "task", id: body.taskId },
    { table: "claim", field: "taskId", value: body.taskId },
    ...(coatId ? [{ table: "coat" as const, id: coatId }] : []),
  ];
};

export const closeOutRags = defineIntent({
  kind: "close-out-rags",
  sort: "report",
  who: floorHands,
  oldestMin: ragsBackMin,
  body: z.object({ taskId, how: text(40) }),
  reads,
  judge: (c) => {
    const task = c.facts.get("task", c.body.taskId);
    if (task?.sort !== "close-out") return refused({ kind: "unknown-thing", field: "taskId" });
    if (!isSafeEnd(c.body.how)) return refused({ kind: "rags-not-safe", taskId: task.id, how: c.body.how });
    if (task.state === "finished") return alreadySo();
    const laidAt = task.coatId ? c.facts.get("coat", task.coatId)?.applied?.startedAt : undefined;
    if (laidAt !== undefined && c.when.happenedAt < laidAt) {
      return refused({ kind: "before-it-existed", thing: task.title, happenedAt: c.when.happenedAt, cameAt: laidAt });
    }
    const others = c.facts
      .where("claim", "taskId", task.id)
      .filter((claim) => claim.endedAt === undefined)
      .flatMap((claim) => claim.memberIds.filter((id) => id !== c.by.id));
    return accepted({
      kind: "task-finished",
      pieceId: task.pieceId,
      memberId: c.by.id,
      changes: [
        changed("task", task.id, {
          state: "finished",
          finished: { at: c.when.happenedAt, by: c.by.id, how: c.body.how },
        }),
        ...claimEnds(c, task, "finished"),
        ...others.map((id, index) =>
          notice(c, index, id, "task-finished-by-other", { pieceId: task.pieceId, taskId: task.id }),
        ),
      ],
    });
  },
});
