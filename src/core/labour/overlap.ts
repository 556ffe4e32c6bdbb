/**
 * One person cannot work twice at once. Worked time is the union of a person's entries; where two of them cover the
 * same time, the stretch is listed for that person to settle, never silently counted twice or halved.
 */
import type { MemberId } from "../shop/entities/ids";
import { type InstantMs, secondMs } from "../units";
import { secondsUntil, type WorkSpan, wholeSecond } from "./entry";

/** An entry of one person as this file needs it. */
export type PersonSpan = WorkSpan & { entryId: string };

export type Overlap = { entryIds: string[]; fromAt: InstantMs; toAt: InstantMs; seconds: number };
export type MemberOverlap = Overlap & { memberId: MemberId };

export type Union = {
  /** Worked time: what the entries cover, each moment once. */
  workedSeconds: number;
  /** In order of time. */
  overlaps: Overlap[];
};

type Edge = { second: number; span: PersonSpan; isStart: boolean };

/**
 * Measures what a person's entries cover between two instants. Where several lie over each other, the one with the
 * least rest in that stretch counts.
 *
 * @param spans all of one person
 */
export function unionOf(spans: readonly PersonSpan[], fromAt: InstantMs, toAt: InstantMs): Union {
  const live = new Map<string, PersonSpan>();
  const overlaps: Overlap[] = [];
  let workedSeconds = 0;
  let since = 0;
  for (const edge of edgesOf(spans, wholeSecond(fromAt), wholeSecond(toAt))) {
    if (edge.second > since && live.size > 0) {
      workedSeconds += mostWork(live, since, edge.second);
      if (live.size > 1) note(overlaps, [...live.keys()], since, edge.second);
    }
    since = edge.second;
    if (edge.isStart) live.set(edge.span.entryId, edge.span);
    else live.delete(edge.span.entryId);
  }
  return { workedSeconds, overlaps };
}

/** Starts and ends in order of time; ends come first, so that back-to-back entries do not touch. */
function edgesOf(spans: readonly PersonSpan[], fromSecond: number, toSecond: number): Edge[] {
  const edges: Edge[] = [];
  for (const span of spans) {
    const startsAt = Math.max(wholeSecond(span.startedAt), fromSecond);
    const endsAt = Math.min(wholeSecond(span.endedAt), toSecond);
    if (endsAt <= startsAt) continue;
    edges.push({ second: startsAt, span, isStart: true }, { second: endsAt, span, isStart: false });
  }
  return edges.sort((a, b) => a.second - b.second || Number(a.isStart) - Number(b.isStart));
}

function mostWork(live: ReadonlyMap<string, PersonSpan>, fromSecond: number, toSecond: number): number {
  let most = 0;
  for (const span of live.values()) {
    const work = secondsUntil(span, toSecond * secondMs) - secondsUntil(span, fromSecond * secondMs);
    most = Math.max(most, work);
    // without rest no other entry can hold more
    if (span.restMin === 0) break;
  }
  return most;
}

/** Adds a stretch, or lengthens the last one when the same entries go on. */
function note(overlaps: Overlap[], entryIds: string[], fromSecond: number, toSecond: number): void {
  const last = overlaps.at(-1);
  const isSame = last?.toAt === fromSecond * secondMs && last.entryIds.join() === entryIds.join();
  if (last && isSame) {
    last.toAt = toSecond * secondMs;
    last.seconds += toSecond - fromSecond;
    return;
  }
  overlaps.push({ entryIds, fromAt: fromSecond * secondMs, toAt: toSecond * secondMs, seconds: toSecond - fromSecond });
}
