/** The stored instances and what is known of them. */
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import type { Objective } from "~/core/slots/check";
import type { Slot, SlotInstance } from "~/core/slots/instance";
import { parseProblem, type SlotProblem } from "~/core/slots/problem";

const folder = path.join(import.meta.dirname, "instances");
export const published = path.join(import.meta.dirname, "published");
const texts = new Map<string, string>();
function readJson(...names: string[]) {
  const file = path.join(folder, ...names);
  const text = texts.get(file) ?? readFileSync(file, "utf8");
  texts.set(file, text);
  return JSON.parse(text);
}

type Reason = { code: string; ids: string[]; why: string };
export type StoredInstance = SlotInstance & {
  result: Objective & { status: "optimal" | "feasible" | "infeasible"; reason: Reason; bound?: Partial<Objective> };
};

export const instanceNames = (pattern: RegExp): string[] =>
  readdirSync(folder)
    .map((file) => file.replace(/\.json$/, ""))
    .filter((name) => pattern.test(name))
    .sort();
export const instanceOf = (name: string): StoredInstance => readJson(`${name}.json`);
export const solutionOf = (name: string): Slot[] => readJson("solutions", `${name}.json`).slots;
export const solvedNames = instanceNames(/^([sm]\d|w20$)/);
export const publishedText = (name: string): string => readFileSync(path.join(published, `${name}.txt`), "utf8");
export const publishedOptima: Record<string, number> = JSON.parse(
  readFileSync(path.join(published, "optima.json"), "utf8"),
);

/** The problem of an instance that is known to be usable. */
export function problemOf(instance: unknown): SlotProblem {
  const parsed = parseProblem(instance);
  if (!parsed.ok) throw new Error(parsed.refusal.why);
  return parsed.value;
}

/** Time in looks at the clock instead of seconds, so that a slow machine finds the same plan. */
export function looks(count: number): () => boolean {
  let left = count;
  return () => left-- <= 0;
}
