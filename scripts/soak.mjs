import { mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { checkNodeVersion } from "./node-version.mjs";

checkNodeVersion();
const { generate, install, run } = await import("./steps.mjs");
const { countVitest } = await import("./test-count.mjs");
const { giveUp } = await import("./trouble.mjs");

// Hours of misfortune for the sync server: too long for `npm test`. A name chooses: `npm run soak -- kills`.

// Nothing of a shop that this shell may know reaches the tests.
const shell = /** @type {Record<string, string | undefined>} */ (process.env);
for (const name of ["DATABASE_URL", "DATA_DIR", "NEXTAUTH_URL", "NEXTAUTH_SECRET", "NODE_ENV"]) delete shell[name];

try {
  install();
  generate();
} catch (error) {
  giveUp(error);
}

const scratch = mkdtempSync(path.join(os.tmpdir(), "tackfree-soak-"));
const report = path.join(scratch, "soak.json");
const reporters = ["--reporter=default", "--reporter=json", `--outputFile.json=${report}`];
const names = process.argv.slice(2);
const args = ["run", "--config", "tests/vitest.config.ts", "--project", "soak", ...reporters, ...names];
const { passed, failed } = countVitest(report, run("vitest", args));
rmSync(scratch, { recursive: true, force: true });
process.exitCode = failed === 0 ? 0 : 1;
console.log(`${passed} passed, ${failed} failed`);
