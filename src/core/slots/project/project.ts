/** A project of activities that wait for each other and share renewable resources; its published single-mode files. */
import { accept, type Result, refuse } from "~/core/result";
import type { Unusable } from "../instance";

export type Activity = { duration: number; needs: number[]; successors: number[] };
/** Activities by number, the first is the source and the last the sink. */
export type Project = { activities: Activity[]; capacities: number[] };

const unusable = (why: string): Result<never, Unusable> => refuse({ kind: "slots-unusable", ids: [], why });
const numbersIn = (line: string | undefined): number[] => (line?.match(/-?\d+/g) ?? []).map(Number);
const mostActivities = 10_000;

/**
 * Reads the single-mode format of PSPLIB (R. Kolisch and A. Sprecher, European Journal of Operational Research 96, 1997):
 * numbers of jobs, then the blocks of precedence relations, requests and availabilities.
 */
export function parseProject(text: string): Result<Project, Unusable> {
  const lines = text.split(/\r?\n/);
  const at = (pattern: RegExp) => lines.findIndex((line) => pattern.test(line));
  const [count = 0] = numbersIn(lines[at(/^\s*jobs/)]?.split(":")[1]);
  const [resourceCount = 0] = numbersIn(lines[at(/- renewable/)]?.split(":")[1]);
  const [precedence, requests, available] = [at(/^PRECEDENCE/), at(/^REQUESTS/), at(/^RESOURCEAVAIL/)];
  if (count < 1 || count > mostActivities) return unusable(`The file should announce 1 to ${mostActivities} jobs.`);
  if (precedence < 0 || requests < 0 || available < 0)
    return unusable("The file lacks its precedence relations, its requests or its resource availabilities.");
  const capacities = numbersIn(lines[available + 2]).slice(0, resourceCount);
  const activities: Activity[] = [];
  for (let job = 0; job < count; job++) {
    const [, , successorCount = 0, ...successors] = numbersIn(lines[precedence + 2 + job]);
    const [, , duration = -1, ...needs] = numbersIn(lines[requests + 3 + job]);
    if (successors.length < successorCount || duration < 0 || needs.length < resourceCount)
      return unusable(`Job ${job + 1}: its line of successors or of requests is missing or too short.`);
    const after = successors.slice(0, successorCount).map((number) => number - 1);
    if (after.some((other) => other < 0 || other >= count))
      return unusable(`Job ${job + 1} names a successor that is not there.`);
    const over = needs.findIndex((need, resource) => need > (capacities[resource] ?? 0));
    if (over >= 0 && over < resourceCount)
      return unusable(
        `Job ${job + 1} needs ${needs[over]} of resource ${over + 1}, which has ${capacities[over] ?? 0}.`,
      );
    activities.push({ duration, needs: needs.slice(0, resourceCount), successors: after });
  }
  if (topologicalOrder(activities).length < count) return unusable("The precedence relations go round in a circle.");
  return accept({ activities, capacities });
}

/** Activities after all that they wait for; shorter than the list when some wait for each other. */
export function topologicalOrder(activities: Activity[]): number[] {
  const waits = new Array<number>(activities.length).fill(0);
  for (const { successors } of activities) for (const next of successors) waits[next] = (waits[next] as number) + 1;
  const order = waits.flatMap((count, activity) => (count === 0 ? [activity] : []));
  for (const activity of order)
    for (const next of (activities[activity] as Activity).successors) {
      const left = (waits[next] as number) - 1;
      waits[next] = left;
      if (left === 0) order.push(next);
    }
  return order;
}

/** Longest chain through each activity: from the begin to its start, and from its start to the end. */
export function chains({ activities }: Project): { before: number[]; from: number[] } {
  const order = topologicalOrder(activities);
  const before = new Array<number>(activities.length).fill(0);
  const from = activities.map(({ duration }) => duration);
  for (const activity of order) {
    const { duration, successors } = activities[activity] as Activity;
    for (const next of successors)
      before[next] = Math.max(before[next] as number, (before[activity] as number) + duration);
  }
  for (const activity of [...order].reverse()) {
    const { duration, successors } = activities[activity] as Activity;
    for (const next of successors)
      from[activity] = Math.max(from[activity] as number, duration + (from[next] as number));
  }
  return { before, from };
}

/**
 * A lower bound of the makespan: the longest chain, the work of each resource between its earliest begin and its shortest
 * rest, and pairs of activities that cannot run together.
 */
export function projectBound(project: Project): number {
  const { activities, capacities } = project;
  const { before, from } = chains(project);
  let bound = Math.max(0, ...before.map((start, activity) => start + (from[activity] as number)));
  for (const [resource, capacity] of capacities.entries()) {
    const users = activities.flatMap(({ needs, duration }, activity) =>
      (needs[resource] as number) > 0 && duration > 0 ? [activity] : [],
    );
    const rest = (activity: number) => (from[activity] as number) - (activities[activity] as Activity).duration;
    const begins = [...new Set(users.map((activity) => before[activity] as number))];
    const rests = [...new Set(users.map(rest))];
    for (const begin of begins)
      for (const end of rests) {
        const own = users.filter((activity) => (before[activity] as number) >= begin && rest(activity) >= end);
        const work = own.reduce((sum, activity) => {
          const { needs, duration } = activities[activity] as Activity;
          return sum + (needs[resource] as number) * duration;
        }, 0);
        if (work > 0) bound = Math.max(bound, begin + Math.ceil(work / capacity) + end);
      }
  }
  for (const [one, { needs, duration }] of activities.entries())
    for (let other = one + 1; other < activities.length; other++) {
      const second = activities[other] as Activity;
      const isTogether = needs.every(
        (need, resource) => need + (second.needs[resource] as number) <= (capacities[resource] as number),
      );
      if (isTogether || !duration || !second.duration) continue;
      const oneFirst = Math.max((before[one] as number) + duration, before[other] as number) + (from[other] as number);
      const otherFirst =
        Math.max((before[other] as number) + second.duration, before[one] as number) + (from[one] as number);
      bound = Math.max(bound, Math.min(oneFirst, otherFirst));
    }
  return bound;
}
