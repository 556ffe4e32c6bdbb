/** What a person has to look at before the hours of a week are right, in one list, most pressing first. */
import type { TimeEntry } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { duration } from "../format";
import { entryTimes } from "./entry-words";
import type { WeekAnswer } from "./week-shown";

export type SettleSort = "forgotten" | "overlap" | "needs-word" | "running" | "long-run" | "no-weights";

export type ToSettle = {
  id: string;
  sort: SettleSort;
  memberId: string;
  /** What was found, without the name of the person. */
  found: string;
  /** What to do about it. */
  ask: string;
  /** One, or the several that lie over each other. */
  entryIds: string[];
  /** The end to offer first when asking. */
  suggestedEndAt?: InstantMs;
};

export const settleWords: Record<SettleSort, string> = {
  forgotten: "still running",
  overlap: "overlap",
  "needs-word": "not counted",
  running: "running",
  "long-run": "long run",
  "no-weights": "shared equally",
};

const wordWhy: Record<NonNullable<TimeEntry["needsWord"]>, string> = {
  "over-sixteen-hours": "longer than 16 h in one go",
  "after-the-end": "worked after the membership ended",
  "delivered-after-the-end": "made before the membership ended, and delivered after it",
};

export function thingsToSettle({ report, entries }: WeekAnswer, now: InstantMs, zone: string): ToSettle[] {
  const byId = new Map(entries.map((entry) => [entry.id as string, entry]));
  const times = (entryId: string): string => {
    const entry = byId.get(entryId);
    return entry ? entryTimes(entry, now, zone) : "";
  };
  const waiting = new Set(report.needingWord.map(({ entryId }) => entryId));
  const running = report.running.map((timer): ToSettle => {
    const isForgotten = now >= timer.forgottenAt;
    return {
      id: `timer ${timer.entryId}`,
      sort: isForgotten ? "forgotten" : "running",
      memberId: timer.memberId,
      found: `${times(timer.entryId)}, ${duration((now - timer.startedAt) / 1000)} so far`,
      ask: isForgotten ? "When did it stop?" : "Counted until now, and still growing.",
      entryIds: [timer.entryId],
      suggestedEndAt: timer.suggestedEndAt,
    };
  });
  const overlaps = report.overlaps.map(
    ({ memberId, entryIds, fromAt, toAt, seconds }): ToSettle => ({
      id: `overlap ${entryIds.join(" ")} ${fromAt}`,
      sort: "overlap",
      memberId,
      found: `${entryTimes({ startedAt: fromAt, endedAt: toAt }, now, zone)}, ${duration(seconds)} twice`,
      ask: "One person cannot work twice at once. Correct one of the two.",
      entryIds,
    }),
  );
  const words = report.needingWord
    // a timer that still runs is asked about above
    .filter(({ entryId }) => byId.get(entryId)?.endedAt !== undefined)
    .map(
      ({ entryId, memberId, why, seconds }): ToSettle => ({
        id: `word ${entryId}`,
        sort: "needs-word",
        memberId,
        found: `${times(entryId)}, ${duration(seconds)}: ${wordWhy[why]}`,
        ask: "Counts only after a word of the owner or the bookkeeper.",
        entryIds: [entryId],
      }),
    );
  const ofEntry = (sort: SettleSort, entryId: string, ask: string): ToSettle[] => {
    const entry = byId.get(entryId);
    return entry
      ? [{ id: `${sort} ${entryId}`, sort, memberId: entry.memberId, found: times(entryId), ask, entryIds: [entryId] }]
      : [];
  };
  const long = report.longRunIds
    .filter((entryId) => byId.get(entryId)?.endedAt !== undefined && !waiting.has(entryId))
    .flatMap((entryId) => ofEntry("long-run", entryId, "More than ten hours in one go. Counted; worth a look."));
  const equal = report.sharedEquallyIds.flatMap((entryId) =>
    ofEntry("no-weights", entryId, "Its rule found no areas or coats to share by. Counted in equal parts."),
  );
  const is = (sort: SettleSort) => (row: ToSettle) => row.sort === sort;
  return [
    ...running.filter(is("forgotten")),
    ...overlaps,
    ...words,
    ...running.filter(is("running")),
    ...long,
    ...equal,
  ];
}
