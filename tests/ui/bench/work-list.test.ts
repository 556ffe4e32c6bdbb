import { expect, test } from "vitest";
import type { Row } from "~/core/shop/tables";
import { dayMs, hourMs } from "~/core/units";
import { workList } from "~/ui/bench/work-list";
import { aClaim, aPiece, aTask, fern, hanna, id, monday8, type Rows, shopWith, silas } from "../../core/support/shop";

const withTasks = (task: Row<"task">[], more: Rows = {}) => shopWith({ piece: [aPiece()], task, ...more });
const titles = (lines: { task: Row<"task"> }[]) => lines.map((line) => line.task.title);

test("what I hold is mine, what another holds is on nobody's list", () => {
  const tasks = [
    aTask({ id: id(201), title: "Fill", state: "held" }),
    aTask({ id: id(202), title: "Mask", state: "held" }),
  ];
  const claims = [
    aClaim({ id: id(211), taskId: id(201), memberIds: [fern] }),
    aClaim({ id: id(212), taskId: id(202), memberIds: [silas] }),
  ];
  const list = workList(withTasks(tasks, { claim: claims }), fern, monday8);
  expect(titles(list.mine)).toEqual(["Fill"]);
  expect([...list.next, ...list.locked]).toEqual([]);
});

test("a task whose claim has lapsed is free to take again", () => {
  const claim = aClaim({ id: id(212), taskId: id(202), memberIds: [silas], lastSignAt: monday8 - 4 * dayMs });
  const list = workList(withTasks([aTask({ id: id(202), state: "held" })], { claim: [claim] }), fern, monday8);
  expect(list.next).toHaveLength(1);
});

test("a task waits for the one before it, and then for its clamps", () => {
  const glue = aTask({ id: id(201), title: "Glue the rail", waitsMin: 90 });
  const sand = aTask({ id: id(202), title: "Sand the rail", after: [id(201)] });
  expect(workList(withTasks([glue, sand]), fern, monday8).locked).toMatchObject([{ why: "After: Glue the rail." }]);
  const glued = { ...glue, state: "finished" as const, finished: { at: monday8 - hourMs, by: fern } };
  // 07:00 and 90 minutes is 08:30 in the shop
  expect(workList(withTasks([glued, sand]), fern, monday8).locked).toMatchObject([{ why: "Waits until 08:30." }]);
  expect(titles(workList(withTasks([glued, sand]), fern, monday8 + hourMs).next)).toEqual(["Sand the rail"]);
});

test("old paint of unknown age locks dry sanding, and says that nobody has tested it", () => {
  const chest = aPiece({ isPainted: "unknown" });
  const facts = shopWith({ piece: [chest], task: [aTask({ id: id(201), title: "Sand it", methods: ["dry-sand"] })] });
  expect(workList(facts, fern, monday8)).toMatchObject({
    next: [],
    locked: [{ why: "No dry sanding: old paint, not tested for lead." }],
  });
});

test("work that needs another's hands says whose", () => {
  // the usual shop: Fern and Silas spray, Hanna does not
  const list = workList(withTasks([aTask({ id: id(201), needsSkills: ["spray"] })]), hanna, monday8);
  expect(list.locked).toMatchObject([{ why: "Needs spraying. Fern and Silas can." }]);
});

test("with a quarter of an hour one is shown what takes no longer, and what nobody has timed", () => {
  const tasks = [
    aTask({ id: id(201), title: "Long", estimateMin: 120 }),
    aTask({ id: id(202), title: "Short", estimateMin: 10 }),
    aTask({ id: id(203), title: "Untimed" }),
  ];
  expect(titles(workList(withTasks(tasks), fern, monday8, 15).next).sort()).toEqual(["Short", "Untimed"]);
});

test("what is due first comes first, before what nobody waits for", () => {
  const tasks = [
    aTask({ id: id(201), title: "Some day" }),
    aTask({ id: id(202), title: "Wednesday", dueAt: monday8 + 2 * dayMs }),
    aTask({ id: id(203), title: "Tuesday", dueAt: monday8 + dayMs }),
  ];
  expect(titles(workList(withTasks(tasks), fern, monday8).next)).toEqual(["Tuesday", "Wednesday", "Some day"]);
});

test("oily rags are an alarm and never an entry of a list", () => {
  const rags = aTask({ id: id(201), sort: "close-out", dueAt: monday8 });
  expect(workList(withTasks([rags]), fern, monday8)).toEqual({ mine: [], next: [], locked: [] });
});

test("sanding carries its caution to the bench; telling the buyer does not belong there", () => {
  const chest = aPiece({ isPainted: "yes", treatAsLead: { by: fern, at: monday8 - dayMs, why: "old" } });
  const facts = shopWith({ piece: [chest], task: [aTask({ id: id(201), methods: ["wet-sand"] })] });
  const [line] = workList(facts, fern, monday8).next;
  expect(line?.cautions.map(({ id: caution }) => caution)).toEqual(["lead-dust", "lead-waste"]);
});
