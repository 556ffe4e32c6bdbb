/** The whole answer to a week: a plan with its bounds, a proved reason why there is none, or neither. */
import { bounds } from "./bound";
import { checkAllocation, compareObjectives, type Objective } from "./check";
import { firstPlan } from "./construct";
import { Improver } from "./improve";
import { type Infeasible, provedInfeasible } from "./infeasible";
import type { Slot } from "./instance";
import { asJobShop, type JobShop } from "./job-shop/job-shop";
import { jobShopBound, openShopBound } from "./job-shop/one-machine-bound";
import { OpenShopSearch } from "./job-shop/open-shop-search";
import { JobShopSearch } from "./job-shop/tabu-search";
import { inOrder } from "./order";
import type { Coat, SlotProblem } from "./problem";

export type AllocateOptions = {
  /** The same seed and number of steps give the same plan. */
  seed: number;
  /** Asked every few steps; the search ends when it says so, or before when the plan is proved best. */
  isTimeUp: () => boolean;
  /** Hears of every better plan, the first included. */
  onBetter?: (value: Objective) => void;
};
export type Allocation =
  | { kind: "planned"; slots: Slot[]; value: Objective; bound: Objective; isProven: boolean }
  | ({ kind: "infeasible" } & Infeasible)
  | { kind: "not-found"; why: string };

/** Attempts before a proof is looked for, and in all. */
const firstAttempts = 6;
const mostAttempts = 100_000;

/** Whether no plan can be better: every level down to its bound. */
export const isProvenBest = (value: Objective, bound: Objective): boolean => compareObjectives(value, bound) <= 0;

function planned(problem: SlotProblem, slots: Slot[], bound: Objective): Allocation {
  const { violations, objective } = checkAllocation(problem, slots);
  const [first] = violations;
  if (first || !objective) throw new Error(`the allocator broke a rule: ${first?.code} ${first?.ids} ${first?.why}`);
  return { kind: "planned", slots, value: objective, bound, isProven: isProvenBest(objective, bound) };
}

type Special = { shop: JobShop; coats: Coat[]; isOpen: boolean };

function allocateShop(problem: SlotProblem, { shop, coats, isOpen }: Special, options: AllocateOptions): Allocation {
  const bound = { tardiness: 0, handling: 0, makespan: isOpen ? openShopBound(shop) : jobShopBound(shop) };
  const search = isOpen ? new OpenShopSearch(shop, options.seed) : new JobShopSearch(shop, options.seed);
  const tell = () => options.onBetter?.({ tardiness: 0, handling: 0, makespan: search.bestMakespan });
  tell();
  search.onBetter = tell;
  search.run(options.isTimeUp, bound.makespan);
  const slots = coats.map(({ id, booths: [booth], people: [person], index }) => ({
    coat: id,
    booth: booth?.id ?? "",
    person: person?.id ?? "",
    start: search.bestHeads[index] as number,
  }));
  return planned(problem, slots, bound);
}

export function allocate(problem: SlotProblem, options: AllocateOptions): Allocation {
  const { seed, isTimeUp, onBetter } = options;
  const isHopeless =
    inOrder(problem.coats).length < problem.coats.length || problem.coats.some(({ starts }) => !starts.length);
  const special = isHopeless ? null : asJobShop(problem);
  if (special) return allocateShop(problem, special, options);
  let plan = isHopeless ? null : firstPlan(problem, seed, firstAttempts);
  if (!plan) {
    const infeasible = provedInfeasible(problem);
    if (infeasible) return { kind: "infeasible", ...infeasible };
    plan = isHopeless ? null : firstPlan(problem, seed + 1, mostAttempts, isTimeUp);
  }
  if (!plan) {
    const why =
      "No plan was found in this time, and no proof that there is none. Give it longer, open longer or promise later.";
    return { kind: "not-found", why };
  }
  onBetter?.(plan.objective());
  const bound = bounds(problem);
  if (isTimeUp()) return planned(problem, plan.slots(), bound);
  const improver = new Improver(plan, seed, bound, onBetter);
  improver.run(isTimeUp, (best) => isProvenBest(best, bound));
  return planned(problem, improver.bestSlots, bound);
}
