import * as z from "zod/mini";
import { longestMin, wholeSecond } from "../../labour/entry";
import { stopped } from "../../labour/stop";
import { type InstantMs, minuteMs, quantity } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { entryId, idOf, pieceId, taskId } from "../entities/ids";
import { stages } from "../entities/pieces";
import { type entrySubject, splitRules, workKinds } from "../entities/work";
import type { Change, ShopEvent } from "../event";
import type { Facts, Need } from "../facts";
import type { Intent } from "../intent";
import type { RefusalOf } from "../refusal";
import { members } from "../roles";
import type { TimeEntry } from "../tables";
import { leadDone, leadLock, tasksOf } from "./lead-lock";

/** What work is on; the stage is the piece's own at that moment unless it is said. */
export const subjectsBody = z
  .array(
    z.object({
      pieceId,
      taskId: z.optional(taskId),
      stage: z.optional(z.enum(stages)),
      weight: z.optional(quantity("weight")),
    }),
  )
  .check(z.maxLength(24));
type SubjectsBody = z.infer<typeof subjectsBody>;

export const subjectNeeds = (subjects: SubjectsBody): Need[] =>
  subjects.flatMap((subject): Need[] => [
    { table: "piece", id: subject.pieceId },
    { table: "test", field: "pieceId", value: subject.pieceId },
    ...(subject.taskId
      ? ([
          { table: "task", id: subject.taskId },
          { table: "claim", field: "taskId", value: subject.taskId },
        ] satisfies Need[])
      : []),
  ]);

/** The subjects with their stages, or the field that names nothing here. */
export function subjectsOf(
  facts: Facts,
  subjects: SubjectsBody,
): z.infer<typeof entrySubject>[] | "pieceId" | "taskId" {
  const found: z.infer<typeof entrySubject>[] = [];
  for (const subject of subjects) {
    const piece = facts.get("piece", subject.pieceId);
    if (!piece) return "pieceId";
    if (subject.taskId && facts.get("task", subject.taskId)?.pieceId !== piece.id) return "taskId";
    found.push({ ...subject, stage: subject.stage ?? piece.stage });
  }
  return found;
}

/** One piece takes all of a stretch; several share it, equally unless another rule was said. */
export const splitRuleFor = (subjects: readonly unknown[], said: TimeEntry["splitRule"]): TimeEntry["splitRule"] =>
  subjects.length <= 1 ? "one" : said === "one" ? "equal" : said;

export const startTimer = defineIntent({
  kind: "start-timer",
  sort: "report",
  who: members,
  carriesTime: true,
  carriesHours: true,
  body: z.object({
    entryId,
    subjects: subjectsBody,
    workKind: z.enum(workKinds),
    splitRule: z._default(z.enum(splitRules), "equal"),
    sessionId: z.optional(idOf<"session">()),
    /** A timer on work that old paint locks is refused while it asks; told as done, its hours count and lead follows. */
    stance: z._default(z.enum(["asking", "done"]), "asking"),
  }),
  reads: (body) => [...subjectNeeds(body.subjects), { running: true }],
  judge: (c) => {
    const subjects = subjectsOf(c.facts, c.body.subjects);
    if (typeof subjects === "string") return refused({ kind: "unknown-thing", field: subjects });
    const startedAt = c.when.happenedAt;
    const tasks = tasksOf(c.facts, subjects);
    const locked = tasks.map((task) => leadLock(c, task, startedAt)).find((lead) => lead !== undefined);
    if (locked && c.body.stance === "asking") return refused(locked);
    const other = c.facts.running().find((entry) => entry.memberId === c.by.id);
    const isBehind = other !== undefined && other.startedAt > startedAt;
    const events: ShopEvent[] = [];
    if (other && !isBehind) events.push(stoppedByAnother(c, other, startedAt));
    events.push({
      kind: "timer-started",
      pieceId: subjects[0]?.pieceId,
      memberId: c.by.id,
      changes: [
        made("entry", {
          id: c.body.entryId,
          memberId: c.by.id,
          startedAt,
          // a start that arrives late was itself stopped by the one that came after it
          endedAt: isBehind ? other.startedAt : undefined,
          restMin: 0,
          workKind: c.body.workKind,
          subjects,
          splitRule: splitRuleFor(subjects, c.body.splitRule),
          sessionId: c.body.sessionId,
          source: "timer",
          needsWord: c.isAfterTheEnd
            ? "delivered-after-the-end"
            : isBehind && isOverlong(startedAt, other.startedAt)
              ? "over-sixteen-hours"
              : undefined,
          versions: [],
        }),
        ...signsOfWork(c.facts, c.by.id, subjects, c.when.madeAt),
        ...leadDone(c, tasks, startedAt),
      ],
    });
    return accepted(...events);
  },
});

