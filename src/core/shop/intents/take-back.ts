import * as z from "zod/mini";
import { dayMs, type InstantMs } from "../../units";
import { accepted, alreadySo, defineIntent, refused } from "../define";
import { intentId } from "../entities/ids";
import type { Facts, Need } from "../facts";
import { isReversible, undoing } from "../old-values";
import { isTakenBack, type Past, type PastEntry } from "../past";
import type { RefusalOf } from "../refusal";
import { restingOn, restNeeds } from "../rests-on";
import { members } from "../roles";
import { waysByKind } from "../ways-back";

/** Its maker may take it back for this long after it was made. */
const takeBackMs = dayMs;

/** Why an act of one's own stays. */
export type Hindrance = RefusalOf<"something-rests-on-it" | "too-late-to-take-back" | "not-taken-back">;

/** A refusal names this many of the things that rest on it; the first of them decides. */
const mostNamed = 20;

/** Acts as a refusal names them: what, by whom, when. */
export const somethingRests = (itsKind: string, resting: readonly PastEntry[]): Hindrance => ({
  kind: "something-rests-on-it",
  itsKind,
  intentIds: resting.slice(0, mostNamed).map(({ intentId: id }) => id),
  resting: resting.slice(0, mostNamed).map(({ kind, memberId, madeAt: at }) => ({
    kind,
    ...(memberId === undefined ? {} : { byMemberId: memberId }),
    at,
  })),
});

/** What must be known to say whether an act may be taken back, besides the act and what came after it. */
export const takeBackNeeds = (past: Past): Need[] => [
  ...past.entry.events
    .flatMap(({ changes }) => changes)
    .flatMap((change): Need[] => ("id" in change ? [{ table: change.table, id: change.id }] : [])),
  ...restNeeds(past.entry),
];

/** Why its maker cannot take it back at this moment; undefined where they can. */
export function takeBackHindrance(
  facts: Pick<Facts, "get" | "where">,
  past: Past,
  madeAt: InstantMs,
): Hindrance | undefined {
  const { kind: itsKind } = past.entry;
  const back = waysByKind[itsKind]?.back;
  if (back?.by !== "take-back" || !isReversible(past.entry)) {
    return { kind: "not-taken-back", itsKind, insteadKinds: back?.by === "another" ? [...back.kinds] : [] };
  }
  const untilAt = past.entry.madeAt + takeBackMs;
  if (madeAt > untilAt) return { kind: "too-late-to-take-back", itsKind, untilAt };
  const resting = restingOn(facts, past);
  return resting.length > 0 ? somethingRests(itsKind, resting) : undefined;
}

/**
 * Unwrites the maker's own act of the last day, as if it had not been, while nothing rests on it. Both stay in the
 * ledger. A taking, judged against the state as it is: somebody may have built on it meanwhile.
 */
export const takeBack = defineIntent({
  kind: "take-back",
  sort: "taking",
  who: members,
  onSharedTablet: true,
  body: z.object({ intentId }),
  reads: (body, facts) => {
    const past = facts.past(body.intentId);
    return [{ pastFrom: body.intentId }, ...(past ? takeBackNeeds(past) : [])];
  },
  judge: (c) => {
    const past = c.facts.past(c.body.intentId);
    if (!past) return refused({ kind: "unknown-thing", field: "intentId" });
    if (past.entry.memberId !== c.by.id) return refused({ kind: "may-not", role: c.role, needs: [] });
    if (isTakenBack(past)) return alreadySo();
    const hindrance = takeBackHindrance(c.facts, past, c.when.madeAt);
    return hindrance ? refused(hindrance) : accepted(...undoing(past.entry, c.by.id));
  },
});
