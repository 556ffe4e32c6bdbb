import { type InstantMs, secondMs } from "~/core/units";
import { type Allowance, limits } from "~/core/wire-limits";

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
    if (amount > this.at(now)) return false;
    this.left -= amount;
    return true;
  }

  /** Takes this much even if it is not there, so that it is owed. */
  owe(amount: number, now: InstantMs): void {
    this.left = this.at(now) - amount;
  }

  /** What is left; below nothing where something is owed. */
  at(now: InstantMs): number {
    const filled = ((now - this.filledAt) / secondMs) * this.allowance.perSecond;
    this.left = Math.min(this.allowance.burst, this.left + Math.max(0, filled));
    this.filledAt = now;
    return this.left;
  }
}

/** How fast each may send. */
export const paceLimits = {
  framesOfConnection: limits.framesOfConnection,
  bytesOfConnection: limits.bytesOfConnection,
  framesOfShop: limits.framesOfShop,
  bytesOfShop: limits.bytesOfShop,
};
export type PaceLimits = { [Of in keyof typeof paceLimits]: Allowance };

/** What all connections of a shop send together. What has arrived is taken; then nothing more is read until it is paid. */
export class ShopPace {
  private readonly frames: Rate;
  private readonly bytes: Rate;

  constructor(
    now: InstantMs,
    readonly most: PaceLimits = paceLimits,
  ) {
    this.frames = new Rate(most.framesOfShop, now);
    this.bytes = new Rate(most.bytesOfShop, now);
  }

  take(byteCount: number, now: InstantMs): void {
    this.frames.owe(1, now);
    this.bytes.owe(byteCount, now);
  }

  isOver(now: InstantMs): boolean {
    return this.frames.at(now) < 0 || this.bytes.at(now) < 0;
  }
}

/** One pace for each shop that has a connection. */
export class ShopPaces {
  private readonly paceByShop = new Map<string, ShopPace>();

  constructor(private readonly most: PaceLimits = paceLimits) {}

  of(shopId: string, now: InstantMs): ShopPace {
    const pace = this.paceByShop.get(shopId) ?? new ShopPace(now, this.most);
    this.paceByShop.set(shopId, pace);
    return pace;
  }

  forgetAllBut(shopIds: ReadonlySet<string>): void {
    for (const shopId of this.paceByShop.keys()) if (!shopIds.has(shopId)) this.paceByShop.delete(shopId);
  }
}
