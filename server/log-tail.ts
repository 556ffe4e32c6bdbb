import { type InstantMs, minuteMs, secondMs } from "~/core/units";

const mostUpdates = 200;
const mostBytes = 256 * 1024;
const idleMs = minuteMs;
/** A snapshot holds up whoever is writing: where very much is written it may be so much longer until the next. */
const [restMs, timesLonger] = [2 * secondMs, 10];

/** What has been added to a document's log since its snapshot. Whoever loads the document reads all of it. */
export class LogTail {
  private count = 0;
  private bytes = 0;
  private changedAt: InstantMs = 0;
  private shortenedAt: InstantMs = Number.NEGATIVE_INFINITY;

  static of(updates: readonly { update: Uint8Array }[], now: InstantMs): LogTail {
    const tail = new LogTail();
    tail.add(
      updates.map(({ update }) => update),
      now,
    );
    return tail;
  }

  add(updates: readonly Uint8Array[], now: InstantMs): void {
    if (updates.length === 0) return;
    this.count += updates.length;
    this.bytes += updates.reduce((sum, { length }) => sum + length, 0);
    this.changedAt = now;
  }

  /** Is it time for a snapshot: because it is long, or because nobody is writing just now? */
  isDue(now: InstantMs): boolean {
    const isResting = now - this.shortenedAt < restMs;
    return this.isLong(isResting ? timesLonger : 1) || this.isQuiet(now);
  }

  isQuiet(now: InstantMs): boolean {
    return this.count > 0 && now - this.changedAt >= idleMs;
  }

  /** A snapshot has failed: not at once again, but at the next quiet minute, also where nobody writes any more. */
  postpone(now: InstantMs): void {
    this.count += 1;
    this.changedAt = now;
  }

  /** A snapshot is about to hold all of it. */
  clear(now: InstantMs): void {
    this.count = 0;
    this.bytes = 0;
    this.shortenedAt = now;
  }

  private isLong(times: number): boolean {
    return this.count >= times * mostUpdates || this.bytes >= times * mostBytes;
  }
}
