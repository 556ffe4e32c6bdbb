import type { Claim, Shop, TimeEntry } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";

export const liveClaim = (claims: readonly Claim[]): Claim | undefined =>
  claims.find((claim) => claim.endedAt === undefined);

export const leaseEndsAt = (claim: Pick<Claim, "lastSignAt">, shop: Pick<Shop, "leaseMin">): InstantMs =>
  claim.lastSignAt + shop.leaseMin * minuteMs;

/** The holder is asked "still yours?" from here on. */
export const leaseAskAt = (claim: Pick<Claim, "lastSignAt">, shop: Pick<Shop, "leaseMin" | "leaseAskMin">): InstantMs =>
  leaseEndsAt(claim, shop) - shop.leaseAskMin * minuteMs;

/** A claim lapses when its lease runs out without a sign of work; a running timer on the task is a sign by itself. */
export function hasLapsed(claim: Claim, shop: Shop, running: readonly TimeEntry[], now: InstantMs): boolean {
  const isWorkedOn = running.some(
    (entry) =>
      claim.memberIds.includes(entry.memberId) && entry.subjects.some((subject) => subject.taskId === claim.taskId),
  );
  return !isWorkedOn && now >= leaseEndsAt(claim, shop);
}