/** Starting another timer stops the first at the same moment; one that had not run at all never was. */
const stoppedByAnother = (c: Context<unknown>, other: TimeEntry, at: InstantMs): ShopEvent => ({
  kind: "timer-stopped",
  pieceId: other.subjects[0]?.pieceId,
  memberId: c.by.id,
  changes: [
    changed(
      "entry",
      other.id,
      other.startedAt === at ? { struckAt: at } : { endedAt: at, needsWord: wordFor(other, at) },
    ),
  ],
});

const isOverlong = (startedAt: InstantMs, endedAt: InstantMs): boolean => endedAt - startedAt > longestMin * minuteMs;

const wordFor = (entry: TimeEntry, endedAt: InstantMs): TimeEntry["needsWord"] =>
  entry.needsWord ?? (isOverlong(entry.startedAt, endedAt) ? "over-sixteen-hours" : undefined);

/** Work on a task is a sign that its holder has not left it. */
export const signsOfWork = (
  facts: Facts,
  memberId: string,
  subjects: readonly { taskId?: string }[],
  at: InstantMs,
): Change[] =>
  subjects.flatMap(({ taskId }) => {
    const claims = taskId === undefined ? [] : facts.where("claim", "taskId", taskId);
    const live = claims.find((claim) => claim.endedAt === undefined);
    return live?.memberIds.includes(memberId) && live.lastSignAt < at
      ? [changed("claim", live.id, { lastSignAt: at })]
      : [];
  });

/** Nobody rests longer than they were there. */
export function restRefusal(
  { startedAt, endedAt }: { startedAt: InstantMs; endedAt: InstantMs },
  restMin: number,
): RefusalOf<"out-of-bounds"> | undefined {
  const max = Math.floor((endedAt - startedAt) / minuteMs);
  if (restMin === 0 || restMin < max) return undefined;
  return { kind: "out-of-bounds", field: "rest", found: restMin, min: 0, max, unit: "min" };
}

export const stopTimer = defineIntent({
  kind: "stop-timer",
  sort: "report",
  who: members,
  carriesTime: true,
  carriesHours: true,
  body: z.object({ entryId, restMin: z.optional(quantity("restMin")) }),
  reads: (body, facts) => {
    const entry = facts.get("entry", body.entryId);
    return [{ table: "entry", id: body.entryId }, { running: true }, ...subjectNeeds(entry?.subjects ?? [])];
  },
  judge: (c) => {
    const entry = c.facts.get("entry", c.body.entryId);
    if (!entry || entry.struckAt !== undefined) return refused({ kind: "unknown-thing", field: "entryId" });
    if (entry.memberId !== c.by.id) return refused({ kind: "may-not", role: c.role, needs: ["owner", "bookkeeper"] });
    const stop = stopped(entry, { endedAt: c.when.happenedAt, by: c.by.id, madeAt: c.when.madeAt });
    if (!stop.ok) return refused(stop.refusal);
    const { endedAt = c.when.happenedAt, versions, needsWord } = stop.value;
    const restMin = c.body.restMin ?? entry.restMin;
    const overlong = restRefusal({ startedAt: entry.startedAt, endedAt }, restMin);
    if (overlong) return refused(overlong);
    if (endedAt === entry.endedAt && versions.length === entry.versions.length) return alreadySo();
    return accepted({
      kind: "timer-stopped",
      pieceId: entry.subjects[0]?.pieceId,
      memberId: c.by.id,
      changes: [
        changed("entry", entry.id, {
          endedAt,
          versions,
          needsWord: needsWord ?? null,
          restMin,
        }),
        ...signsOfWork(c.facts, c.by.id, entry.subjects, c.when.madeAt),
      ],
    });
  },
});

/** Seconds on a task among the starts, stops and typed entries that the same device delivers behind a lost claim. */
export function taskSecondsComing(wanted: string, coming: readonly Intent[]): number {
  const madeAt = (intent: Intent) => intent.happenedAt ?? intent.deviceAt + (intent.offsetMs ?? 0);
  const isOnTask = (subjects: SubjectsBody) => subjects.some((subject) => subject.taskId === wanted);
  let seconds = 0;
  const startedAtById = new Map<string, InstantMs>();
  for (const intent of coming) {
    const start = intent.kind === startTimer.kind ? startTimer.body.safeParse(intent.body) : undefined;
    if (start?.success && isOnTask(start.data.subjects)) startedAtById.set(start.data.entryId, madeAt(intent));
    const stop = intent.kind === stopTimer.kind ? stopTimer.body.safeParse(intent.body) : undefined;
    const startedAt = stop?.success ? startedAtById.get(stop.data.entryId) : undefined;
    if (startedAt !== undefined) seconds += Math.max(0, wholeSecond(madeAt(intent)) - wholeSecond(startedAt));
  }
  return seconds;
}
