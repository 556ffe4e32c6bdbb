import * as z from "zod/mini";
import { longestMin, spanOf, spanSeconds } from "../../labour/entry";
import { text } from "../../text";
import { dayMs, type InstantMs, instant, minuteMs, quantity } from "../../units";
import { accepted, type Context, changed, defineIntent, made, type Ruling, refused } from "../define";
import { entryId, idOf, memberId } from "../entities/ids";
import type { Role } from "../entities/people";
import { splitRules, workKinds } from "../entities/work";
import { members } from "../roles";
import type { TimeEntry } from "../tables";
import { leadDone, tasksOf } from "./lead-lock";
import { notice } from "./notice";
import { restRefusal, signsOfWork, splitRuleFor, subjectNeeds, subjectsBody, subjectsOf } from "./timers";

/** Who may write another's hours; the person is told. */
const mayWriteForOthers: readonly Role[] = ["owner", "bookkeeper"];
/** How far back a helper writes hours alone; partners may as long as the week is open. */
const helperBackMs = 14 * dayMs;
/** A typed end may lie this far ahead of the clock: a rounding, not the future. */
const aheadMs = 2 * minuteMs;

type Stretch = { startedAt: InstantMs; endedAt: InstantMs };

function stretchRefusal(c: Context<unknown>, stretch: Stretch): Ruling | undefined {
  const { startedAt, endedAt } = stretch;
  if (endedAt <= startedAt) return refused({ kind: "ends-before-start", startedAt, endedAt });
  if (endedAt > c.when.madeAt + aheadMs) {
    return refused({ kind: "in-the-future", happenedAt: endedAt, latestAt: c.when.madeAt });
  }
  if (endedAt - startedAt > longestMin * minuteMs) {
    return refused({ kind: "entry-too-long", startedAt, endedAt, maxMin: longestMin });
  }
  const oldestAt = c.when.madeAt - helperBackMs;
  if (c.role === "helper" && startedAt < oldestAt) {
    return refused({
      kind: "too-far-back",
      happenedAt: startedAt,
      oldestAt,
      role: c.role,
      mayAsk: ["partner", "owner"],
    });
  }
  return undefined;
}

/** Typed shares that are all nothing share nothing out. */
const isWeightless = (splitRule: string, subjects: readonly { weight?: number }[]) =>
  splitRule === "typed" && subjects.every((subject) => !subject.weight);

export const addEntry = defineIntent({
  kind: "add-entry",
  sort: "report",
  who: members,
  carriesTime: true,
  carriesHours: true,
  body: z.object({
    entryId,
    memberId,
    startedAt: instant,
    endedAt: instant,
    restMin: z._default(quantity("restMin"), 0),
    workKind: z.enum(workKinds),
    subjects: subjectsBody,
    splitRule: z._default(z.enum(splitRules), "equal"),
    sessionId: z.optional(idOf<"session">()),
    note: z.optional(text(300)),
  }),
  reads: (body) => subjectNeeds(body.subjects),
  judge: (c) => {
    const { body } = c;
    const forMember = c.facts.get("member", body.memberId);
    if (!forMember) return refused({ kind: "unknown-thing", field: "memberId" });
    if (body.memberId !== c.by.id && !mayWriteForOthers.includes(c.role)) {
      return refused({ kind: "may-not", role: c.role, needs: [...mayWriteForOthers] });
    }
    const wrong = stretchRefusal(c, body);
    if (wrong) return wrong;
    const overlong = restRefusal(body, body.restMin);
    if (overlong) return refused(overlong);
    const subjects = subjectsOf(c.facts, body.subjects);
    if (typeof subjects === "string") return refused({ kind: "unknown-thing", field: subjects });
    if (isWeightless(body.splitRule, subjects)) {
      return refused({ kind: "weights-empty", pieceIds: subjects.map((subject) => subject.pieceId) });
    }
    const needsWord = c.isAfterTheEnd ? afterTheEnd(c, body.startedAt) : undefined;
    return accepted({
      kind: "entry-added",
      pieceId: subjects[0]?.pieceId,
      memberId: body.memberId,
      changes: [
        made("entry", {
          id: body.entryId,
          memberId: body.memberId,
          startedAt: body.startedAt,
          endedAt: body.endedAt,
          restMin: body.restMin,
          workKind: body.workKind,
          subjects,
          splitRule: splitRuleFor(subjects, body.splitRule),
          sessionId: body.sessionId,
          source: "typed",
          needsWord,
          note: body.note,
          versions: [],
        }),
        ...signsOfWork(c.facts, body.memberId, subjects, c.when.madeAt),
        ...leadDone(c, tasksOf(c.facts, subjects), body.startedAt),
        ...(body.memberId === c.by.id
          ? []
          : [
              notice(c, 0, body.memberId, "entry-corrected", {
                pieceId: subjects[0]?.pieceId,
                detail: { entryId: body.entryId },
              }),
            ]),
      ],
    });
  },
});

