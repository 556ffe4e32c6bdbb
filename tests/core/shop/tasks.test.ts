import { describe, expect, test } from "vitest";
import { dayMs, hourMs } from "~/core/units";
import {
  aClaim,
  alreadySo,
  aPiece,
  aSurface,
  aTask,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  type Rows,
  refusalOf,
  rule,
  shopWith,
  silas,
  top,
} from "../support/shop";

const [scrape, fill, sand, claim] = [id(201), id(202), id(203), id(301)];
const withTask = (row: Partial<ReturnType<typeof aTask>> = {}, rows: Rows = {}) =>
  shopWith({ piece: [aPiece()], surface: [aSurface()], task: [aTask({ id: scrape, ...row })], ...rows });

describe("a task that is added", () => {
  const body = { taskId: fill, pieceId: dresser, title: "Fill the feet", sort: "prep" };

  test("is open, for one person, with what was said of it", () => {
    const facts = withTask();
    const more = { methods: ["fill"], surfaceIds: [top], after: [scrape], waitsMin: 120, estimateMin: 45 };
    expect(eventKinds(rule(facts, envelopeOf("add-task", { ...body, ...more }, hanna)))).toEqual(["task-added"]);
    expect(facts.get("task", fill)).toEqual(
      aTask({
        id: fill,
        title: "Fill the feet",
        methods: ["fill"],
        surfaceIds: [top],
        after: [scrape],
        waitsMin: 120,
        estimateMin: 45,
      }),
    );
  });

  test("may be for the shop, and then names no surface", () => {
    const sweep = { taskId: fill, title: "Sweep the loft", sort: "other" };
    expect(rule(withTask(), envelopeOf("add-task", sweep, hanna)).verdict).toBe("accepted");
    for (const surface of [top, id(99)]) {
      const refusal = refusalOf(rule(withTask(), envelopeOf("add-task", { ...sweep, surfaceIds: [surface] }, hanna)));
      expect(refusal).toEqual({ kind: "unknown-thing", field: "surfaceIds" });
    }
  });

  test.each([
    [{ pieceId: id(99) }, "pieceId"],
    [{ after: [id(99)] }, "after"],
    [{ surfaceIds: [id(99)] }, "surfaceIds"],
  ])("names what is here: %j is not", (more, field) => {
    const refusal = refusalOf(rule(withTask(), envelopeOf("add-task", { ...body, ...more }, hanna)));
    expect(refusal).toEqual({ kind: "unknown-thing", field });
  });

  test("is not added to a piece that has left", () => {
    const gone = shopWith({ piece: [aPiece({ archivedAt: monday8 - dayMs })] });
    expect(refusalOf(rule(gone, envelopeOf("add-task", body, silas)))).toEqual({
      kind: "after-it-left",
      thing: "K-201",
      happenedAt: monday8,
      leftAt: monday8 - dayMs,
    });
  });

  test("is no close-out by hand: oily rags make their own", () => {
    const refusal = refusalOf(rule(withTask(), envelopeOf("add-task", { ...body, sort: "close-out" }, fern)));
    expect(refusal).toMatchObject({ kind: "malformed", field: "sort" });
  });

  test("is for one or two, and not the office's to add", () => {
    const three = rule(withTask(), envelopeOf("add-task", { ...body, needsMembers: 3 }, fern));
    expect(refusalOf(three)).toEqual({
      kind: "out-of-bounds",
      field: "people needed",
      found: 3,
      min: 1,
      max: 2,
      unit: "people",
    });
    expect(refusalOf(rule(withTask(), envelopeOf("add-task", body, bruno)))).toMatchObject({
      kind: "may-not",
      role: "bookkeeper",
    });
  });
});

describe("an edit of a task", () => {
  const edit = (more: Record<string, unknown>, by = silas) => envelopeOf("edit-task", { taskId: scrape, ...more }, by);

  test("changes one field that is still what it was on the device", () => {
    const facts = withTask();
    const body = { field: "title", was: "Scrape the feet", value: "Scrape all four feet" };
    expect(eventKinds(rule(facts, edit(body)))).toEqual(["task-changed"]);
    expect(rule(facts, edit(body))).toEqual(alreadySo);
    expect(refusalOf(rule(facts, edit({ ...body, value: "Scrape" })))).toEqual({
      kind: "changed-meanwhile",
      field: "title",
      was: "Scrape the feet",
      theirs: "Scrape all four feet",
    });
  });

  test("does not let the order of tasks bite its own tail", () => {
    const facts = withTask(
      {},
      { task: [aTask({ id: scrape }), aTask({ id: fill, after: [scrape] }), aTask({ id: sand, after: [fill] })] },
    );
    expect(refusalOf(rule(facts, edit({ field: "after", was: [], value: [sand] })))).toEqual({
      kind: "task-cycle",
      taskIds: [scrape, sand, fill],
    });
    expect(refusalOf(rule(facts, edit({ field: "after", was: [], value: [id(99)] })))).toEqual({
      kind: "unknown-thing",
      field: "after",
    });
    const swap = envelopeOf("edit-task", { taskId: sand, field: "after", was: [fill], value: [scrape] }, silas);
    expect(rule(facts, swap).verdict).toBe("accepted");
  });

  test("is the partners', of a task that there is", () => {
    const body = { field: "title", was: "Scrape the feet", value: "Scrape" };
    expect(refusalOf(rule(withTask(), edit(body, hanna)))).toEqual({
      kind: "may-not",
      role: "helper",
      needs: ["owner", "partner"],
    });
    expect(refusalOf(rule(shopWith(), edit(body)))).toEqual({ kind: "unknown-thing", field: "taskId" });
  });
});

