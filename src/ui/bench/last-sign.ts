import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";

/** The last thing that a member is known to have done anywhere in the shop: what a forgotten timer is asked about. */
export function lastSignOf(facts: Facts, memberId: string): InstantMs | undefined {
  const signs: (InstantMs | undefined)[] = [
    ...facts.all("claim").map((claim) => (claim.memberIds.includes(memberId) ? claim.lastSignAt : undefined)),
    ...facts
      .all("coat")
      .flatMap(({ applied, wiped }) => [
        applied?.by.includes(memberId) ? applied.endedAt : undefined,
        wiped?.by === memberId ? wiped.at : undefined,
      ]),
    ...facts.all("test").map((test) => (test.by === memberId ? test.at : undefined)),
    ...facts.all("task").map((task) => (task.finished?.by === memberId ? task.finished.at : undefined)),
  ];
  const known = signs.filter((at) => at !== undefined);
  return known.length === 0 ? undefined : Math.max(...known);
}
