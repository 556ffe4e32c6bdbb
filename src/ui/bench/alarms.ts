/** What does not wait: wipes back and oily rags by the minute, claims about to lapse, a timer that looks forgotten. */
import { forgotten } from "~/core/labour/forgotten";
import type { Facts } from "~/core/shop/facts";
import type { Claim, Coat, Task, TimeEntry } from "~/core/shop/tables";
import { leaseAskAt, leaseEndsAt } from "~/core/tasks/claim";
import { type InstantMs, minuteMs } from "~/core/units";
import { lastSignOf } from "./last-sign";

export type WipeAlarm = {
  kind: "wipe";
  pieceId: string;
  tag: string;
  coatIds: string[];
  surfaces: string[];
  product: string;
  laidAt: InstantMs;
  fromAt: InstantMs;
  dueAt: InstantMs;
};
export type RagsAlarm = {
  kind: "rags";
  taskId: string;
  tag?: string;
  product?: string;
  byName?: string;
  dueAt: InstantMs;
};
export type DueAlarm = WipeAlarm | RagsAlarm;

export type LeaseQuestion = { claim: Claim; task: Task; tag?: string; endsAt: InstantMs };
export type ForgottenTimer = { entry: TimeEntry; suggestedEndAt?: InstantMs };

export type Alarms = { due: DueAlarm[]; leases: LeaseQuestion[]; forgotten?: ForgottenTimer };

export function alarmsOf(facts: Facts, memberId: string, now: InstantMs): Alarms {
  const due = [...wipesOf(facts, memberId), ...ragsOf(facts, memberId, now)].sort(
    (one, other) => one.dueAt - other.dueAt,
  );
  return { due, leases: leasesOf(facts, memberId, now), forgotten: forgottenOf(facts, memberId, now) };
}

/** Whole minutes until then, cut so that nobody is promised more than there is; negative once it is past. */
export const minutesLeft = (dueAt: InstantMs, now: InstantMs): number => Math.floor((dueAt - now) / minuteMs);

/** Laid by this member, still to be wiped, and not buried under a later coat. */
function wipesOf(facts: Facts, memberId: string): WipeAlarm[] {
  const groups = new Map<string, WipeAlarm>();
  const coats = facts.all("coat");
  for (const coat of coats) {
    const sheet = facts.get("sheet", coat.sheetId);
    const { applied } = coat;
    if (!applied?.by.includes(memberId) || !sheet || sheet.wipeFromMin === undefined || !isToWipe(coat, coats))
      continue;
    const fromAt = applied.endedAt + sheet.wipeFromMin * minuteMs;
    const dueAt = applied.endedAt + (sheet.wipeLatestMin ?? sheet.wipeFromMin) * minuteMs;
    const surface = facts.get("surface", coat.surfaceId)?.name.toLowerCase() ?? "a surface";
    const key = `${coat.pieceId} ${coat.sheetId}`;
    const known = groups.get(key);
    groups.set(key, {
      kind: "wipe",
      pieceId: coat.pieceId,
      tag: facts.get("piece", coat.pieceId)?.number ?? "",
      coatIds: [...(known?.coatIds ?? []), coat.id],
      surfaces: [...(known?.surfaces ?? []), surface],
      product: facts.get("product", sheet.productId)?.name ?? "the product",
      laidAt: Math.min(known?.laidAt ?? applied.endedAt, applied.endedAt),
      fromAt: Math.min(known?.fromAt ?? fromAt, fromAt),
      dueAt: Math.min(known?.dueAt ?? dueAt, dueAt),
    });
  }
  return [...groups.values()];
}

function isToWipe(coat: Coat, coats: readonly Coat[]): boolean {
  if (coat.wiped || coat.removed || !["applied", "flawed", "mended"].includes(coat.state)) return false;
  return !coats.some(
    (other) =>
      other.surfaceId === coat.surfaceId &&
      other.applied !== undefined &&
      other.removed === undefined &&
      other.applied.startedAt > (coat.applied?.endedAt ?? 0),
  );
}

/** One's own rags at once; anybody's once they are overdue, because a fire asks nobody whose rags they were. */
const ragsOf = (facts: Facts, memberId: string, now: InstantMs): RagsAlarm[] =>
  facts
    .all("task")
    .filter(
      (task) =>
        task.sort === "close-out" && (task.state === "open" || task.state === "held") && task.dueAt !== undefined,
    )
    .flatMap((task) => {
      const coat = task.coatId ? facts.get("coat", task.coatId) : undefined;
      const by = coat?.applied?.by ?? [];
      const dueAt = task.dueAt as InstantMs;
      if (!by.includes(memberId) && by.length > 0 && now < dueAt) return [];
      const sheet = coat && facts.get("sheet", coat.sheetId);
      return [
        {
          kind: "rags" as const,
          taskId: task.id,
          tag: task.pieceId && facts.get("piece", task.pieceId)?.number,
          product: sheet && facts.get("product", sheet.productId)?.name,
          byName: by.includes(memberId) || !by[0] ? undefined : facts.get("member", by[0])?.name,
          dueAt,
        },
      ];
    });

/** A running timer on the task answers the question by itself. */
function leasesOf(facts: Facts, memberId: string, now: InstantMs): LeaseQuestion[] {
  const shop = facts.all("shop")[0];
  if (!shop) return [];
  const timed = new Set(facts.running().flatMap((entry) => entry.subjects.map((subject) => subject.taskId)));
  return facts
    .all("claim")
    .filter((claim) => claim.endedAt === undefined && claim.memberIds.includes(memberId))
    .filter((claim) => now >= leaseAskAt(claim, shop) && !timed.has(claim.taskId))
    .flatMap((claim) => {
      const task = facts.get("task", claim.taskId);
      if (!task || task.sort === "close-out") return [];
      const tag = task.pieceId && facts.get("piece", task.pieceId)?.number;
      return [{ claim, task, tag, endsAt: leaseEndsAt(claim, shop) }];
    });
}

function forgottenOf(facts: Facts, memberId: string, now: InstantMs): ForgottenTimer | undefined {
  const entry = facts.running().find((running) => running.memberId === memberId);
  if (!entry) return undefined;
  const { forgottenAt, suggestedEndAt } = forgotten(entry.startedAt, lastSignOf(facts, memberId));
  return now < forgottenAt ? undefined : { entry, suggestedEndAt };
}
