import type { Claim, TimeEntry } from "../shop/tables";
import type { InstantMs } from "../units";
import type { Subject } from "./split";

/**
 * Was this work help on somebody else's task? Judged by who held the task while the work was done, or, when nobody did,
 * by who held it last before; a claim taken afterwards does not turn own work into help. Help counts like any work.
 */
export function helpJudge(claims: readonly Claim[], now: InstantMs): (entry: TimeEntry, subject: Subject) => boolean {
  const claimsByTask = new Map<string, Claim[]>();
  for (const claim of claims) {
    const ofTask = claimsByTask.get(claim.taskId);
    if (ofTask) ofTask.push(claim);
    else claimsByTask.set(claim.taskId, [claim]);
  }
  return (entry, { taskId }) => {
    const endedAt = entry.endedAt ?? now;
    const before = (taskId ? (claimsByTask.get(taskId) ?? []) : []).filter((claim) => claim.claimedAt < endedAt);
    const during = before.filter((claim) => (claim.endedAt ?? Number.POSITIVE_INFINITY) > entry.startedAt);
    const last = before.reduce<Claim | undefined>(
      (latest, claim) => (latest && latest.claimedSeq > claim.claimedSeq ? latest : claim),
      undefined,
    );
    const holders = during.length > 0 ? during : last ? [last] : [];
    return holders.length > 0 && !holders.some((claim) => claim.memberIds.includes(entry.memberId));
  };
}
