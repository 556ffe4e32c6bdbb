import type { SheetTime } from "../shop/entities/products";
import type { InstantMs } from "../units";
import { creditReachedAt, creditToleranceMin, type Hardening, safeNowMin } from "./progress";

/**
 * How far something laid is on its way, in minutes at its sheet's reference. Whether it is there is one comparison; when it
 * was or will be is looked for only once somebody asks.
 */
export class Reach<Laid extends Hardening = Hardening> {
  constructor(
    readonly film: Laid,
    /** Minutes at the sheet's reference: `min` to be safe, `typicalMin` to be likely. */
    private readonly time: SheetTime,
  ) {}

  get neededMin(): number {
    return this.time.min;
  }

  get safeCreditMin(): number {
    return safeNowMin(this.film);
  }

  get isReached(): boolean {
    const { asked, laidAt } = this.film;
    return asked.at >= laidAt && this.safeCreditMin + creditToleranceMin >= this.neededMin;
  }

  /** When it was or will be reached; nothing if waiting will not do it as far as can be told. */
  get safeAt(): InstantMs | undefined {
    return creditReachedAt(this.film, this.isReached ? "safe" : "promise", this.neededMin);
  }

  get likelyAt(): InstantMs | undefined {
    return creditReachedAt(this.film, "likely", this.time.typicalMin ?? this.time.min);
  }
}
