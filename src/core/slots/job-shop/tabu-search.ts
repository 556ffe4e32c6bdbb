/**
 * Tabu search over the orders of a job shop, moving steps within critical blocks to the blocks' ends and estimating each
 * move from heads and tails (E. Balas and A. Vazacopoulos, Management Science 44, 1998; C. Zhang and others, Computers &
 * Operations Research 34, 2007). When it stands still it goes on between two of its best plans.
 */
import { type Random, seededRandom, shuffle } from "../random";
import type { JobShop } from "./job-shop";
import { MachineOrders, none } from "./machine-orders";

type Move = { isRight: boolean; from: number; to: number; estimate: number; isTabu: boolean };
type Elite = { sequence: Int32Array; makespan: number };

const mostElites = 12;

export class JobShopSearch {
  readonly orders: MachineOrders;
  bestMakespan = Number.POSITIVE_INFINITY;
  bestHeads: Int32Array;
  iterations = 0;
  /** Hears of every better plan. */
  onBetter: () => void = () => {};
  readonly #random: Random;
  readonly #forbiddenUntil: Int32Array;
  readonly #tenure: number;
  readonly #patience: number;
  #elites: Elite[] = [];
  #roundBest = Number.POSITIVE_INFINITY;
  #roundSequence: Int32Array;
  #still = 0;
  readonly #steps: number[] = [];

  constructor(shop: JobShop, seed: number) {
    this.#random = seededRandom(seed);
    this.orders = new MachineOrders(shop);
    const { count } = this.orders;
    this.#forbiddenUntil = new Int32Array(count * count);
    this.#tenure = 10 + shop.jobs.length / shop.machineCount;
    this.#patience = Math.max(3000, 40 * count);
    this.#disperse();
    this.bestHeads = this.orders.head.slice();
    this.#roundSequence = this.orders.sequence();
    this.#note();
  }

  /** Steps until time is up or the makespan meets `bound`. */
  run(isTimeUp: () => boolean, bound: number) {
    if (this.orders.count > 0)
      while (this.bestMakespan > bound && !isTimeUp()) for (let at = 0; at < 64; at++) this.step();
  }

  step() {
    this.iterations++;
    const move = this.#chooseMove();
    if (!move || ++this.#still > this.#patience) {
      this.#restart();
      return;
    }
    this.#make(move);
    this.orders.renew();
    this.#note();
  }

