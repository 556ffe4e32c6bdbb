import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Task } from "~/core/shop/tables";
import { ringThrough, waitingFor } from "~/core/tasks/task";
import { hourMs, minuteMs } from "~/core/units";
import { fern, id, monday8 } from "../support/people";
import { aTask } from "../support/pieces";

const [glue, sand, paint] = [id(201), id(202), id(203)];
const finished = { at: monday8, by: fern };

describe("a task that comes after another", () => {
  test("waits for it without a date while it is open or held", () => {
    for (const state of ["open", "held"] as const) {
      const before = aTask({ id: glue, state, waitsMin: 60 });
      expect(waitingFor([before], monday8)).toEqual({ taskIds: [glue], untilAt: undefined });
    }
  });

  test("waits out the clamp: an hour after it was finished, to the millisecond", () => {
    const before = aTask({ id: glue, state: "finished", finished, waitsMin: 60 });
    const dueAt = monday8 + hourMs;
    expect(waitingFor([before], dueAt - 1)).toEqual({ taskIds: [glue], untilAt: dueAt });
    expect(waitingFor([before], dueAt)).toEqual({ taskIds: [], untilAt: undefined });
  });

  test("does not wait for one that was set aside", () => {
    expect(waitingFor([aTask({ id: glue, state: "set-aside" })], monday8).taskIds).toEqual([]);
  });

  test("waits for the longest of several waits, and has no date as long as one of them is not finished", () => {
    const short = aTask({ id: glue, state: "finished", finished, waitsMin: 30 });
    const long = aTask({ id: paint, state: "finished", finished, waitsMin: 90 });
    expect(waitingFor([short, long], monday8)).toEqual({
      taskIds: [glue, paint],
      untilAt: monday8 + 90 * minuteMs,
    });
    expect(waitingFor([long, aTask({ id: glue })], monday8)).toEqual({
      taskIds: [glue, paint],
      untilAt: undefined,
    });
  });
});

describe("an order of tasks that bites its own tail", () => {
  const tasks = (...rows: Task[]) => new Map(rows.map((row) => [row.id, row]));

  test("is named task by task", () => {
    const known = tasks(aTask({ id: glue }), aTask({ id: sand, after: [glue] }), aTask({ id: paint, after: [sand] }));
    expect(ringThrough(glue, [paint], known)).toEqual([glue, paint, sand]);
    expect(ringThrough(glue, [glue], known)).toEqual([glue]);
  });

  test("is not found where two ways only meet again", () => {
    const known = tasks(
      aTask({ id: glue }),
      aTask({ id: sand, after: [glue] }),
      aTask({ id: paint, after: [glue, sand] }),
    );
    expect(ringThrough(paint, [glue, sand], known)).toBeUndefined();
  });

  test("is found exactly when no order of work would do", () => {
    const size = 6;
    const ids = Array.from({ length: size }, (_, index) => id(500 + index));
    const arrow = fc.tuple(fc.nat({ max: size - 1 }), fc.nat({ max: size - 1 }));
    fc.assert(
      fc.property(fc.array(arrow, { maxLength: 9 }), (arrows) => {
        // arrows are laid one by one as the door would: each that closes a ring is refused
        const known = tasks(...ids.map((taskId) => aTask({ id: taskId })));
        for (const [from, to] of arrows) {
          const [task, before] = [known.get(ids[from] as string) as Task, ids[to] as string];
          const after = [...task.after, before];
          const ring = ringThrough(task.id, after, known);
          const laid = tasks(...[...known.values()].map((row) => (row.id === task.id ? { ...row, after } : row)));
          expect(ring === undefined).toBe(canBeWorkedOff(laid));
          if (!ring) known.set(task.id, { ...task, after });
        }
      }),
    );
  });

  /** A simpler way to the same answer: keep taking away a task that waits for nothing (Kahn, 1962). */
  function canBeWorkedOff(known: ReadonlyMap<string, Task>): boolean {
    const left = new Map(known);
    for (;;) {
      const next = [...left.values()].find((task) => !task.after.some((before) => left.has(before)));
      if (!next) return left.size === 0;
      left.delete(next.id);
    }
  }
});
