/**
 * The gates of a large shop as production runs them: bundled, in processes that have done nothing before. The loader of the
 * other parts of this bench would cost half of the time.
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { run } from "../../scripts/steps.mjs";
import type { Depth, GatesFigures } from "./gates-alone";

const processes = 3;

const middleOf = (runs: readonly GatesFigures[]): GatesFigures => {
  const median = (figure: keyof GatesFigures) =>
    runs.map((found) => found[figure]).sort((one, other) => one - other)[runs.length >> 1] as number;
  const figures = Object.keys(runs[0] as GatesFigures) as (keyof GatesFigures)[];
  return Object.fromEntries(figures.map((figure) => [figure, median(figure)])) as GatesFigures;
};

/** Each figure as it lies in the middle of some fresh processes: whether every gate is open, and that with its times. */
export const measureGates = (): Record<Depth, GatesFigures> => {
  const folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-gates-"));
  try {
    const program = path.join(folder, "gates.mjs");
    const options = ["--bundle", "--platform=node", "--format=esm", "--target=node20", "--log-level=warning"];
    if (!run("esbuild", ["tests/bench/gates-alone.ts", ...options, `--outfile=${program}`]))
      throw new Error("The gates could not be bundled.");
    const measured = (depth: Depth) =>
      middleOf(
        Array.from(
          { length: processes },
          () => JSON.parse(execFileSync(process.execPath, [program, depth], { encoding: "utf8" })) as GatesFigures,
        ),
      );
    return { "open-or-not": measured("open-or-not"), "with-times": measured("with-times") };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};
