import type { Refusal } from "~/core/shop/refusal";
import type { RefusedIntent } from "~/device/queue-database";

export type RefusedGroup = {
  kind: Refusal["kind"];
  /** The newest first. */
  rows: RefusedIntent[];
};

/** What was refused, the same sort of reason together; what rests on a refused thing that is still here is with that. */
export function refusedGroups(refused: readonly RefusedIntent[]): RefusedGroup[] {
  const here = new Set(refused.map(({ intent }) => intent.intentId));
  const byKind = new Map<Refusal["kind"], RefusedIntent[]>();
  for (const row of [...refused].sort((a, b) => b.place - a.place)) {
    if (makerOf(row, here) !== undefined) continue;
    const rows = byKind.get(row.refusal.kind);
    if (rows) rows.push(row);
    else byKind.set(row.refusal.kind, [row]);
  }
  return [...byKind].map(([kind, rows]) => ({ kind, rows }));
}

/** What was refused only because it rests on this one. */
export const restingOn = (refused: readonly RefusedIntent[], { intent }: RefusedIntent): RefusedIntent[] =>
  refused.filter(({ refusal }) => refusal.kind === "rests-on-refused" && refusal.intentId === intent.intentId);

const makerOf = ({ refusal }: RefusedIntent, here: ReadonlySet<string>): string | undefined =>
  refusal.kind === "rests-on-refused" && here.has(refusal.intentId) ? refusal.intentId : undefined;

/** Sent again as it is, the answer would be the same for ever. */
const final: readonly Refusal["kind"][] = [
  "may-not",
  "no-longer-a-member",
  "not-on-shared-tablet",
  "intent-altered",
  "malformed",
];

export const maySendAgain = (kind: Refusal["kind"]): boolean => !final.includes(kind);
