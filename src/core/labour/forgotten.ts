import { hourMs, type InstantMs } from "../units";

/** Source of both: common practice; nobody sands for ten hours, or for four without touching the phone. */
export const longRunMs = 10 * hourMs;
const silentMs = 4 * hourMs;

export type Forgotten = {
  /** From when on the timer is taken for forgotten. Callers compare it with their own clock. */
  forgottenAt: InstantMs;
  /** The person's last sign after the start: the end to suggest when asking. */
  suggestedEndAt?: InstantMs;
};

/**
 * When a running timer starts to look forgotten: ten hours after its start, or four after the person's last sign if
 * that is earlier. Only the person can say when they stopped; this is a question, not a correction.
 *
 * @param lastSignAt the last thing the person did anywhere in the shop
 * @example forgotten(0, 12480000).forgottenAt // 26880000
 */
export function forgotten(startedAt: InstantMs, lastSignAt?: InstantMs): Forgotten {
  const isSince = lastSignAt !== undefined && lastSignAt > startedAt;
  const silentSinceAt = isSince ? lastSignAt : startedAt;
  const forgottenAt = Math.min(startedAt + longRunMs, silentSinceAt + silentMs);
  return isSince ? { forgottenAt, suggestedEndAt: lastSignAt } : { forgottenAt };
}
