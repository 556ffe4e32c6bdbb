/**
 * The one door's judgement: pure, the same on the server and on a device without signal. It checks what every intent
 * has in common (shape, who, when), then asks the intent's own rule.
 */
import type * as z from "zod/mini";
import { dayMs, minuteMs } from "../units";
import { type Context, type IntentDefinition, newIdOf, type Ruling, refused } from "./define";
import type { Role } from "./entities/people";
import type { Facts, Need } from "./facts";
import type { Intent } from "./intent";
import { definitionOf } from "./intents";
import type { Moments } from "./moments";
import type { Refusal } from "./refusal";
import { endedAt, lesserRole, roleAt } from "./roles";
import { refusalOfShape } from "./shape";
import type { Member } from "./tables";

/** Hours made up to this long after a membership ended still count, if the end was not known on that device. */
const hoursAfterEndMs = dayMs;

export type JudgeInput = {
  facts: Facts;
  intent: Intent;
  when: Moments;
  /** The ledger number that the intent will have if it is accepted. */
  seq: number;
  isSharedTablet: boolean;
  coming?: readonly Intent[];
};

/** What must be loaded before this intent can be judged, given what is loaded already. */
export function needsOf(intent: Intent, shopId: string, facts: Facts): Need[] {
  const always: Need[] = [
    { table: "shop", id: shopId },
    { table: "member", all: true },
  ];
  const definition = definitionOf(intent.kind);
  const body = definition?.body.safeParse(intent.body);
  return body?.success && definition ? [...always, ...definition.reads(body.data, facts, intent)] : always;
}

export function judge({ facts, intent, when, seq, isSharedTablet, coming = [] }: JudgeInput): Ruling {
  const definition = definitionOf(intent.kind);
  if (!definition) return refused({ kind: "malformed", field: "kind", expected: "an intent that this shop knows" });
  const body = definition.body.safeParse(intent.body);
  if (!body.success) return refused(refusalOfShape(body.error.issues as z.core.$ZodIssue[], intent.body));

  const by = facts.get("member", intent.memberId);
  const shop = facts.all("shop")[0];
  if (!by || !shop) return refused({ kind: "unknown-thing", field: "memberId" });

  const standing = standingOf(definition, intent, by, when);
  if ("kind" in standing) return refused(standing);
  if (!definition.who.includes(standing.role)) {
    return refused({ kind: "may-not", role: standing.role, needs: [...definition.who] });
  }
  if (isSharedTablet && !definition.onSharedTablet) return refused({ kind: "not-on-shared-tablet" });

  const untimely = timelinessOf(definition, intent, standing.role, when);
  if (untimely) return refused(untimely);

  const context: Context<unknown> = {
    facts,
    body: body.data,
    intent,
    when,
    seq,
    shop,
    by,
    role: standing.role,
    isAfterTheEnd: standing.isAfterTheEnd,
    coming,
    newId: newIdOf(intent.intentId),
  };
  return definition.judge(context);
}

/** Reports count with the role when made, takings and plans with the role now, a word with the lesser of the two. */
function standingOf(
  definition: IntentDefinition,
  { seenSeq }: Intent,
  by: Member,
  when: Moments,
): { role: Role; isAfterTheEnd: boolean } | Refusal {
  const then = roleAt(by, when.madeAt);
  const now = roleAt(by, when.recordedAt);
  const ended = endedAt(by);
  if (ended !== undefined && !now) {
    const isBefore = definition.outlivesMembership && when.madeAt < ended;
    const knewOfEnd = seenSeq >= (by.roleSpans.at(-1)?.toSeq ?? Number.POSITIVE_INFINITY);
    const isWorkInGoodFaith = definition.carriesHours && !knewOfEnd && when.madeAt < ended + hoursAfterEndMs;
    if (!isBefore && !isWorkInGoodFaith) return { kind: "no-longer-a-member", endedAt: ended };
    const role = then ?? (by.roleSpans.at(-1)?.role as Role);
    return { role, isAfterTheEnd: true };
  }
  if (!now) return { kind: "may-not", role: "nobody", needs: [...definition.who] };
  const role =
    definition.sort === "report" ? (then ?? now) : definition.sort === "word" ? lesserRole(then ?? now, now) : now;
  return { role, isAfterTheEnd: false };
}

function timelinessOf(definition: IntentDefinition, intent: Intent, role: Role, when: Moments): Refusal | undefined {
  if (definition.carriesTime && !when.isClockTrusted && intent.happenedAt === undefined) {
    return {
      kind: "clock-not-trusted",
      deviceAt: intent.deviceAt,
      offsetMs: intent.offsetMs,
      uncertainMs: intent.offsetUncertainMs,
    };
  }
  const oldestMin = definition.oldestMin?.[role];
  if (oldestMin === undefined) return undefined;
  const oldestAt = when.madeAt - oldestMin * minuteMs;
  if (when.happenedAt >= oldestAt) return undefined;
  const mayAsk = (definition.who as Role[]).filter((other) => (definition.oldestMin?.[other] ?? Infinity) > oldestMin);
  return { kind: "too-far-back", happenedAt: when.happenedAt, oldestAt, role, mayAsk };
}
