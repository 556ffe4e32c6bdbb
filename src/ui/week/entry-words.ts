/** A time entry in words: when, what kind, and what it was before somebody corrected it. */
import { spanOf, spanSeconds } from "~/core/labour/entry";
import { shownTotal } from "~/core/labour/shown-minutes";
import type { TimeEntry } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { dayName, duration, hoursAndMinutes, isSameDay, moment } from "../format";

export const workKindWords: Record<TimeEntry["workKind"], string> = {
  bench: "bench",
  spray: "spray",
  "set-up": "setting up",
  "clean-up": "cleaning up",
  van: "van",
  buying: "buying",
  photo: "photos",
  selling: "selling",
  overhead: "overhead",
};

export const splitRuleWords: Record<TimeEntry["splitRule"], string> = {
  one: "one piece",
  equal: "in equal parts",
  area: "by area",
  coats: "by coats laid",
  typed: "by typed shares",
};

/** "19:30", with the letters of the zone in the hour that comes twice. */
const timeOn = (at: InstantMs, zone: string): string => moment(at, at, zone);

/** "Tue 27 Oct 19:30–23:00", "Tue 27 Oct 22:10 to Wed 28 Oct 01:05", "since Tue 27 Oct 19:30". */
export function entryTimes(entry: Pick<TimeEntry, "startedAt" | "endedAt">, now: InstantMs, zone: string): string {
  const { startedAt, endedAt } = entry;
  const from = `${dayName(startedAt, zone)} ${timeOn(startedAt, zone)}`;
  if (endedAt === undefined)
    return isSameDay(startedAt, now, zone) ? `since ${timeOn(startedAt, zone)}` : `since ${from}`;
  if (isSameDay(startedAt, endedAt, zone)) return `${from}–${timeOn(endedAt, zone)}`;
  return `${from} to ${dayName(endedAt, zone)} ${timeOn(endedAt, zone)}`;
}

/** The whole entry in hours and minutes, rest taken off. */
export const entryHours = (entry: TimeEntry, now: InstantMs): string =>
  hoursAndMinutes(shownTotal(spanSeconds(spanOf(entry, now))));

/** Kind, rest and where it came from: "bench, 30 min rest, by timer". */
export const entryDetail = ({ workKind, restMin, source }: TimeEntry): string =>
  [workKindWords[workKind], restMin > 0 && `${duration(restMin * 60)} rest`, source === "timer" ? "by timer" : "typed"]
    .filter(Boolean)
    .join(", ");

export type EntryVersion = { at: InstantMs; by: string; hours: string; times: string; why?: string };

/** What an entry was before each correction, the original first. */
export function entryVersions(entry: TimeEntry, zone: string): EntryVersion[] {
  return entry.versions.map(({ by, at, was, why }) => {
    const startedAt = instantIn(was.startedAt) ?? entry.startedAt;
    const endedAt = instantIn(was.endedAt);
    const restMin = instantIn(was.restMin) ?? entry.restMin;
    const runningSeconds = instantIn(was.runningSeconds);
    const seconds = endedAt === undefined ? runningSeconds : spanSeconds({ startedAt, endedAt, restMin });
    return {
      at,
      by,
      hours: seconds === undefined ? "" : hoursAndMinutes(shownTotal(seconds)),
      times:
        endedAt === undefined && runningSeconds !== undefined
          ? `${entryTimes({ startedAt }, at, zone)}, running`
          : entryTimes({ startedAt, endedAt }, startedAt, zone),
      why,
    };
  });
}

const instantIn = (value: unknown): number | undefined => (typeof value === "number" ? value : undefined);
