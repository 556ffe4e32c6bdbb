import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { allocate } from "~/core/slots/allocate";
import { bounds } from "~/core/slots/bound";
import { checkAllocation, compareObjectives, type Objective } from "~/core/slots/check";
import { firstPlan } from "~/core/slots/construct";
import { provedInfeasible } from "~/core/slots/infeasible";
import { instanceNames, instanceOf, looks, problemOf, solvedNames } from "./instance-files";
import { bestOfAll, lively, shops, tiny } from "./tiny-shop";

/** Plans until the value is reached or the looks are used up. */
function planUntil(name: string, count: number, wanted: Objective) {
  let isReached = false;
  const isTimeUp = looks(count);
  const onBetter = (best: Objective) => {
    isReached = compareObjectives(best, wanted) <= 0;
  };
  return allocate(problemOf(instanceOf(name)), { seed: 1, isTimeUp: () => isReached || isTimeUp(), onBetter });
}

test.each(instanceNames(/^s\d/))(
  "the small week %s is planned as well as was proved possible, on all three levels",
  (name) => {
    const { tardiness, handling, makespan } = instanceOf(name).result;
    const found = planUntil(name, 6000, { tardiness, handling, makespan });
    expect(found).toMatchObject({ kind: "planned", value: { tardiness, handling, makespan } });
  },
);

test("no plan of a medium week is better than what was proved best, and none is a tenth worse", () => {
  for (const name of ["m01", "m02", "m05"]) {
    const { tardiness, handling, makespan } = instanceOf(name).result;
    const found = planUntil(name, 600, { tardiness, handling, makespan });
    if (found.kind !== "planned") throw new Error(`${name}: ${found.kind}`);
    expect(compareObjectives(found.value, { tardiness, handling, makespan })).toBeGreaterThanOrEqual(0);
    expect(found.value.tardiness).toBeLessThanOrEqual(tardiness * 1.1);
  }
});

test("a thousand coats get a first plan that breaks no rule", () => {
  const problem = problemOf(instanceOf("w200"));
  const plan = firstPlan(problem, 1, 1);
  expect(checkAllocation(problem, plan?.slots()).violations).toEqual([]);
});

test("the same seed gives the same plan, and every better plan told of is better than the one before", () => {
  const problem = problemOf(instanceOf("m02"));
  const told: Objective[] = [];
  const once = allocate(problem, { seed: 7, isTimeUp: looks(60), onBetter: (best) => told.push(best) });
  expect(allocate(problem, { seed: 7, isTimeUp: looks(60) })).toEqual(once);
  expect(told.length).toBeGreaterThan(2);
  for (const [index, best] of told.slice(1).entries())
    expect(compareObjectives(best, told[index] as Objective)).toBeLessThan(0);
});

test("the search ends by itself when the plan is proved best", () => {
  const never = looks(1_000_000);
  const found = allocate(problemOf(instanceOf("s09")), { seed: 1, isTimeUp: looks(3) });
  const { value } = found.kind === "planned" ? found : { value: null };
  expect(value).toMatchObject({ tardiness: 0 });
  const proven = allocate(problemOf({ ...instanceOf("s09"), changeover: { between: {} } }), {
    seed: 1,
    isTimeUp: never,
  });
  expect(proven).toMatchObject({ kind: "planned", isProven: true });
});

test.each(solvedNames)("no bound of %s lies above what a plan attains", (name) => {
  const { tardiness, handling, makespan } = instanceOf(name).result;
  const bound = bounds(problemOf(instanceOf(name)));
  expect(bound.tardiness).toBeLessThanOrEqual(tardiness);
  expect(bound.handling).toBeLessThanOrEqual(handling);
  expect(bound.makespan).toBeLessThanOrEqual(makespan);
});

describe("in a random shop", () => {
  test("every plan obeys every rule, whatever clashes", () => {
    let planned = 0;
    fc.assert(
      fc.property(shops(lively), fc.integer(), (instance, seed) => {
        const problem = problemOf(instance);
        // the allocator throws when the checker finds anything
        const found = allocate(problem, { seed, isTimeUp: looks(4) });
        if (found.kind !== "planned") return;
        planned++;
        expect(checkAllocation(problem, found.slots).violations).toEqual([]);
        expect(compareObjectives(found.value, found.bound)).toBeGreaterThanOrEqual(0);
        expect(provedInfeasible(problem)).toBeNull();
      }),
      { numRuns: 100, seed: 11 },
    );
    expect(planned).toBeGreaterThan(15);
  });

  test("the best of all plans is found where every plan can be tried, and no proof of impossibility is false", () => {
    let [agreed, impossible] = [0, 0];
    fc.assert(
      fc.property(shops(tiny), (instance) => {
        const problem = problemOf(instance);
        const all = bestOfAll(problem);
        if (!all) return;
        const found = allocate(problem, { seed: 3, isTimeUp: looks(40) });
        if (!all.best) {
          impossible++;
          expect(found.kind).not.toBe("planned");
          return;
        }
        agreed++;
        expect(found).toMatchObject({ kind: "planned", value: all.best });
        const bound = bounds(problem);
        expect(bound.tardiness).toBeLessThanOrEqual(all.best.tardiness);
        expect(bound.handling).toBeLessThanOrEqual(all.best.handling);
        expect(bound.makespan).toBeLessThanOrEqual(all.best.makespan);
      }),
      { numRuns: 100, seed: 5, endOnFailure: true },
    );
    expect(agreed).toBeGreaterThan(8);
    expect(impossible).toBeGreaterThan(5);
  });
});
