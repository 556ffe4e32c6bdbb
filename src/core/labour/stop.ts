import { accept, type Result } from "../result";
import type { MemberId } from "../shop/entities/ids";
import type { TimeEntry } from "../shop/tables";
import type { InstantMs } from "../units";
import { type EntryRefusal, mayRecord } from "./entry";

export type Stop = { endedAt: InstantMs; by: MemberId; madeAt: InstantMs };

/**
 * Stops a timer. Two devices may stop the same one while apart: the earliest stop wins whichever arrives first, and the
 * other stays readable as a version.
 */
export function stopped(entry: TimeEntry, stop: Stop): Result<TimeEntry, EntryRefusal> {
  const known = entry.endedAt;
  const endedAt = known === undefined ? stop.endedAt : Math.min(known, stop.endedAt);
  const verdict = mayRecord({ startedAt: entry.startedAt, endedAt, source: entry.source });
  if (!verdict.ok) return verdict;
  const { needsWord: hadWord, ...rest } = entry;
  const needsWord = hadWord === "over-sixteen-hours" ? verdict.value.needsWord : (hadWord ?? verdict.value.needsWord);
  const isSecondStop = known !== undefined && known !== stop.endedAt;
  const passedOver = isSecondStop
    ? [{ by: stop.by, at: stop.madeAt, was: { endedAt: Math.max(known, stop.endedAt) } }]
    : [];
  return accept({
    ...rest,
    endedAt,
    ...(needsWord === undefined ? {} : { needsWord }),
    versions: [...entry.versions, ...passedOver],
  });
}