describe("a task that is set aside", () => {
  const aside = (by = silas) => envelopeOf("set-aside-task", { taskId: scrape, why: "The feet stay as they are" }, by);

  test("says why and frees whoever held it", () => {
    const facts = withTask({ state: "held" }, { claim: [aClaim({ id: claim, taskId: scrape })] });
    expect(eventKinds(rule(facts, aside()))).toEqual(["task-set-aside"]);
    expect(facts.get("task", scrape)).toMatchObject({ state: "set-aside", setAsideWhy: "The feet stay as they are" });
    expect(facts.get("claim", claim)).toMatchObject({ endedAt: monday8, ending: "released" });
    expect(rule(facts, aside())).toEqual(alreadySo);
  });

  test("is not finished already, and not a matter of rags", () => {
    const finished = withTask({ state: "finished", finished: { at: monday8, by: fern } });
    expect(refusalOf(rule(finished, aside()))).toEqual({ kind: "task-is-over", taskId: scrape, state: "finished" });
    expect(refusalOf(rule(withTask({ sort: "close-out" }), aside(fern)))).toEqual({
      kind: "rags-not-safe",
      taskId: scrape,
      how: "set-aside",
    });
    expect(refusalOf(rule(shopWith(), aside()))).toEqual({ kind: "unknown-thing", field: "taskId" });
    expect(refusalOf(rule(withTask(), aside(hanna))).kind).toBe("may-not");
  });
});

describe("a task that is finished", () => {
  const finish = (by = hanna, more: Parameters<typeof envelopeOf>[3] = {}) =>
    envelopeOf("finish-task", { taskId: scrape, leftUndone: "The left rear foot" }, by, more);

  test("was finished by whoever did it, when they did it, claimed or not", () => {
    const facts = withTask();
    const happenedAt = monday8 - hourMs;
    expect(eventKinds(rule(facts, finish(hanna, { happenedAt })))).toEqual(["task-finished"]);
    expect(facts.get("task", scrape)).toMatchObject({
      state: "finished",
      finished: { at: happenedAt, by: hanna, leftUndone: "The left rear foot" },
    });
    expect(rule(facts, finish(silas))).toEqual(alreadySo);
    expect(facts.get("task", scrape)?.finished?.by).toBe(hanna);
    expect(facts.all("notice")).toEqual([]);
  });

  test("ends its claim, and the holder is told when it was another's hand", () => {
    const held = () => withTask({ state: "held" }, { claim: [aClaim({ id: claim, taskId: scrape })] });
    const byAnother = held();
    rule(byAnother, finish(hanna));
    expect(byAnother.get("claim", claim)).toMatchObject({ endedAt: monday8, ending: "finished" });
    expect(byAnother.where("notice", "memberId", fern)).toMatchObject([
      { about: "task-finished-by-other", taskId: scrape, byMemberId: hanna },
    ]);
    const byHolder = held();
    rule(byHolder, finish(fern));
    expect(byHolder.all("notice")).toEqual([]);
  });

  test("is told of at most three days later, by a helper one", () => {
    expect(rule(withTask(), finish(hanna, { happenedAt: monday8 - dayMs })).verdict).toBe("accepted");
    expect(refusalOf(rule(withTask(), finish(hanna, { happenedAt: monday8 - dayMs - 1 })))).toMatchObject({
      kind: "too-far-back",
      oldestAt: monday8 - dayMs,
      mayAsk: ["owner", "partner"],
    });
    expect(rule(withTask(), finish(silas, { happenedAt: monday8 - 3 * dayMs })).verdict).toBe("accepted");
    expect(refusalOf(rule(withTask(), finish(silas, { happenedAt: monday8 - 3 * dayMs - 1 })))).toMatchObject({
      kind: "too-far-back",
      role: "partner",
    });
  });

  test("is not rags: those end as flat outdoors or under water, not as a tick", () => {
    expect(refusalOf(rule(withTask({ sort: "close-out" }), finish()))).toEqual({
      kind: "rags-not-safe",
      taskId: scrape,
      how: "unsaid",
    });
    expect(refusalOf(rule(shopWith(), finish()))).toEqual({ kind: "unknown-thing", field: "taskId" });
  });

  test("opens again as rework with its cause, once", () => {
    const facts = withTask({ state: "finished", finished: { at: monday8 - dayMs, by: fern } });
    const reopen = envelopeOf("reopen-task", { taskId: scrape, cause: "The scraper left marks" }, hanna);
    expect(eventKinds(rule(facts, reopen))).toEqual(["task-reopened"]);
    expect(facts.get("task", scrape)).toEqual(aTask({ id: scrape, reworkCause: "The scraper left marks" }));
    expect(rule(facts, { ...reopen, intentId: id(0x2_0000_0000) })).toEqual(alreadySo);
    expect(refusalOf(rule(shopWith(), reopen))).toEqual({ kind: "unknown-thing", field: "taskId" });
  });
});
