import { stages } from "~/core/shop/entities/pieces";
import { dayMs, type InstantMs } from "~/core/units";
import type { Outlook } from "./outlook";

const numbers = new Intl.Collator("en", { numeric: true });
const byTag = (one: Outlook, other: Outlook) => numbers.compare(one.piece.number, other.piece.number);

/** The wall: nearest the door first, so that a chart shows a staircase; then by tag. */
export const byStage = (one: Outlook, other: Outlook): number =>
  stages.indexOf(other.piece.stage) - stages.indexOf(one.piece.stage) || byTag(one, other);

/** When it next needs somebody: a wipe-back by its end, a coat that may go on and a promise at risk before what just opens. */
export function needsSomebodyAt({ wipe, recoatNow, next, stuck, promise }: Outlook, now: InstantMs): number {
  if (wipe) return wipe.latestAt;
  if (recoatNow.length > 0) return now;
  const opensAt = next?.gate.safeAt ?? Number.POSITIVE_INFINITY;
  if (promise?.isAtRisk) return Math.min(opensAt, now + dayMs);
  if (stuck) return Math.min(opensAt, now + dayMs + 1);
  return opensAt;
}

/** The phone: what needs a person soonest first. */
export const bySoonest =
  (now: InstantMs) =>
  (one: Outlook, other: Outlook): number => {
    const [at, otherAt] = [needsSomebodyAt(one, now), needsSomebodyAt(other, now)];
    return at === otherAt ? byTag(one, other) : at - otherAt;
  };

/** The order that somebody is looking at, kept: what is new hangs at the end, what has gone leaves no gap. */
export function steadyOrder(before: readonly string[], wanted: readonly string[]): string[] {
  const there = new Set(wanted);
  const known = new Set(before);
  return [...before.filter((id) => there.has(id)), ...wanted.filter((id) => !known.has(id))];
}