const afterTheEnd = (c: Context<unknown>, startedAt: InstantMs): TimeEntry["needsWord"] => {
  const endedAt = c.by.roleSpans.at(-1)?.toAt;
  return endedAt !== undefined && startedAt >= endedAt ? "after-the-end" : "delivered-after-the-end";
};

export const correctEntry = defineIntent({
  kind: "correct-entry",
  sort: "report",
  who: members,
  carriesHours: true,
  body: z.object({
    entryId,
    startedAt: z.optional(instant),
    endedAt: z.optional(instant),
    restMin: z.optional(quantity("restMin")),
    workKind: z.optional(z.enum(workKinds)),
    subjects: z.optional(subjectsBody),
    splitRule: z.optional(z.enum(splitRules)),
    isStruck: z.optional(z.literal(true)),
    /** The owner's yes to an entry that waits for a word. */
    isConfirmed: z.optional(z.literal(true)),
    why: text(300),
  }),
  reads: (body, facts) => [
    { table: "entry", id: body.entryId },
    { running: true },
    ...subjectNeeds(body.subjects ?? facts.get("entry", body.entryId)?.subjects ?? []),
  ],
  judge: (c) => {
    const { body } = c;
    const entry = c.facts.get("entry", body.entryId);
    if (!entry || entry.struckAt !== undefined) return refused({ kind: "unknown-thing", field: "entryId" });
    const isOwn = entry.memberId === c.by.id;
    if ((!isOwn || body.isConfirmed) && !mayWriteForOthers.includes(c.role)) {
      return refused({ kind: "may-not", role: c.role, needs: [...mayWriteForOthers] });
    }
    const startedAt = body.startedAt ?? entry.startedAt;
    const endedAt = body.endedAt ?? entry.endedAt;
    const isRetimed = body.startedAt !== undefined || body.endedAt !== undefined;
    const wrong = isRetimed ? stretchRefusal(c, { startedAt, endedAt: endedAt ?? c.when.madeAt }) : undefined;
    if (wrong) return wrong;
    const subjects = body.subjects ? subjectsOf(c.facts, body.subjects) : entry.subjects;
    if (typeof subjects === "string") return refused({ kind: "unknown-thing", field: subjects });
    const splitRule = splitRuleFor(subjects, body.splitRule ?? entry.splitRule);
    if (isWeightless(splitRule, subjects)) {
      return refused({ kind: "weights-empty", pieceIds: subjects.map((subject) => subject.pieceId) });
    }
    const restMin = body.restMin ?? entry.restMin;
    const overlong = endedAt === undefined ? undefined : restRefusal({ startedAt, endedAt }, restMin);
    if (overlong) return refused(overlong);
    const isSettled = body.isConfirmed || (isRetimed && entry.needsWord === "over-sixteen-hours");
    return accepted({
      kind: body.isStruck ? "entry-struck" : "entry-corrected",
      pieceId: subjects[0]?.pieceId,
      memberId: entry.memberId,
      changes: [
        changed("entry", entry.id, {
          startedAt,
          endedAt: endedAt ?? null,
          restMin,
          workKind: body.workKind ?? entry.workKind,
          subjects,
          splitRule,
          needsWord: isSettled ? null : (entry.needsWord ?? null),
          struckAt: body.isStruck ? c.when.recordedAt : null,
          versions: [
            ...entry.versions,
            { by: c.by.id, at: c.when.madeAt, was: whatItWas(entry, c.when.madeAt), why: body.why },
          ],
        }),
        ...(isOwn
          ? []
          : [
              notice(c, 0, entry.memberId, "entry-corrected", {
                pieceId: subjects[0]?.pieceId,
                detail: { entryId: entry.id, why: body.why },
              }),
            ]),
      ],
    });
  },
});

/** The original stays under every correction; of a running timer, how long it had run. */
const whatItWas = (entry: TimeEntry, at: InstantMs): Record<string, unknown> => ({
  startedAt: entry.startedAt,
  ...(entry.endedAt === undefined
    ? { runningSeconds: spanSeconds(spanOf({ ...entry, restMin: 0 }, at)) }
    : { endedAt: entry.endedAt }),
  restMin: entry.restMin,
  workKind: entry.workKind,
  subjects: entry.subjects,
  splitRule: entry.splitRule,
});
