/** What `npm run slots` prints: an instance or a published benchmark, planned within a time that the caller measures. */
import { allocate } from "./allocate";
import type { Objective } from "./check";
import type { Unusable } from "./instance";
import { jobShopInstance, parseJobShop } from "./job-shop/job-shop";
import { parseProblem } from "./problem";
import { parseProject, projectBound } from "./project/project";
import { ProjectSearch } from "./project/project-search";

type Level = "tardiness" | "handling" | "makespan";
type PerLevel = Partial<Record<Level, number>>;
type Planned = {
  instance: string;
  slots: { coat: string; start: number; booth?: string; person?: string }[];
  value: PerLevel;
  bound: PerLevel;
  /** Share of the value by which it may lie above the best: (value − bound) / value. */
  gap: PerLevel;
  /** When the level last became better, with those above it as they are. */
  milliseconds: PerLevel;
  proven: boolean;
};
type Said =
  | Planned
  | { instance: string; infeasible: { code: string; ids: string[]; why: string } }
  | { instance: string; notFound: { why: string } }
  | { unusable: { ids?: string[]; why: string } };

const levels: Level[] = ["tardiness", "handling", "makespan"];

const gapOf = (value: PerLevel, bound: PerLevel): PerLevel =>
  Object.fromEntries(
    Object.entries(value).map(([level, grains]) => {
      const least = Math.min(grains, bound[level as Level] ?? 0);
      return [level, grains > 0 ? Math.round(((grains - least) / grains) * 1e6) / 1e6 : 0];
    }),
  );

const unusable = ({ ids, why }: Unusable): Said => ({ unusable: { ids, why } });

function answerWeek(name: string, written: unknown, seed: number, isTimeUp: () => boolean, clock: () => number): Said {
  const parsed = parseProblem(written);
  if (!parsed.ok) return unusable(parsed.refusal);
  const milliseconds: PerLevel = {};
  let known: Objective | null = null;
  const onBetter = (best: Objective) => {
    const changed = known ? levels.findIndex((level) => known?.[level] !== best[level]) : 0;
    for (const level of levels.slice(Math.max(0, changed))) milliseconds[level] = clock();
    known = best;
  };
  const found = allocate(parsed.value, { seed, isTimeUp, onBetter });
  const instance = parsed.value.instance.name || name;
  if (found.kind === "infeasible") {
    const { code, ids, why } = found;
    return { instance, infeasible: { code, ids, why } };
  }
  if (found.kind === "not-found") return { instance, notFound: { why: found.why } };
  const { slots, value, bound, isProven } = found;
  return { instance, slots, value, bound, gap: gapOf(value, bound), milliseconds, proven: isProven };
}

function answerProject(name: string, text: string, seed: number, isTimeUp: () => boolean, clock: () => number): Said {
  const parsed = parseProject(text);
  if (!parsed.ok) return unusable(parsed.refusal);
  const bound = { makespan: projectBound(parsed.value) };
  const search = new ProjectSearch(parsed.value, seed);
  let [known, foundAt] = [search.bestMakespan, clock()];
  const isOver = () => {
    if (search.bestMakespan < known) [known, foundAt] = [search.bestMakespan, clock()];
    return isTimeUp();
  };
  search.run(isOver, bound.makespan);
  isOver();
  const value = { makespan: search.bestMakespan };
  const slots = Array.from(search.bestStarts, (start, activity) => ({ coat: String(activity + 1), start }));
  const proven = value.makespan <= bound.makespan;
  return { instance: name, slots, value, bound, gap: gapOf(value, bound), milliseconds: { makespan: foundAt }, proven };
}

/** @param clock milliseconds since the question was asked */
export function answer(
  kind: string,
  name: string,
  text: string,
  seed: number,
  limitMs: number,
  clock: () => number,
): Said {
  const isTimeUp = () => clock() >= limitMs;
  if (kind === "project") return answerProject(name, text, seed, isTimeUp, clock);
  if (kind === "job-shop") {
    const parsed = parseJobShop(text);
    if (!parsed.ok) return unusable(parsed.refusal);
    return answerWeek(name, jobShopInstance(name, parsed.value), seed, isTimeUp, clock);
  }
  let written: unknown;
  try {
    written = JSON.parse(text);
  } catch {
    return { unusable: { why: "The file is no JSON." } };
  }
  return answerWeek(name, written, seed, isTimeUp, clock);
}
