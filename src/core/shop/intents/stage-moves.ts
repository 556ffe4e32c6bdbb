import * as z from "zod/mini";
import { type Gate, gate } from "../../cure/gate";
import { type JointLevel, worstHindrance } from "../../cure/joint-gates";
import type { Picture } from "../../cure/picture";
import { makesDust } from "../../safety/lead";
import { text } from "../../text";
import { type InstantMs, minuteMs } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { pieceId } from "../entities/ids";
import type { Role } from "../entities/people";
import { type Stage, stages } from "../entities/pieces";
import { evidenceOf, refusalOfGate, refusalOfJoint } from "../gate-ruling";
import { pictureOf } from "../picture";
import type { Refusal } from "../refusal";
import { floorHands } from "../roles";
import type { Task } from "../tables";
import { leadLockOn } from "./lead-lock";
import { notice } from "./notice";
import { gateNeeds, workNeeds } from "./piece-needs";
import { scheduleRefusal } from "./schedule-guard";
import { woodRefusal } from "./wood-guard";

/** Why a piece goes back; the later work on it counts as rework with that reason. */
export const backReasons = [
  "another-coat",
  "flaw",
  "damage",
  "failed-joint",
  "buyer-returned",
  "changed-plan",
  "mistake",
] as const;

const stageBackMin: Partial<Record<Role, number>> = { helper: 24 * 60, partner: 72 * 60, owner: 72 * 60 };

/** A helper moves a piece forward within these; everything else is the partners'. */
const helperStages: readonly Stage[] = ["repair", "prep", "finish"];

const moveBody = z.object({
  pieceId,
  fromStage: z.enum(stages),
  toStage: z.enum(stages),
  reason: z.optional(z.enum(backReasons)),
  why: z.optional(text(300)),
});
type MoveBody = z.infer<typeof moveBody>;

export const moveStage = defineIntent({
  kind: "move-stage",
  sort: "taking",
  who: floorHands,
  oldestMin: stageBackMin,
  body: moveBody,
  reads: (body, facts, intent) => [
    ...workNeeds(body.pieceId),
    ...gateNeeds(body.pieceId, facts, intent.deviceAt),
    { table: "stageMove", field: "pieceId", value: body.pieceId },
  ],
  judge: (c) => {
    const picture = pictureOf(c.facts, c.body.pieceId);
    if (!picture) return refused({ kind: "unknown-thing", field: "pieceId" });
    const { piece } = picture;
    const { fromStage, toStage } = c.body;
    if (piece.stage === toStage) return alreadySo();
    if (piece.stage !== fromStage) return movedMeanwhile(c, picture);
    const isBack = stages.indexOf(toStage) < stages.indexOf(fromStage);
    const isHelpersMove = !isBack && helperStages.includes(fromStage) && helperStages.includes(toStage);
    if (c.role === "helper" && !isHelpersMove)
      return refused({ kind: "may-not", role: c.role, needs: ["partner", "owner"] });
    if (isBack && !c.body.reason) return refused({ kind: "reason-missing", reasons: [...backReasons] });
    const passed = isBack ? { handle: undefined } : forwardGuards(c, picture);
    if ("refusal" in passed) return refused(passed.refusal);
    return accepted({
      kind: "stage-moved",
      pieceId: piece.id,
      memberId: c.by.id,
      changes: [
        changed("piece", piece.id, { stage: toStage, stageSinceAt: c.when.happenedAt }),
        made("stageMove", {
          id: c.newId(1),
          pieceId: piece.id,
          from: fromStage,
          to: toStage,
          happenedAt: c.when.happenedAt,
          by: c.by.id,
          reason: c.body.reason,
          why: c.body.why,
          evidence: passed.handle && evidenceOf(passed.handle),
        }),
      ],
    });
  },
});

/** The first accepted move stands; both are shown what the other meant. */
function movedMeanwhile(c: Context<MoveBody>, { piece }: Picture) {
  const last = c.facts
    .where("stageMove", "pieceId", piece.id)
    .reduce<{ by: string; happenedAt: number } | undefined>(
      (latest, move) => (latest && latest.happenedAt > move.happenedAt ? latest : move),
      undefined,
    );
  const refusal: Refusal = {
    kind: "moved-meanwhile",
    fromStage: c.body.fromStage,
    to: piece.stage,
    byMemberId: last?.by ?? c.by.id,
    at: last?.happenedAt ?? piece.stageSinceAt,
  };
  if (!last || last.by === c.by.id) return refused(refusal);
  const told = notice(c, 0, last.by, "stage-moved-meanwhile", {
    pieceId: piece.id,
    detail: { toStage: c.body.toStage },
  });
  return refused(refusal, { kind: "stage-move-crossed", pieceId: piece.id, memberId: c.by.id, changes: [told] });
}

