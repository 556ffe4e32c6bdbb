/**
 * The orders of a job shop's steps on its machines, with how early each step can begin (head) and how long it takes from
 * its begin to the end of all (tail, its own duration included): the disjunctive graph of the literature.
 */
import type { JobShop } from "./job-shop";

/** Stands for "no step". */
export const none = -1;

/** Takes a step out of a list of neighbours and puts it right behind another, or before `first` when that is `none`. */
function moveInList(before: Int32Array, after: Int32Array, step: number, target: number, first: number) {
  const [left, right] = [before[step] as number, after[step] as number];
  if (left >= 0) after[left] = right;
  if (right >= 0) before[right] = left;
  const follower = target >= 0 ? (after[target] as number) : first;
  before[step] = target;
  if (target >= 0) after[target] = step;
  after[step] = follower;
  if (follower >= 0) before[follower] = step;
}

export class MachineOrders {
  readonly count: number;
  readonly duration: Int32Array;
  readonly machine: Int32Array;
  /** Neighbours in the job and on the machine; `none` at the ends. */
  readonly jobBefore: Int32Array;
  readonly jobAfter: Int32Array;
  readonly before: Int32Array;
  readonly after: Int32Array;
  readonly head: Int32Array;
  readonly tail: Int32Array;
  makespan = 0;
  readonly #order: Int32Array;
  readonly #waits: Uint8Array;

  constructor(readonly shop: JobShop) {
    this.count = shop.jobs.reduce((sum, job) => sum + job.length, 0);
    const numbers = () => new Int32Array(this.count);
    [this.duration, this.machine, this.head, this.tail, this.#order] = [
      numbers(),
      numbers(),
      numbers(),
      numbers(),
      numbers(),
    ];
    [this.jobBefore, this.jobAfter] = [numbers().fill(none), numbers().fill(none)];
    [this.before, this.after] = [numbers().fill(none), numbers().fill(none)];
    this.#waits = new Uint8Array(this.count);
    let step = 0;
    for (const job of shop.jobs)
      for (const [index, { machine, duration }] of job.entries()) {
        this.duration[step] = duration;
        this.machine[step] = machine;
        if (index > 0) {
          this.jobBefore[step] = step - 1;
          this.jobAfter[step - 1] = step;
        }
        step++;
      }
  }

  /** Sets all orders at once: steps in an order that also respects the jobs. */
  setSequence(steps: Iterable<number>) {
    const last = new Int32Array(this.shop.machineCount).fill(none);
    for (const step of steps) {
      const machine = this.machine[step] as number;
      const previous = last[machine] as number;
      this.before[step] = previous;
      if (previous !== none) this.after[previous] = step;
      this.after[step] = none;
      last[machine] = step;
    }
  }

  /** Sets the order within every job as well: for open shops. */
  setJobSequence(steps: Iterable<number>, jobOf: readonly number[]) {
    const last = new Map<number, number>();
    for (const step of steps) {
      const job = jobOf[step] as number;
      const previous = last.get(job) ?? none;
      this.jobBefore[step] = previous;
      if (previous !== none) this.jobAfter[previous] = step;
      this.jobAfter[step] = none;
      last.set(job, step);
    }
  }

  /** Puts a step right behind another of its job, or before `first` when that is `none`. */
  moveInJob(step: number, target: number, first: number) {
    moveInList(this.jobBefore, this.jobAfter, step, target, first);
  }

  /** Heads, tails and makespan anew; false when the orders go round in a circle. */
  renew(): boolean {
    const { count, jobBefore, jobAfter, before, after, duration, head, tail } = this;
    const order = this.#order;
    const waits = this.#waits;
    let ready = 0;
    for (let step = 0; step < count; step++) {
      const waiting = ((jobBefore[step] as number) >= 0 ? 1 : 0) + ((before[step] as number) >= 0 ? 1 : 0);
      waits[step] = waiting;
      if (waiting === 0) order[ready++] = step;
    }
    this.makespan = 0;
    for (let at = 0; at < ready; at++) {
      const step = order[at] as number;
      const [one, other] = [jobBefore[step] as number, before[step] as number];
      const byJob = one >= 0 ? (head[one] as number) + (duration[one] as number) : 0;
      const byMachine = other >= 0 ? (head[other] as number) + (duration[other] as number) : 0;
      const begin = Math.max(byJob, byMachine);
      head[step] = begin;
      const end = begin + (duration[step] as number);
      if (end > this.makespan) this.makespan = end;
      const [next, follower] = [jobAfter[step] as number, after[step] as number];
      // a step waits for one or two others: the last of them sets it free
      if (next >= 0) {
        if (waits[next] === 1) order[ready++] = next;
        waits[next] = 1;
      }
      if (follower >= 0) {
        if (waits[follower] === 1) order[ready++] = follower;
        waits[follower] = 1;
      }
    }
    if (ready < count) return false;
    for (let at = count - 1; at >= 0; at--) {
      const step = order[at] as number;
      const [next, follower] = [jobAfter[step] as number, after[step] as number];
      const byJob = next >= 0 ? (tail[next] as number) : 0;
      const byMachine = follower >= 0 ? (tail[follower] as number) : 0;
      tail[step] = Math.max(byJob, byMachine) + (duration[step] as number);
    }
    return true;
  }

  /** Takes a step out of its machine's order and puts it right behind another, or first when that is `none`. */
  moveBehind(step: number, target: number, first: number) {
    moveInList(this.before, this.after, step, target, first);
  }

  /** The steps in an order that respects jobs and machines, as of the last `renew`. */
  sequence(): Int32Array {
    return this.#order.slice();
  }

  /** One longest path: the steps that decide the makespan; `pick` chooses where two do. */
  criticalPath(pick: () => boolean): number[] {
    const { head, tail, duration, makespan, jobAfter, after } = this;
    const starts: number[] = [];
    for (let step = 0; step < this.count; step++) if (head[step] === 0 && tail[step] === makespan) starts.push(step);
    const path: number[] = [];
    let step = (starts.length > 1 && pick() ? starts.at(-1) : starts[0]) ?? none;
    while (step >= 0) {
      path.push(step);
      const end = (head[step] as number) + (duration[step] as number);
      const isCritical = (next: number) => next >= 0 && head[next] === end && end + (tail[next] as number) === makespan;
      const [next, follower] = [jobAfter[step] as number, after[step] as number];
      const [byJob, byMachine] = [isCritical(next), isCritical(follower)];
      if (byJob && byMachine) step = pick() ? next : follower;
      else if (byMachine) step = follower;
      else step = byJob ? next : none;
    }
    return path;
  }
}
