import { accept, type Result, refuse } from "../result";
import type { RefusalOf } from "../shop/refusal";
import type { TimeEntry } from "../shop/tables";
import { type InstantMs, minuteMs, secondMs } from "../units";

/** Longer than this is no working day: a typed entry is refused, a timer waits for the owner's word. */
export const longestMin = 16 * 60;

/** An entry with its end, or a timer of which the end is "now". */
export type WorkSpan = { startedAt: InstantMs; endedAt: InstantMs; restMin: number };

/** The whole second in which an instant lies: both ends are floored, so that back-to-back entries add up. */
export const wholeSecond = (at: InstantMs): number => Math.floor(at / secondMs);

/** A timer is an entry without an end: it is counted until now. */
export const spanOf = (entry: Pick<TimeEntry, "startedAt" | "endedAt" | "restMin">, now: InstantMs): WorkSpan => ({
  startedAt: entry.startedAt,
  endedAt: entry.endedAt ?? now,
  restMin: entry.restMin,
});

/**
 * The work of an entry in whole seconds, rest taken off, never below 0.
 *
 * @example spanSeconds({ startedAt: 0, endedAt: 3600000, restMin: 10 }) // 3000
 */
export const spanSeconds = ({ startedAt, endedAt, restMin }: WorkSpan): number =>
  Math.max(0, wholeSecond(endedAt) - wholeSecond(startedAt) - restMin * 60);

/**
 * The work of an entry from its start until an instant. Nobody notes when the rest was, so it is spread evenly over the
 * entry. Because every stretch is the difference of two of these, stretches that cover an entry add up to it exactly.
 */
export function secondsUntil(span: WorkSpan, at: InstantMs): number {
  const wholeElapsed = wholeSecond(span.endedAt) - wholeSecond(span.startedAt);
  const rest = span.restMin * 60;
  if (wholeElapsed <= rest) return 0;
  const elapsed = Math.min(Math.max(wholeSecond(at) - wholeSecond(span.startedAt), 0), wholeElapsed);
  return elapsed - Math.ceil((rest * elapsed) / wholeElapsed);
}

/** The seconds of an entry on one side of a boundary, or between two of them: an entry is never cut in storage. */
export const secondsWithin = (span: WorkSpan, fromAt: InstantMs, toAt: InstantMs): number =>
  Math.max(0, secondsUntil(span, toAt) - secondsUntil(span, fromAt));

export type EntryRefusal = RefusalOf<"ends-before-start"> | RefusalOf<"entry-too-long">;
export type EntryVerdict = { needsWord?: "over-sixteen-hours" };

/**
 * May this entry be written down? A timer may run as long as it was left to, but past 16 hours it counts only after the
 * owner's word.
 */
export function mayRecord(
  entry: Pick<TimeEntry, "startedAt" | "endedAt" | "source">,
): Result<EntryVerdict, EntryRefusal> {
  const { startedAt, endedAt, source } = entry;
  if (endedAt === undefined) return accept({});
  if (endedAt <= startedAt) return refuse({ kind: "ends-before-start", startedAt, endedAt });
  if (endedAt - startedAt <= longestMin * minuteMs) return accept({});
  if (source === "typed") return refuse({ kind: "entry-too-long", startedAt, endedAt, maxMin: longestMin });
  return accept({ needsWord: "over-sixteen-hours" });
}

/** Why an entry is not counted yet: what the ledger says, or a timer that still runs past 16 hours. */
export function wordNeeded(entry: TimeEntry, now: InstantMs): TimeEntry["needsWord"] {
  if (entry.needsWord !== undefined) return entry.needsWord;
  const isLeftRunning = entry.endedAt === undefined && now - entry.startedAt > longestMin * minuteMs;
  return isLeftRunning ? "over-sixteen-hours" : undefined;
}
