import { existsSync, readFileSync } from "node:fs";

/** @typedef {{ passed: number, failed: number }} Count */

/** @param {string} file */
const read = (file) => (existsSync(file) ? JSON.parse(readFileSync(file, "utf8")) : undefined);

/**
 * A runner that ends badly without a failed test has crashed or could not load a file, and that counts as a failure.
 * @param {Count} count
 * @param {boolean} endedWell
 * @returns {Count}
 */
const withCrash = (count, endedWell) => (endedWell || count.failed > 0 ? count : { ...count, failed: 1 });

/** @param {string} file what vitest's json reporter wrote @param {boolean} endedWell */
export function countVitest(file, endedWell) {
  const report = read(file);
  return withCrash({ passed: report?.numPassedTests ?? 0, failed: report?.numFailedTests ?? 0 }, endedWell && report);
}

/** @param {string} file what Playwright's json reporter wrote @param {boolean} endedWell */
export function countPlaywright(file, endedWell) {
  const stats = read(file)?.stats;
  return withCrash(
    { passed: stats?.expected ?? 0, failed: (stats?.unexpected ?? 0) + (stats?.flaky ?? 0) },
    endedWell && stats,
  );
}

/** @param {boolean} endedWell @returns {Count} */
export const countCheck = (endedWell) => ({ passed: endedWell ? 1 : 0, failed: endedWell ? 0 : 1 });
