/** A time entry while somebody writes or corrects it, and what is sent of it. */
import { accept, type Result, refuse } from "~/core/result";
import type { TimeEntry } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { nothingTyped, readMoment, type TypedMoment, typedMomentOf } from "../kit/typed-moment";

export type SubjectDraft = TimeEntry["subjects"][number];

export type EntryDraft = {
  memberId: string;
  from: TypedMoment;
  /** Without a time: it still runs. */
  to: TypedMoment;
  restMin: number;
  workKind: TimeEntry["workKind"];
  subjects: SubjectDraft[];
  splitRule: TimeEntry["splitRule"];
  /** Why it is corrected; of a new one, a note. */
  words: string;
};

export type DraftErrors = Partial<Record<"from" | "to" | "rest" | "words", string>>;

/** @param suggestedEndAt the end to offer for a timer that still runs */
export function draftOf(entry: TimeEntry, zone: string, suggestedEndAt?: InstantMs): EntryDraft {
  const from = typedMomentOf(entry.startedAt, zone);
  const endedAt = entry.endedAt ?? suggestedEndAt;
  return {
    memberId: entry.memberId,
    from,
    to: endedAt === undefined ? nothingTyped(from.day) : typedMomentOf(endedAt, zone),
    restMin: entry.restMin,
    workKind: entry.workKind,
    subjects: entry.subjects,
    splitRule: entry.splitRule,
    words: "",
  };
}

export const newDraft = (memberId: string, day: string): EntryDraft => ({
  memberId,
  from: nothingTyped(day),
  to: nothingTyped(day),
  restMin: 0,
  workKind: "bench",
  subjects: [],
  splitRule: "equal",
  words: "",
});

type Times = { startedAt: InstantMs; endedAt?: InstantMs };

function timesOf({ from, to, restMin }: EntryDraft, zone: string, mayRun: boolean): Result<Times, DraftErrors> {
  const errors: DraftErrors = {};
  const start = readMoment(from, zone);
  const isRunning = mayRun && to.time.trim() === "";
  const end = isRunning ? undefined : readMoment(to, zone);
  if (!start.ok) errors.from = start.refusal;
  if (end && !end.ok) errors.to = end.refusal;
  if (start.ok && end?.ok && end.value.at <= start.value.at)
    errors.to = "It ends before it starts. Mend one of the two times.";
  if (Number.isNaN(restMin)) errors.rest = "Write 0 if there was no rest.";
  if (Object.keys(errors).length > 0 || !start.ok) return refuse(errors);
  return accept({ startedAt: start.value.at, endedAt: end?.ok ? end.value.at : undefined });
}

/** Typed times are whole minutes; a time that was left as it stood keeps its seconds. */
const isAsItStood = (typed: TypedMoment, at: InstantMs | undefined, zone: string): boolean =>
  at !== undefined && JSON.stringify(typedMomentOf(at, zone)) === JSON.stringify(typed);

const isSame = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);

/** The body of `correct-entry`: only what is different, and why. */
export function correctionOf(
  entry: TimeEntry,
  draft: EntryDraft,
  zone: string,
): Result<Record<string, unknown>, DraftErrors> {
  const times = timesOf(draft, zone, entry.endedAt === undefined);
  const words = draft.words.trim();
  if (!times.ok) return times;
  const { startedAt, endedAt } = times.value;
  const changes = {
    ...(isAsItStood(draft.from, entry.startedAt, zone) ? {} : { startedAt }),
    ...(endedAt === undefined || isAsItStood(draft.to, entry.endedAt, zone) ? {} : { endedAt }),
    ...(draft.restMin === entry.restMin ? {} : { restMin: draft.restMin }),
    ...(draft.workKind === entry.workKind ? {} : { workKind: draft.workKind }),
    ...(isSame(draft.subjects, entry.subjects) ? {} : { subjects: draft.subjects }),
    ...(draft.splitRule === entry.splitRule ? {} : { splitRule: draft.splitRule }),
  };
  if (Object.keys(changes).length === 0)
    return refuse({ words: "Nothing is different yet. Change what was wrong, or leave it." });
  if (words === "") return refuse({ words: "Say why in a few words: the others will read it." });
  return accept({ entryId: entry.id, ...changes, why: words });
}

/** The body of `add-entry`. */
export function typedEntryOf(
  draft: EntryDraft,
  entryId: string,
  zone: string,
): Result<Record<string, unknown>, DraftErrors> {
  const times = timesOf(draft, zone, false);
  if (!times.ok) return times;
  const { memberId, restMin, workKind, subjects, splitRule, words } = draft;
  const note = words.trim() === "" ? {} : { note: words.trim() };
  return accept({ entryId, memberId, ...times.value, restMin, workKind, subjects, splitRule, ...note });
}
