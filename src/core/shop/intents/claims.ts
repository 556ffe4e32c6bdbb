import * as z from "zod/mini";
import { spanOf, spanSeconds } from "../../labour/entry";
import { hasLapsed, leaseEndsAt, liveClaim } from "../../tasks/claim";
import { waitingFor } from "../../tasks/task";
import { text } from "../../text";
import { accepted, alreadySo, type Context, changed, defineIntent, made, type Ruling, refused } from "../define";
import { claimId, memberId, taskId } from "../entities/ids";
import type { Role } from "../entities/people";
import type { ShopEvent } from "../event";
import type { Facts, Need } from "../facts";
import type { Refusal } from "../refusal";
import { floorHands, isMember, partners, roleAt } from "../roles";
import type { Claim, Task } from "../tables";
import { leadLock } from "./lead-lock";
import { notice } from "./notice";
import { taskSecondsComing } from "./timers";

const reads = (body: { taskId: string }, facts: Facts): Need[] => {
  const task = facts.get("task", body.taskId);
  return [
    { table: "task", id: body.taskId },
    { table: "claim", field: "taskId", value: body.taskId },
    { running: true },
    ...(task?.after ?? []).map((id): Need => ({ table: "task", id })),
    ...(task?.pieceId
      ? ([
          { table: "piece", id: task.pieceId },
          { table: "test", field: "pieceId", value: task.pieceId },
        ] satisfies Need[])
      : []),
  ];
};

export const claimTask = defineIntent({
  kind: "claim-task",
  sort: "taking",
  who: floorHands,
  onSharedTablet: true,
  body: z.object({ claimId, taskId, memberIds: z.array(memberId).check(z.minLength(1), z.maxLength(2)) }),
  reads: (body, facts, intent) => [
    ...reads(body, facts),
    // what the loser of a claim has already worked on the task stays, and is told
    ...facts
      .where("claim", "taskId", body.taskId)
      .map((claim): Need => ({ entriesOf: intent.memberId, fromAt: claim.claimedAt })),
  ],
  judge: (c) => {
    const task = c.facts.get("task", c.body.taskId);
    if (!task) return refused({ kind: "unknown-thing", field: "taskId" });
    const people = c.body.memberIds.map((id) => c.facts.get("member", id));
    if (people.some((member) => !member || !isMember(member)) || !c.body.memberIds.includes(c.by.id)) {
      return refused({ kind: "unknown-thing", field: "memberIds" });
    }
    const claims = c.facts.where("claim", "taskId", task.id);
    const live = liveClaim(claims);
    if (live?.memberIds.includes(c.by.id)) return stillMine(c, live);
    const notHands = c.body.memberIds.flatMap((id) => handsRefusal(c, id) ?? [])[0];
    if (notHands) return refused(notHands);
    const hindrance = hindranceOf(c, task, c.body.memberIds);
    if (live && !hasLapsed(live, c.shop, c.facts.running(), c.when.recordedAt)) return heldBySomebody(c, task, live);
    if (hindrance) return hindrance;
    return accepted(...(live ? lapsed(c, live) : []), taken(c, task));
  },
});

/** Work on the floor is held by those who do it: neither the office nor an outlet holds a task. */
function handsRefusal(c: Context<unknown>, memberId: string): Refusal | undefined {
  const role = roleNow(c, memberId);
  return role !== undefined && (floorHands as readonly Role[]).includes(role)
    ? undefined
    : { kind: "may-not", role: role ?? "nobody", needs: [...floorHands], subjectIds: [memberId] };
}

const roleNow = (c: Context<unknown>, memberId: string): Role | undefined => {
  const member = c.facts.get("member", memberId);
  return member && roleAt(member, c.when.recordedAt);
};

type ClaimBody = { claimId: string; taskId: string; memberIds: string[] };

const stillMine = (c: Context<ClaimBody>, live: Claim): Ruling =>
  c.when.madeAt <= live.lastSignAt
    ? alreadySo()
    : accepted({
        kind: "claim-renewed",
        pieceId: live.pieceId,
        memberId: c.by.id,
        changes: [changed("claim", live.id, { lastSignAt: c.when.madeAt })],
      });

function hindranceOf(c: Context<ClaimBody>, task: Task, memberIds: readonly string[]): Ruling | undefined {
  if (task.state === "finished" || task.state === "set-aside") {
    return refused({ kind: "task-is-over", taskId: task.id, state: task.state });
  }
  // a taking is of work still to come: what is known of the paint by now protects those who will do it
  const lead = leadLock(c, task, c.when.recordedAt);
  if (lead) return refused(lead);
  const before = task.after.flatMap((id) => c.facts.get("task", id) ?? []);
  const waits = waitingFor(before, c.when.recordedAt);
  if (waits.taskIds.length > 0) {
    return refused({
      kind: "task-waits",
      taskIds: waits.taskIds,
      waitsUntilAt: waits.untilAt,
      earliestAt: waits.untilAt,
    });
  }
  const missing = task.needsSkills.filter(
    (skill) => !memberIds.some((id) => c.facts.get("member", id)?.skills.includes(skill)),
  );
  if (missing.length === 0) return undefined;
  const membersWith = c.facts
    .all("member")
    .filter((member) => isMember(member) && missing.every((skill) => member.skills.includes(skill)))
    .map((member) => member.id);
  return refused({ kind: "skill-missing", skills: missing, membersWith });
}

