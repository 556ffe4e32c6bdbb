import { type InstantMs, secondMs } from "~/core/units";

/** How much a connection may send: so much per second in the long run, and `burst` at once. */
export type Allowance = { perSecond: number; burst: number };

/** A bucket that fills with time and empties with use. */
export class Rate {
  private left: number;
  private filledAt: InstantMs;

  constructor(
    private readonly allowance: Allowance,
    now: InstantMs,
  ) {
    this.left = allowance.burst;
    this.filledAt = now;
  }

  /** Takes this much if it is there; otherwise nothing is taken. */
  take(amount: number, now: InstantMs): boolean {
    const filled = ((now - this.filledAt) / secondMs) * this.allowance.perSecond;
    this.left = Math.min(this.allowance.burst, this.left + Math.max(0, filled));
    this.filledAt = now;
    if (amount > this.left) return false;
    this.left -= amount;
    return true;
  }
}