  #note() {
    const { orders } = this;
    if (orders.makespan < this.#roundBest) {
      this.#roundBest = orders.makespan;
      this.#roundSequence = orders.sequence();
      this.#still = 0;
    }
    if (orders.makespan >= this.bestMakespan) return;
    this.bestMakespan = orders.makespan;
    this.bestHeads = orders.head.slice();
    this.onBetter();
  }

  /** A plan by chance: tickets of the jobs drawn one by one. */
  #disperse() {
    const { orders } = this;
    const next = orders.shop.jobs.map(() => 0);
    const firsts: number[] = [];
    let offset = 0;
    for (const job of orders.shop.jobs) {
      firsts.push(offset);
      offset += job.length;
    }
    const sequence: number[] = [];
    const tickets = shuffle(
      orders.shop.jobs.flatMap((job, index) => job.map(() => index)),
      this.#random,
    );
    for (const job of tickets) {
      const step = next[job] as number;
      sequence.push((firsts[job] as number) + step);
      next[job] = step + 1;
    }
    orders.setSequence(sequence);
    orders.renew();
  }

  /** Keeps what this round found and goes on half way between two of the best, or somewhere new. */
  #restart() {
    const elite = { sequence: this.#roundSequence, makespan: this.#roundBest };
    if (
      !this.#elites.some(
        ({ makespan, sequence }) => makespan === elite.makespan && this.#distance(sequence, elite.sequence) < 4,
      )
    )
      this.#elites.push(elite);
    this.#elites.sort((one, other) => one.makespan - other.makespan);
    this.#elites.length = Math.min(this.#elites.length, mostElites);
    const { orders } = this;
    if (this.#elites.length < mostElites / 2) this.#disperse();
    else {
      const one = this.#elites[this.#random.below(this.#elites.length)] as Elite;
      const other = this.#elites[this.#random.below(this.#elites.length)] as Elite;
      this.#blend(one, other);
      orders.renew();
    }
    this.#forbiddenUntil.fill(0);
    this.#still = 0;
    this.#roundBest = Number.POSITIVE_INFINITY;
    this.#note();
  }

  #ranks(sequence: Int32Array): Int32Array {
    const ranks = new Int32Array(sequence.length);
    sequence.forEach((step, rank) => {
      ranks[step] = rank;
    });
    return ranks;
  }

  /** In how many pairs of steps on one machine two plans differ. */
  #distance(one: Int32Array, other: Int32Array): number {
    const ranks = this.#ranks(other);
    const byMachine = new Map<number, number[]>();
    let differing = 0;
    for (const step of one) {
      const machine = this.orders.machine[step] as number;
      const earlier = byMachine.get(machine) ?? [];
      for (const before of earlier) if ((ranks[before] as number) > (ranks[step] as number)) differing++;
      earlier.push(step);
      byMachine.set(machine, earlier);
    }
    return differing;
  }

  /** Ranks mixed of two plans keep every order on which they agree; equal parents are stirred instead. */
  #blend(one: Elite, other: Elite) {
    const { count } = this.orders;
    const [ranks, others] = [this.#ranks(one.sequence), this.#ranks(other.sequence)];
    const share = 0.3 + 0.4 * this.#random.fraction();
    const unrest = one === other ? count * 0.3 : count * 0.02;
    const keys = Array.from(ranks, (rank, step) => {
      const mixed = one === other ? rank : (1 - share) * rank + share * (others[step] as number);
      return mixed + unrest * this.#random.fraction();
    });
    // keys may put a step before its forerunner in the job: the later of the two carries on from there
    for (let step = 0; step < count; step++) {
      const earlier = this.orders.jobBefore[step] as number;
      if (earlier >= 0) keys[step] = Math.max(keys[step] as number, (keys[earlier] as number) + 1e-6);
    }
    const steps = Array.from(ranks, (_, step) => step);
    this.orders.setSequence(
      steps.sort((left, right) => (keys[left] as number) - (keys[right] as number) || left - right),
    );
  }

  #chooseMove(): Move | null {
    const path = this.orders.criticalPath(() => this.#random.fraction() < 0.5);
    const { machine } = this.orders;
    let best: Move | null = null;
    let ties = 0;
    let lastResort: Move | null = null;
    let resorts = 0;
    const consider = (move: Move | null) => {
      if (!move) return;
      if (move.isTabu && move.estimate >= this.bestMakespan) {
        if (this.#random.below(++resorts) === 0) lastResort = move;
        return;
      }
      if (!best || move.estimate < best.estimate) {
        best = move;
        ties = 1;
      } else if (move.estimate === best.estimate && this.#random.below(++ties) === 0) best = move;
    };
    for (let from = 0; from < path.length; ) {
      let to = from;
      while (to + 1 < path.length && machine[path[to + 1] as number] === machine[path[from] as number]) to++;
      for (let at = from; at < to; at++) consider(this.#right(path, at, to));
      for (let at = from + 1; at <= to; at++) if (to - from > 1 || at !== to) consider(this.#left(path, from, at));
      // the ends of a block may also go into it
      for (let at = from + 1; at < to; at++) {
        consider(this.#right(path, from, at));
        consider(this.#left(path, at, to));
      }
      from = to + 1;
    }
    return best ?? lastResort;
  }

  /** The step at `from` right behind the one at `to`, if the job's next step surely allows it. */
  #right(path: number[], from: number, to: number): Move | null {
    const { jobAfter, tail } = this.orders;
    const [step, target] = [path[from] as number, path[to] as number];
    const next = jobAfter[step] as number;
    if (next >= 0 && (tail[target] as number) < (tail[next] as number)) return null;
    const steps = this.#steps;
    steps.length = 0;
    for (let at = from + 1; at <= to; at++) steps.push(path[at] as number);
    let isTabu = false;
    for (const other of steps) if (this.#isForbidden(other, step)) isTabu = true;
    steps.push(step);
    return { isRight: true, from: step, to: target, estimate: this.#estimate(path[from] as number, target), isTabu };
  }

  /** The step at `to` right before the one at `from`. */
  #left(path: number[], from: number, to: number): Move | null {
    const { jobBefore, head, duration } = this.orders;
    const [target, step] = [path[from] as number, path[to] as number];
    const earlier = jobBefore[step] as number;
    const targetEnd = (head[target] as number) + (duration[target] as number);
    if (earlier >= 0 && targetEnd < (head[earlier] as number) + (duration[earlier] as number)) return null;
    const steps = this.#steps;
    steps.length = 0;
    steps.push(step);
    let isTabu = false;
    for (let at = from; at < to; at++) {
      const other = path[at] as number;
      steps.push(other);
      if (this.#isForbidden(step, other)) isTabu = true;
    }
    return { isRight: false, from: step, to: target, estimate: this.#estimate(target, step), isTabu };
  }

  /** The longest path through the moved steps in their new order, between what stays before `first` and behind `last`. */
  #estimate(first: number, last: number): number {
    const { head, tail, duration, jobBefore, jobAfter, before, after } = this.orders;
    const steps = this.#steps;
    const endOf = (step: number) => (step >= 0 ? (head[step] as number) + (duration[step] as number) : 0);
    let end = endOf(before[first] as number);
    const begins: number[] = [];
    for (const step of steps) {
      const begin = Math.max(end, endOf(jobBefore[step] as number));
      begins.push(begin);
      end = begin + (duration[step] as number);
    }
    const follower = after[last] as number;
    let rest = follower >= 0 ? (tail[follower] as number) : 0;
    let longest = 0;
    for (let at = steps.length - 1; at >= 0; at--) {
      const step = steps[at] as number;
      const next = jobAfter[step] as number;
      rest = Math.max(rest, next >= 0 ? (tail[next] as number) : 0) + (duration[step] as number);
      longest = Math.max(longest, (begins[at] as number) + rest);
    }
    return longest;
  }

  #isForbidden(earlier: number, later: number): boolean {
    return (this.#forbiddenUntil[earlier * this.orders.count + later] as number) > this.iterations;
  }

  #make({ isRight, from: step, to: target }: Move) {
    const { orders } = this;
    const { before, after, count } = orders;
    const until = this.iterations + Math.round(this.#tenure * (1 + 0.5 * this.#random.fraction()));
    if (isRight) {
      for (let other = after[step] as number; ; other = after[other] as number) {
        this.#forbiddenUntil[step * count + other] = until;
        if (other === target) break;
      }
      orders.moveBehind(step, target, none);
    } else {
      for (let other = before[step] as number; ; other = before[other] as number) {
        this.#forbiddenUntil[other * count + step] = until;
        if (other === target) break;
      }
      orders.moveBehind(step, before[target] as number, target);
    }
  }
}
