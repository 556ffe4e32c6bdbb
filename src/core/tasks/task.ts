import type { Task } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";

/** A task can be started when everything before it is finished and has waited (a clamp, a drying) as long as it says. */
export function waitingFor(before: readonly Task[], now: InstantMs): { taskIds: string[]; untilAt?: InstantMs } {
  const unfinished = before.filter((other) => other.state !== "finished" && other.state !== "set-aside");
  const waits = before.flatMap((other) => {
    if (other.state !== "finished" || !other.finished || !other.waitsMin) return [];
    const untilAt = other.finished.at + other.waitsMin * minuteMs;
    return untilAt > now ? [{ taskId: other.id, untilAt }] : [];
  });
  const untilAt =
    unfinished.length > 0 || waits.length === 0 ? undefined : Math.max(...waits.map((wait) => wait.untilAt));
  return { taskIds: [...unfinished.map((other) => other.id), ...waits.map((wait) => wait.taskId)], untilAt };
}

/** Would the order of tasks bite its own tail if `task` came after `after`? Returns the ring, or nothing. */
export function ringThrough(
  taskId: string,
  after: readonly string[],
  tasksById: ReadonlyMap<string, Task>,
): string[] | undefined {
  const walk = (id: string, path: string[]): string[] | undefined => {
    if (id === taskId) return path;
    if (path.includes(id)) return undefined;
    for (const next of tasksById.get(id)?.after ?? []) {
      const ring = walk(next, [...path, id]);
      if (ring) return ring;
    }
    return undefined;
  };
  for (const id of after) {
    const ring = walk(id, [taskId]);
    if (ring) return ring;
  }
  return undefined;
}
