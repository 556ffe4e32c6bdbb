/** Mine, what comes next, and what is locked and why: the tasks of the floor as one member at the bench sees them. */
import type { Caution } from "~/core/safety/cautions";
import { leadState, methodLock } from "~/core/safety/lead";
import { stages } from "~/core/shop/entities/pieces";
import type { Facts } from "~/core/shop/facts";
import type { Claim, Member, Piece, Shop, Task } from "~/core/shop/tables";
import { hasLapsed, leaseEndsAt, liveClaim } from "~/core/tasks/claim";
import { waitingFor } from "~/core/tasks/task";
import type { InstantMs } from "~/core/units";
import { duration, moment } from "~/ui/format";
import { taskCautions } from "~/ui/piece/piece-cautions";
import { listed, methodWords } from "~/ui/trade-words";
import { skillWords } from "./work-words";

export type WorkLine = {
  task: Task;
  tag?: string;
  /** Under the title: how long, due when, for two. */
  detail: string;
  cautions: Caution[];
};
export type MyLine = WorkLine & { claim: Claim };
export type LockedLine = WorkLine & { why: string };

export type WorkList = { mine: MyLine[]; next: WorkLine[]; locked: LockedLine[] };

type Here = { facts: Facts; shop: Shop; me: Member; now: InstantMs };

/**
 * @param minutesToSpare only tasks that take no longer, or of which nobody said how long
 */
export function workList(
  facts: Facts,
  memberId: string,
  now: InstantMs,
  minutesToSpare = Number.POSITIVE_INFINITY,
): WorkList {
  const shop = facts.all("shop")[0];
  const me = facts.get("member", memberId);
  const list: WorkList = { mine: [], next: [], locked: [] };
  if (!shop || !me) return list;
  const here = { facts, shop, me, now };
  for (const task of facts.all("task")) {
    if (task.sort === "close-out" || task.state === "finished" || task.state === "set-aside") continue;
    const live = liveClaim(facts.where("claim", "taskId", task.id));
    const line = lineOf(here, task);
    if (live?.memberIds.includes(memberId))
      list.mine.push({ ...line, claim: live, detail: mineDetail(here, live, line) });
    else if (live && !hasLapsed(live, shop, facts.running(), now)) continue;
    else if ((task.estimateMin ?? 0) <= minutesToSpare) {
      const why = lockOf(here, task);
      if (why) list.locked.push({ ...line, why });
      else list.next.push(line);
    }
  }
  list.next.sort((one, other) => urgency(here, one.task) - urgency(here, other.task));
  return list;
}

const pieceOf = ({ facts }: Here, task: Task): Piece | undefined =>
  task.pieceId ? facts.get("piece", task.pieceId) : undefined;

const leadOf = ({ facts, shop, now }: Here, piece: Piece) =>
  leadState(piece, facts.where("test", "pieceId", piece.id), shop.leadBanYear, now);

function lineOf(here: Here, task: Task): WorkLine {
  const piece = pieceOf(here, task);
  const { zone } = here.shop;
  const parts = [
    task.estimateMin === undefined ? undefined : duration(task.estimateMin * 60),
    task.dueAt === undefined ? undefined : `due ${moment(task.dueAt, here.now, zone)}`,
    task.needsMembers > 1 ? "for two" : undefined,
    task.reworkCause && `again: ${task.reworkCause}`,
    piece?.name,
  ];
  const cautions = taskCautions(here.facts, task, here.now);
  return { task, tag: piece?.number, detail: parts.filter(Boolean).join(" · "), cautions };
}

const mineDetail = ({ shop, now, facts, me }: Here, claim: Claim, line: WorkLine): string => {
  const others = claim.memberIds.filter((id) => id !== me.id).map((id) => facts.get("member", id)?.name ?? "somebody");
  const withWhom = others.length > 0 ? `with ${listed(others)}` : undefined;
  return [line.detail, withWhom, claim.note, `yours until ${moment(leaseEndsAt(claim, shop), now, shop.zone)}`]
    .filter(Boolean)
    .join(" · ");
};

/** Why this member may not take it now; the same order in which the rules ask. */
function lockOf(here: Here, task: Task): string | undefined {
  const { facts, me, now, shop } = here;
  const piece = pieceOf(here, task);
  if (piece) {
    const state = leadOf(here, piece);
    const locked = task.methods.filter((method) => methodLock(state, method, shop.swabSuffices) === "locked");
    if (locked.length > 0) {
      const paint =
        state === "unknown" ? "old paint, not tested for lead" : `old paint, lead: ${state.replaceAll("-", " ")}`;
      return `No ${listed(locked.map((method) => methodWords[method]))}: ${paint}.`;
    }
  }
  const before = task.after.flatMap((id) => facts.get("task", id) ?? []);
  const waits = waitingFor(before, now);
  if (waits.untilAt !== undefined) return `Waits until ${moment(waits.untilAt, now, shop.zone)}.`;
  if (waits.taskIds.length > 0)
    return `After: ${listed(waits.taskIds.map((id) => facts.get("task", id)?.title ?? "a task"))}.`;
  const missing = task.needsSkills.filter((skill) => !me.skills.includes(skill));
  if (missing.length === 0 || task.needsMembers > 1) return undefined;
  const able = facts.all("member").filter((member) => missing.every((skill) => member.skills.includes(skill)));
  const who = able.length > 0 ? ` ${listed(able.map((member) => member.name))} can.` : "";
  return `Needs ${listed(missing.map((skill) => skillWords[skill]))}.${who}`;
}

/** What is due first; then what its piece has promised first; then the piece nearest the door. */
function urgency(here: Here, task: Task): number {
  const piece = pieceOf(here, task);
  const promised =
    piece && here.facts.where("promise", "pieceId", piece.id).filter((promise) => promise.state === "made");
  const dueAt = Math.min(task.dueAt ?? Number.POSITIVE_INFINITY, ...(promised ?? []).map((promise) => promise.dueAt));
  const latest = 1e15;
  return Number.isFinite(dueAt) ? dueAt : latest - (piece ? stages.indexOf(piece.stage) : -1);
}
