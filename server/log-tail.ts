import { type InstantMs, minuteMs } from "~/core/units";

const mostUpdates = 200;
const mostBytes = 256 * 1024;
const idleMs = minuteMs;

/** What has been added to a document's log since its snapshot. Whoever loads the document reads all of it. */
export class LogTail {
  private count = 0;
  private bytes = 0;
  private changedAt: InstantMs = 0;

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
    return this.count >= mostUpdates || this.bytes >= mostBytes || this.isQuiet(now);
  }

  isQuiet(now: InstantMs): boolean {
    return this.count > 0 && now - this.changedAt >= idleMs;
  }

  /** A snapshot has failed: not at once again, but at the next quiet minute, also where nobody writes any more. */
  postpone(now: InstantMs): void {
    this.count += 1;
    this.changedAt = now;
  }

  clear(): void {
    this.count = 0;
    this.bytes = 0;
  }
}
