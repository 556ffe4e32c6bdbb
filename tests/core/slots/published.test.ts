import { describe, expect, test } from "vitest";
import { allocate } from "~/core/slots/allocate";
import { answer } from "~/core/slots/command";
import { jobShopInstance, parseJobShop } from "~/core/slots/job-shop/job-shop";
import { jobShopBound } from "~/core/slots/job-shop/one-machine-bound";
import { JobShopSearch } from "~/core/slots/job-shop/tabu-search";
import { parseProject, projectBound } from "~/core/slots/project/project";
import { ProjectSearch } from "~/core/slots/project/project-search";
import { looks, problemOf, publishedOptima, publishedText } from "./instance-files";

function shopOf(name: string) {
  const parsed = parseJobShop(publishedText(name));
  if (!parsed.ok) throw new Error(parsed.refusal.why);
  return parsed.value;
}
const optimumOf = (name: string): number => publishedOptima[name] as number;

test.each(["ft06", "la01", "ft10", "ta01", "ta10"])(
  "the bound of %s lies at or below its published optimum",
  (name) => {
    expect(jobShopBound(shopOf(name))).toBeLessThanOrEqual(optimumOf(name));
  },
);

test.each(["ft06", "la01"])("%s is planned with its published optimum, as a week of booths and people", (name) => {
  const problem = problemOf(jobShopInstance(name, shopOf(name)));
  const found = allocate(problem, { seed: 1, isTimeUp: looks(60) });
  expect(found).toMatchObject({ kind: "planned", value: { tardiness: 0, handling: 0, makespan: optimumOf(name) } });
});

test.each(["ft10", "ta01"])("%s comes within five hundredths of its published optimum, and not below it", (name) => {
  const search = new JobShopSearch(shopOf(name), 1);
  search.run(looks(400), jobShopBound(search.orders.shop));
  expect(search.bestMakespan).toBeGreaterThanOrEqual(optimumOf(name));
  expect(search.bestMakespan).toBeLessThanOrEqual(optimumOf(name) * 1.05);
});

test.each(Object.keys(publishedOptima).filter((name) => name.startsWith("to")))(
  "the open shop %s is planned with its published optimum",
  (name) => {
    let isReached = false;
    const isTimeUp = looks(3000);
    const problem = problemOf(jobShopInstance(name, shopOf(name), true));
    const onBetter = ({ makespan }: { makespan: number }) => {
      isReached = makespan <= optimumOf(name);
    };
    const found = allocate(problem, { seed: 1, isTimeUp: () => isReached || isTimeUp(), onBetter });
    expect(found).toMatchObject({ value: { makespan: optimumOf(name) } });
  },
);

test("a job shop that announces more than it brings is refused in words", () => {
  const parsed = parseJobShop("3 2\n0 5 1 4\n1 2 0 3\n");
  expect(parsed).toMatchObject({ ok: false, refusal: { why: "3 jobs are announced, 2 lines follow." } });
  expect(parseJobShop("2 2\n0 5 7 4\n1 2 0 3\n")).toMatchObject({ ok: false });
  expect(parseJobShop("no numbers")).toMatchObject({ ok: false });
});

/** Five activities between source and sink on one resource of 3; by hand: 2 and 3 together, then 4 with 5, then 6: 3 + 4 + 2. */
const project = `jobs (incl. supersource/sink ):  7
  - renewable                 :  1   R
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          2           2   3
   2        1          1           4
   3        1          1           5
   4        1          1           6
   5        1          1           6
   6        1          1           7
   7        1          0
************************************************************************
REQUESTS/DURATIONS:
jobnr. mode duration  R 1
------------------------------------------------------------------------
  1      1     0       0
  2      1     3       1
  3      1     2       2
  4      1     4       1
  5      1     4       2
  6      1     2       3
  7      1     0       0
************************************************************************
RESOURCEAVAILABILITIES:
  R 1
    3
************************************************************************
`;

describe("a project of the published single-mode format", () => {
  test("is read and scheduled with precedence and resources kept", () => {
    const parsed = parseProject(project);
    if (!parsed.ok) throw new Error(parsed.refusal.why);
    const search = new ProjectSearch(parsed.value, 1);
    search.run(looks(50), projectBound(parsed.value));
    const starts = [...search.bestStarts];
    expect(search.bestMakespan).toBe(9);
    expect(projectBound(parsed.value)).toBeLessThanOrEqual(9);
    for (const [activity, { duration, successors }] of parsed.value.activities.entries())
      for (const next of successors)
        expect(starts[next]).toBeGreaterThanOrEqual((starts[activity] as number) + duration);
    for (let grain = 0; grain < 9; grain++) {
      const used = parsed.value.activities.reduce((sum, { duration, needs }, activity) => {
        const start = starts[activity] as number;
        return sum + (start <= grain && grain < start + duration ? (needs[0] as number) : 0);
      }, 0);
      expect(used).toBeLessThanOrEqual(3);
    }
  });

  test("is refused when activities wait for each other, or need more than there is", () => {
    const circle = project.replace("   6        1          1           7", "   6        1          1           4");
    expect(parseProject(circle)).toMatchObject({ ok: false, refusal: { why: expect.stringMatching(/circle/) } });
    const tooMuch = project.replace("  6      1     2       3", "  6      1     2       4");
    expect(parseProject(tooMuch)).toMatchObject({
      ok: false,
      refusal: { why: expect.stringMatching(/needs 4 of resource 1/) },
    });
    expect(parseProject("anything")).toMatchObject({ ok: false });
  });
});

describe("the command", () => {
  /** A clock that has moved on by a hundred milliseconds whenever somebody looks. */
  const clock = () => {
    let now = 0;
    return () => {
      now += 100;
      return now;
    };
  };

  test("says value, bound, gap and time of each level", () => {
    const said = answer("job-shop", "la01", publishedText("la01"), 1, 60_000, clock());
    expect(said).toMatchObject({
      instance: "la01",
      value: { makespan: 666 },
      bound: { makespan: 666 },
      gap: { tardiness: 0, handling: 0, makespan: 0 },
      proven: true,
    });
    expect(answer("project", "p", project, 1, 5000, clock())).toMatchObject({ value: { makespan: 9 } });
  });

  test("says in words what it cannot read", () => {
    expect(answer("instance", "x", "{", 1, 1000, clock())).toEqual({ unusable: { why: "The file is no JSON." } });
    expect(answer("instance", "x", "{}", 1, 1000, clock())).toMatchObject({
      unusable: { why: expect.stringMatching(/format/) },
    });
    expect(answer("project", "x", "", 1, 1000, clock())).toHaveProperty("unusable");
  });
});
