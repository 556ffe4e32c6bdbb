/**
 * A project's schedule by a genetic search over orders of activities: two-point crossings, each child squeezed backwards
 * and forwards (V. Valls, F. Ballestín and S. Quintanilla, European Journal of Operational Research 165, 2005), started
 * anew when all have become alike.
 */
import { type Random, seededRandom } from "../random";
import { type Activity, chains, type Project, topologicalOrder } from "./project";

type Plan = { order: number[]; starts: Int32Array; makespan: number };

const populationSize = 40;

export class ProjectSearch {
  bestStarts: Int32Array;
  bestMakespan = Number.POSITIVE_INFINITY;
  schedules = 0;
  readonly #random: Random;
  readonly #predecessors: number[][];
  readonly #profile: Int32Array[];
  readonly #total: number;
  #population: Plan[] = [];
  #still = 0;

  constructor(
    readonly project: Project,
    seed: number,
  ) {
    const { activities, capacities } = project;
    this.#random = seededRandom(seed);
    this.#predecessors = activities.map(() => []);
    for (const [activity, { successors }] of activities.entries())
      for (const next of successors) (this.#predecessors[next] as number[]).push(activity);
    this.#total = activities.reduce((sum, { duration }) => sum + duration, 0) + 1;
    this.#profile = capacities.map(() => new Int32Array(this.#total + 1));
    this.bestStarts = new Int32Array(activities.length);
    this.#populate();
  }

  /** Steps until time is up or the makespan meets `bound`. */
  run(isTimeUp: () => boolean, bound: number) {
    while (this.bestMakespan > bound && !isTimeUp()) this.step();
  }

  /** One child; a new population when the last ones brought nothing. */
  step() {
    if (this.#still > 30 * populationSize) {
      this.#populate();
      return;
    }
    const [one, other] = [this.#parent(), this.#parent()];
    const child = this.#squeezed(this.#mutated(this.#crossed(one.order, other.order)));
    const worst = this.#population.reduce(
      (at, plan, index, all) => (plan.makespan >= (all[at] as Plan).makespan ? index : at),
      0,
    );
    const isKnown = this.#population.some(
      ({ makespan, starts }) =>
        makespan === child.makespan && starts.every((start, index) => start === child.starts[index]),
    );
    this.#still++;
    if (isKnown || child.makespan > (this.#population[worst] as Plan).makespan) return;
    if (child.makespan < Math.min(...this.#population.map(({ makespan }) => makespan))) this.#still = 0;
    this.#population[worst] = child;
  }

  #populate() {
    const { from } = chains(this.project);
    this.#still = 0;
    this.#population = [];
    for (let index = 0; index < populationSize; index++) {
      const unrest = index === 0 ? 0 : 20 * this.#random.fraction();
      const keys = from.map((chain) => -chain + unrest * this.#random.fraction());
      this.#population.push(this.#squeezed(this.#byKeys(keys)));
    }
  }

  #parent(): Plan {
    const one = this.#population[this.#random.below(populationSize)] as Plan;
    const other = this.#population[this.#random.below(populationSize)] as Plan;
    return one.makespan <= other.makespan ? one : other;
  }

  /** The activities by rising key, none before what it waits for. */
  #byKeys(keys: number[]): number[] {
    const raised = [...keys];
    for (const activity of topologicalOrder(this.project.activities))
      for (const next of (this.project.activities[activity] as Activity).successors)
        raised[next] = Math.max(raised[next] as number, (raised[activity] as number) + 1e-7);
    return raised
      .map((_, activity) => activity)
      .sort((one, other) => (raised[one] as number) - (raised[other] as number));
  }

  #crossed(one: number[], other: number[]): number[] {
    const count = one.length;
    const [cut, end] = [this.#random.below(count), this.#random.below(count)].sort((left, right) => left - right) as [
      number,
      number,
    ];
    const taken = new Uint8Array(count);
    const child: number[] = [];
    const take = (activity: number) => {
      if (taken[activity]) return;
      taken[activity] = 1;
      child.push(activity);
    };
    for (const activity of one.slice(0, cut)) take(activity);
    for (const activity of other) if (child.length < end) take(activity);
    for (const activity of one) take(activity);
    return child;
  }

  /** Neighbours change places here and there, unless one waits for the other. */
  #mutated(order: number[]): number[] {
    for (let at = 0; at + 1 < order.length; at++) {
      if (this.#random.fraction() >= 0.05) continue;
      const [one, other] = [order[at] as number, order[at + 1] as number];
      if ((this.#predecessors[other] as number[]).includes(one)) continue;
      order[at] = other;
      order[at + 1] = one;
    }
    return order;
  }

  /** Scheduled in order, then pushed against its end and back against its begin. */
  #squeezed(order: number[]): Plan {
    const { activities } = this.project;
    const first = this.#schedule(order, false);
    const endOf = (starts: Int32Array, activity: number) =>
      (starts[activity] as number) + (activities[activity] as Activity).duration;
    const byEnd = [...order].sort((one, other) => endOf(first, other) - endOf(first, one));
    const pushed = this.#schedule(byEnd, true);
    const byStart = [...byEnd].sort((one, other) => endOf(pushed, other) - endOf(pushed, one));
    const starts = this.#schedule(byStart, false);
    const makespan = activities.reduce((most, _, activity) => Math.max(most, endOf(starts, activity)), 0);
    const kept = [...byStart].sort((one, other) => (starts[one] as number) - (starts[other] as number));
    if (makespan < this.bestMakespan) {
      this.bestMakespan = makespan;
      this.bestStarts = starts;
    }
    return { order: this.#lawful(kept), starts, makespan };
  }

  /** Activities without duration may stand before what they wait for at the same time: put right. */
  #lawful(order: number[]): number[] {
    const keys = new Array<number>(order.length);
    for (const [rank, activity] of order.entries()) keys[activity] = rank;
    return this.#byKeys(keys);
  }

  /**
   * Each activity in turn as early as precedence and resources allow. Backwards, time runs from the end and successors
   * come first: the starts are then distances from the end.
   */
  #schedule(order: number[], isBackwards: boolean): Int32Array {
    this.schedules++;
    const { activities, capacities } = this.project;
    const starts = new Int32Array(activities.length);
    for (const use of this.#profile) use.fill(0);
    const queue = isBackwards ? this.#lawfulBackwards(order) : order;
    for (const activity of queue) {
      const { duration, needs, successors } = activities[activity] as Activity;
      let start = 0;
      for (const earlier of isBackwards ? successors : (this.#predecessors[activity] as number[]))
        start = Math.max(start, (starts[earlier] as number) + (activities[earlier] as Activity).duration);
      for (let grain = start; grain < start + duration; grain++)
        for (let resource = 0; resource < capacities.length; resource++)
          if (
            ((this.#profile[resource] as Int32Array)[grain] as number) + (needs[resource] as number) >
            (capacities[resource] as number)
          ) {
            start = grain + 1;
            break;
          }
      starts[activity] = start;
      for (let resource = 0; resource < capacities.length; resource++) {
        const use = this.#profile[resource] as Int32Array;
        const need = needs[resource] as number;
        if (need) for (let grain = start; grain < start + duration; grain++) use[grain] = (use[grain] as number) + need;
      }
    }
    return starts;
  }

  #lawfulBackwards(order: number[]): number[] {
    const keys = new Array<number>(order.length);
    for (const [rank, activity] of order.entries()) keys[activity] = rank;
    for (const activity of [...topologicalOrder(this.project.activities)].reverse())
      for (const earlier of this.#predecessors[activity] as number[])
        keys[earlier] = Math.max(keys[earlier] as number, (keys[activity] as number) + 1e-7);
    return [...order].sort((one, other) => (keys[one] as number) - (keys[other] as number));
  }
}
