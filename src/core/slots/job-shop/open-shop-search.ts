/**
 * Annealing for the open shop, whose jobs may take their steps in any order: a step of a longest path is taken out and put
 * in another place on its machine and in its job.
 */
import { type Random, seededRandom, shuffle } from "../random";
import type { JobShop } from "./job-shop";
import { MachineOrders, none } from "./machine-orders";

const hottestShare = 0.04;
const coldest = 0.3;

export class OpenShopSearch {
  readonly orders: MachineOrders;
  bestMakespan = Number.POSITIVE_INFINITY;
  bestHeads: Int32Array;
  /** Hears of every better plan. */
  onBetter: () => void = () => {};
  readonly #random: Random;
  readonly #jobOf: number[];
  readonly #roundLength: number;
  #done = 0;

  constructor(shop: JobShop, seed: number) {
    this.#random = seededRandom(seed);
    this.orders = new MachineOrders(shop);
    this.#jobOf = shop.jobs.flatMap((job, index) => job.map(() => index));
    this.#roundLength = 20 * this.orders.count;
    this.#disperse();
    this.bestHeads = this.orders.head.slice();
  }

  /** Steps until time is up or the makespan meets `bound`. */
  run(isTimeUp: () => boolean, bound: number) {
    while (this.bestMakespan > bound && !isTimeUp()) for (let at = 0; at < 8; at++) this.step();
  }

  step() {
    const { orders } = this;
    if (++this.#done > this.#roundLength) this.#disperse();
    const path = orders.criticalPath(() => this.#random.fraction() < 0.5);
    if (path.length < 2) return;
    const step = path[this.#random.below(path.length)] as number;
    const before = orders.makespan;
    const [inJob, onMachine] = [
      this.#places(step, orders.jobBefore, orders.jobAfter),
      this.#places(step, orders.before, orders.after),
    ];
    const [oldJob, oldMachine] = [orders.jobBefore[step] as number, orders.before[step] as number];
    const hottest = hottestShare * before;
    const temperature = hottest * (coldest / hottest) ** (this.#done / this.#roundLength);
    let [best, bestJob, bestMachine] = [Number.POSITIVE_INFINITY, oldJob, oldMachine];
    for (const job of inJob.targets) {
      orders.moveInJob(step, job, inJob.first);
      for (const machine of onMachine.targets) {
        if (job === oldJob && machine === oldMachine) continue;
        orders.moveBehind(step, machine, onMachine.first);
        if (!orders.renew()) continue;
        this.#note();
        const cost = orders.makespan - temperature * Math.log(1 - this.#random.fraction());
        if (cost < best) [best, bestJob, bestMachine] = [cost, job, machine];
      }
    }
    const isTaken = best <= before - 2 * temperature * Math.log(1 - this.#random.fraction());
    orders.moveInJob(step, isTaken ? bestJob : oldJob, inJob.first);
    orders.moveBehind(step, isTaken ? bestMachine : oldMachine, onMachine.first);
    orders.renew();
  }

  /** Behind whom a step can be put in its list, `none` first; and who is first without it. */
  #places(step: number, before: Int32Array, after: Int32Array): { targets: number[]; first: number } {
    let first = step;
    while ((before[first] as number) >= 0) first = before[first] as number;
    const targets: number[] = [none];
    for (let other = first; other >= 0; other = after[other] as number) if (other !== step) targets.push(other);
    return { targets, first: targets[1] ?? none };
  }

  #note() {
    if (this.orders.makespan >= this.bestMakespan) return;
    this.bestMakespan = this.orders.makespan;
    this.bestHeads = this.orders.head.slice();
    this.onBetter();
  }

  #disperse() {
    const steps = shuffle(
      this.#jobOf.map((_, step) => step),
      this.#random,
    );
    this.orders.setSequence(steps);
    this.orders.setJobSequence(steps, this.#jobOf);
    this.orders.renew();
    this.#done = 0;
    this.#note();
  }
}