/** First accepted stays. Whoever could have seen it is told so; whoever was apart is told kindly, and so is the holder. */
function heldBySomebody(c: Context<ClaimBody>, task: Task, live: Claim): Ruling {
  const rival = {
    taskId: task.id,
    holderId: live.memberIds[0] as string,
    claimedAt: live.claimedAt,
    leaseEndsAt: leaseEndsAt(live, c.shop),
    subjectIds: [task.id],
  };
  if (live.claimedSeq <= c.intent.seenSeq) return refused({ kind: "already-claimed", ...rival });
  const kept = c.facts
    .entries(c.by.id, live.claimedAt)
    .filter((entry) => entry.subjects.some((subject) => subject.taskId === task.id))
    .reduce((sum, entry) => sum + spanSeconds(spanOf(entry, c.when.recordedAt)), 0);
  const keptSeconds = kept + taskSecondsComing(task.id, c.coming);
  const told = live.memberIds.map((id, index) =>
    notice(c, index, id, "claim-contested", { pieceId: task.pieceId, taskId: task.id, detail: { keptSeconds } }),
  );
  return refused(
    { kind: "claimed-while-apart", ...rival, keptSeconds },
    { kind: "claim-contested", pieceId: task.pieceId, memberId: c.by.id, changes: told },
  );
}

const lapsed = (c: Context<ClaimBody>, live: Claim): ShopEvent[] => [
  {
    kind: "claim-ended",
    pieceId: live.pieceId,
    memberId: live.memberIds[0],
    changes: [
      changed("claim", live.id, { endedAt: c.when.recordedAt, ending: "lapsed" }),
      ...live.memberIds.map((id, index) =>
        notice(c, index, id, "claim-lapsed", { pieceId: live.pieceId, taskId: live.taskId }),
      ),
    ],
  },
];

const taken = (c: Context<ClaimBody>, task: Task): ShopEvent => ({
  kind: "claim-taken",
  pieceId: task.pieceId,
  memberId: c.by.id,
  changes: [
    made("claim", {
      id: c.body.claimId,
      taskId: task.id,
      pieceId: task.pieceId,
      memberIds: c.body.memberIds,
      claimedAt: c.when.recordedAt,
      claimedSeq: c.seq,
      lastSignAt: c.when.recordedAt,
    }),
    changed("task", task.id, { state: "held" }),
  ],
});

export const releaseTask = defineIntent({
  kind: "release-task",
  sort: "taking",
  who: floorHands,
  onSharedTablet: true,
  body: z.object({ taskId, note: z.optional(text(300)) }),
  reads,
  judge: (c) => {
    const live = liveClaim(c.facts.where("claim", "taskId", c.body.taskId));
    if (!live) return alreadySo();
    if (!live.memberIds.includes(c.by.id)) return refused({ kind: "not-claimed", taskId: c.body.taskId });
    return accepted({
      kind: "claim-ended",
      pieceId: live.pieceId,
      memberId: c.by.id,
      changes: [
        changed("claim", live.id, { endedAt: c.when.recordedAt, ending: "released", note: c.body.note }),
        changed("task", live.taskId, { state: "open" }),
      ],
    });
  },
});

export const handOverClaim = defineIntent({
  kind: "hand-over-claim",
  sort: "taking",
  who: floorHands,
  onSharedTablet: true,
  body: z.object({ taskId, claimId, toMemberId: memberId, note: z.optional(text(300)) }),
  reads,
  judge: (c) => {
    const live = liveClaim(c.facts.where("claim", "taskId", c.body.taskId));
    if (!live?.memberIds.includes(c.by.id)) return refused({ kind: "not-claimed", taskId: c.body.taskId });
    const to = c.facts.get("member", c.body.toMemberId);
    if (!to || !isMember(to)) return refused({ kind: "unknown-thing", field: "toMemberId" });
    const notHands = handsRefusal(c, to.id);
    if (notHands) return refused(notHands);
    return accepted({
      kind: "claim-handed-over",
      pieceId: live.pieceId,
      memberId: to.id,
      changes: [
        changed("claim", live.id, { endedAt: c.when.recordedAt, ending: "handed-over", note: c.body.note }),
        made("claim", {
          id: c.body.claimId,
          taskId: live.taskId,
          pieceId: live.pieceId,
          memberIds: [to.id],
          claimedAt: c.when.recordedAt,
          claimedSeq: c.seq,
          lastSignAt: c.when.recordedAt,
          note: c.body.note,
        }),
        notice(c, 0, to.id, "claim-handed-over", { pieceId: live.pieceId, taskId: live.taskId }),
      ],
    });
  },
});

export const endClaim = defineIntent({
  kind: "end-claim",
  sort: "word",
  who: partners,
  body: z.object({ taskId, why: text(300) }),
  reads,
  judge: (c) => {
    const live = liveClaim(c.facts.where("claim", "taskId", c.body.taskId));
    if (!live) return alreadySo();
    return accepted({
      kind: "claim-ended",
      pieceId: live.pieceId,
      memberId: c.by.id,
      changes: [
        changed("claim", live.id, { endedAt: c.when.recordedAt, ending: "ended-by-owner", note: c.body.why }),
        changed("task", live.taskId, { state: "open" }),
        ...live.memberIds.map((id, index) =>
          notice(c, index, id, "claim-ended", {
            pieceId: live.pieceId,
            taskId: live.taskId,
            detail: { why: c.body.why },
          }),
        ),
      ],
    });
  },
});
