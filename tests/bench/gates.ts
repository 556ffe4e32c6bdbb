/**
 * The gates of a large shop as production runs them: bundled, in processes that have done nothing before. The loader of the
 * other parts of this bench would cost half of the time.
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { run } from "../../scripts/steps.mjs";
import type { GatesFigures } from "./gates-alone";

const processes = 3;

/** Each figure as it lies in the middle of some fresh processes. */
export const measureGates = (): GatesFigures => {
  const folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-gates-"));
  try {
    const program = path.join(folder, "gates.mjs");
    const options = ["--bundle", "--platform=node", "--format=esm", "--target=node20", "--log-level=warning"];
    if (!run("esbuild", ["tests/bench/gates-alone.ts", ...options, `--outfile=${program}`]))
      throw new Error("The gates could not be bundled.");
    const runs = Array.from(
      { length: processes },
      () => JSON.parse(execFileSync(process.execPath, [program], { encoding: "utf8" })) as GatesFigures,
    );
    const median = (figure: keyof GatesFigures) =>
      runs.map((found) => found[figure]).sort((one, other) => one - other)[processes >> 1] as number;
    return {
      gates: median("gates"),
      firstColdMs: median("firstColdMs"),
      coldMs: median("coldMs"),
      afterReadingMs: median("afterReadingMs"),
      reintegrateOneFilmMs: median("reintegrateOneFilmMs"),
      lookAtReadingsMs: median("lookAtReadingsMs"),
      worstSeconds: median("worstSeconds"),
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};
