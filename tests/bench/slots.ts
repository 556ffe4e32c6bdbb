/**
 * The slot planner against proved and published values: gaps and ratios first. Run by hand:
 * `npx tsx tests/bench/slots.ts [small] [stress] [repair] [published]`, all parts when none is named.
 */
import { allocate } from "../../src/core/slots/allocate";
import { checkAllocation, compareObjectives } from "../../src/core/slots/check";
import { firstPlan } from "../../src/core/slots/construct";
import { disrupt } from "../../src/core/slots/disruption";
import { jobShopInstance, parseJobShop } from "../../src/core/slots/job-shop/job-shop";
import { parseProblem } from "../../src/core/slots/problem";
import { repair } from "../../src/core/slots/repair";
import {
  instanceNames,
  instanceOf,
  problemOf,
  publishedOptima,
  publishedText,
  solutionOf,
} from "../core/slots/instance-files";

/** Processor time, so that what else the machine does is not counted. */
const processorMs = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};
const during = (seconds: number): (() => boolean) => {
  const end = processorMs() + seconds * 1000;
  return () => processorMs() >= end;
};
const percent = (ratio: number): string => `${(100 * ratio).toFixed(2)} %`;
const median = (numbers: number[]): number =>
  [...numbers].sort((one, other) => one - other)[Math.floor(numbers.length / 2)] ?? Number.NaN;
const row = (what: string, value: string): void => console.log(`${what.padEnd(64)}  ${value}`);

function planned(name: string, seconds: number) {
  const { result } = instanceOf(name);
  let isBest = false;
  const isTimeUp = during(seconds);
  // what is known to be best needs no more time
  const onBetter = (best: { tardiness: number; handling: number; makespan: number }) => {
    isBest = result.status === "optimal" && compareObjectives(best, result) <= 0;
  };
  const found = allocate(problemOf(instanceOf(name)), { seed: 1, isTimeUp: () => isBest || isTimeUp(), onBetter });
  if (found.kind !== "planned") throw new Error(`${name}: ${found.kind}`);
  return { name, value: found.value, known: result };
}

function benchSmall() {
  const small = instanceNames(/^s\d/).map((name) => planned(name, 2));
  const medium = instanceNames(/^m\d/).map((name) => planned(name, 2));
  const proven = [...small, ...medium].filter(({ known }) => known.status === "optimal");
  const below = proven.filter(({ value, known }) => compareObjectives(value, known) < 0);
  const onTime = small.filter(({ value, known }) => value.tardiness === known.tardiness);
  const onAll = small.filter(({ value, known }) => compareObjectives(value, known) === 0);
  const sumOf = (list: typeof proven, key: "value" | "known") =>
    list.reduce((sum, line) => sum + line[key].tardiness, 0);
  row("results below a proved optimum", String(below.length));
  row("small weeks, 2 s: tardiness proved, all three levels", `${onTime.length}, ${onAll.length} of ${small.length}`);
  row(
    "small and medium, 2 s: summed tardiness over the proved sum",
    percent(sumOf(proven, "value") / sumOf(proven, "known") - 1),
  );
  for (const name of instanceNames(/^m\d/)) {
    const { value, known } = planned(name, 10);
    row(`${name}, 10 s: tardiness over ${known.status}`, percent(value.tardiness / known.tardiness - 1));
  }
}

function benchStress() {
  const [week, large] = [problemOf(instanceOf("w20")), problemOf(instanceOf("w200"))];
  for (let warming = 0; warming < 30; warming++) firstPlan(week, 1, 1);
  for (let warming = 0; warming < 8; warming++) firstPlan(large, 1, 1);
  for (const [what, problem] of [
    ["20 pieces", week],
    ["1,022 coats", large],
  ] as const) {
    const times = Array.from({ length: 15 }, () => {
      const begun = processorMs();
      firstPlan(problem, 1, 1);
      return processorMs() - begun;
    });
    row(`first plan of ${what}, warm`, `${median(times).toFixed(1)} ms`);
  }
  for (const name of ["w60", "w200"]) {
    const { value, known } = planned(name, 10);
    row(
      `${name}, 10 s: tardiness, over the reference`,
      `${value.tardiness}, ${percent(value.tardiness / known.tardiness - 1)}`,
    );
  }
}

function benchRepair() {
  const [instance, slots] = [instanceOf("w20"), solutionOf("w20")];
  const [times, counts]: [number[], number[]] = [[], []];
  let broken = 0;
  for (let round = 0; round < 2; round++)
    for (const slot of slots) {
      const begun = processorMs();
      const disrupted = disrupt(instance, slots, { kind: "slot-slips", coat: slot.coat, byGrains: 24 });
      if (!disrupted.ok) throw new Error(disrupted.refusal.why);
      const parsed = parseProblem(disrupted.value.instance);
      if (!parsed.ok) throw new Error(parsed.refusal.why);
      const running = new Set(slots.filter(({ start }) => start < slot.start).map(({ coat }) => coat));
      const found = repair({ problem: parsed.value, slots, notBefore: disrupted.value.notBefore, running });
      if (round === 0) continue; // the first round warms up
      times.push(processorMs() - begun);
      if (!found.ok) continue;
      counts.push(found.value.moved.length);
      broken += checkAllocation(parsed.value, found.value.slots).violations.length;
    }
  row("two-hour slips of a 20-piece week: repaired, broken rules", `${counts.length} of ${times.length}, ${broken}`);
  row("  coats moved, median (the slipped one counted)", String(median(counts)));
  row("  time with parsing, median", `${median(times).toFixed(1)} ms`);
}

function benchPublished() {
  const gapOf = (name: string, seconds: number, isOpen = false): number => {
    const parsed = parseJobShop(publishedText(name));
    if (!parsed.ok) throw new Error(parsed.refusal.why);
    const optimum = publishedOptima[name] as number;
    let isBest = false;
    const isTimeUp = during(seconds);
    const onBetter = ({ makespan }: { makespan: number }) => {
      isBest = makespan <= optimum;
    };
    const problem = problemOf(jobShopInstance(name, parsed.value, isOpen));
    const found = allocate(problem, { seed: 1, isTimeUp: () => isBest || isTimeUp(), onBetter });
    return found.kind === "planned" ? found.value.makespan / optimum - 1 : Number.NaN;
  };
  const meanOf = (gaps: number[]) => gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
  const named = (pattern: RegExp) => Object.keys(publishedOptima).filter((name) => pattern.test(name));
  for (const name of ["ft06", "la01", "ft10"]) row(`${name}, 10 s`, percent(gapOf(name, 10)));
  row("open shops 4 × 4, 10 s each, mean", percent(meanOf(named(/^to/).map((name) => gapOf(name, 10, true)))));
  row("ta01 to ta10, 30 s each, mean", percent(meanOf(named(/^ta/).map((name) => gapOf(name, 30)))));
}

const parts = { small: benchSmall, stress: benchStress, repair: benchRepair, published: benchPublished };
const asked = process.argv.slice(2).filter((name): name is keyof typeof parts => name in parts);
for (const name of asked.length ? asked : (Object.keys(parts) as (keyof typeof parts)[])) parts[name]();