/** Skipping forward passes every guard between; guards about what this shop cannot record yet count as met. */
function forwardGuards(c: Context<MoveBody>, picture: Picture): { refusal: Refusal } | { handle?: Gate } {
  const from = stages.indexOf(c.body.fromStage);
  const to = stages.indexOf(c.body.toStage);
  let handle: Gate | undefined;
  for (let step = from; step < to; step++) {
    const [stage, next] = [stages[step] as Stage, stages[step + 1] as Stage];
    const refusal = stepRefusal(c, picture, stage);
    if (refusal) return { refusal };
    if (next !== "listed" && next !== "sold") continue;
    handle = gate(picture, { action: "move", carried: "hands" }, c.when.madeAt);
    if (handle.state !== "open") return { refusal: refusalOfGate(handle, picture) };
  }
  return { handle };
}

function stepRefusal(c: Context<MoveBody>, picture: Picture, leaving: Stage): Refusal | undefined {
  const { piece, surfaces, coats } = picture;
  const subjectIds = [piece.id];
  const openTasks = (sort: Task["sort"]) =>
    c.facts
      .where("task", "pieceId", piece.id)
      .filter((task) => task.sort === sort && (task.state === "open" || task.state === "held"))
      .map((task) => task.id);
  if (leaving === "repair" || leaving === "prep") {
    const taskIds = openTasks(leaving);
    if (taskIds.length > 0) return { kind: "tasks-open", taskIds, subjectIds };
  }
  if (leaving === "repair") return jointRefusal(picture, "whole", c.when.madeAt);
  // a piece that is sold as found has no surface to coat; only one that is to be finished needs them
  if (leaving === "prep" && surfaces.length === 0 && c.body.toStage === "finish") {
    return { kind: "piece-incomplete", fields: ["surfaces"], subjectIds };
  }
  if (leaving === "prep") {
    const tasks = c.facts.where("task", "pieceId", piece.id);
    const stopped = scheduleRefusal(picture, tasks);
    if (stopped) return stopped;
    const wet = woodRefusal(picture, c.when.madeAt);
    if (wet) return wet;
    const soft = jointRefusal(picture, "full-strength", c.when.madeAt);
    if (soft) return soft;
    // what is still planned for it on the way to its finish
    const planned = tasks
      .filter((task) => task.state === "open" || task.state === "held")
      .flatMap((task) => task.methods)
      .filter((method) => makesDust.includes(method));
    return leadLockOn(c, piece, planned, c.when.madeAt);
  }
  if (leaving !== "finish") return undefined;
  const left = coats.filter((coat) => coat.state === "planned");
  if (left.length > 0) return { kind: "coats-left", coatIds: left.map((coat) => coat.id), subjectIds };
  const flawed = coats.filter((coat) => coat.state === "flawed");
  if (flawed.length > 0) return { kind: "flaw-open", coatIds: flawed.map((coat) => coat.id), subjectIds };
  return wipeOutstanding(picture);
}

function jointRefusal(picture: Picture, level: JointLevel, at: InstantMs): Refusal | undefined {
  const hindrance = worstHindrance(picture, level, at);
  return hindrance && { ...refusalOfJoint(hindrance.need), earliestAt: hindrance.waitsFor?.safeAt };
}

function wipeOutstanding({ coats, sheetById }: Picture): Refusal | undefined {
  for (const coat of coats) {
    const sheet = sheetById.get(coat.sheetId);
    if (coat.state !== "applied" || !coat.applied || !sheet?.wipeFromMin || !sheet.wipeLatestMin) continue;
    const { endedAt } = coat.applied;
    return {
      kind: "wipe-due",
      coatId: coat.id,
      wipeFromAt: endedAt + sheet.wipeFromMin * minuteMs,
      wipeLatestAt: endedAt + sheet.wipeLatestMin * minuteMs,
      subjectIds: [coat.surfaceId],
    };
  }
  return undefined;
}
