/**
 * A lower bound of a job shop's makespan: every machine alone, its steps interruptible, each with its head and tail by the
 * jobs (Jackson's preemptive schedule; J. Carlier, European Journal of Operational Research 11, 1982).
 */
import type { JobShop } from "./job-shop";

type Task = { head: number; left: number; tail: number };

function interruptible(tasks: Task[]): number {
  const waiting = [...tasks].sort((one, other) => one.head - other.head);
  const here: Task[] = [];
  let [now, longest] = [0, 0];
  while (waiting.length || here.length) {
    if (!here.length) now = Math.max(now, (waiting[0] as Task).head);
    while (waiting[0] && waiting[0].head <= now) here.push(waiting.shift() as Task);
    here.sort((one, other) => one.tail - other.tail);
    const task = here.at(-1) as Task;
    const until = Math.min(now + task.left, waiting[0]?.head ?? Number.POSITIVE_INFINITY);
    task.left -= until - now;
    now = until;
    if (task.left > 0) continue;
    longest = Math.max(longest, now + task.tail);
    here.pop();
  }
  return longest;
}

export function jobShopBound({ jobs, machineCount }: JobShop): number {
  const tasks: Task[][] = Array.from({ length: machineCount }, () => []);
  let longestJob = 0;
  for (const job of jobs) {
    const total = job.reduce((sum, { duration }) => sum + duration, 0);
    longestJob = Math.max(longestJob, total);
    let head = 0;
    for (const { machine, duration } of job) {
      tasks[machine]?.push({ head, left: duration, tail: total - head - duration });
      head += duration;
    }
  }
  return Math.max(longestJob, ...tasks.map(interruptible));
}

/** The same for an open shop: no machine and no job can be done before all its own work is. */
export function openShopBound({ jobs, machineCount }: JobShop): number {
  const loads = new Array<number>(machineCount).fill(0);
  for (const { machine, duration } of jobs.flat()) loads[machine] = (loads[machine] as number) + duration;
  return Math.max(...loads, ...jobs.map((job) => job.reduce((sum, { duration }) => sum + duration, 0)));
}
