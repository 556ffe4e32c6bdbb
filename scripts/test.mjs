import { chmodSync, mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { checkNodeVersion } from "./node-version.mjs";

checkNodeVersion();
const { chromiumPath } = await import("./chromium.mjs");
const { build, generate, install, run } = await import("./steps.mjs");
const { countCheck, countPlaywright, countVitest } = await import("./test-count.mjs");
const { giveUp } = await import("./trouble.mjs");

// Every check of the project, the quick ones first. A failing layer does not keep the next one from being told.

// Nothing of a shop that this shell may know reaches the tests.
const shell = /** @type {Record<string, string | undefined>} */ (process.env);
const ofShops = [
  "DATABASE_URL",
  "DATA_DIR",
  "NEXTAUTH_URL",
  "NEXTAUTH_SECRET",
  "NEXTAUTH_SECRET_PREVIOUS",
  "ALLOWED_ORIGINS",
  "TACKFREE_DEMO",
  "TLS_CERT",
  "TLS_KEY",
];
for (const name of [...ofShops, "NODE_ENV"]) delete shell[name];

const scratch = mkdtempSync(path.join(os.tmpdir(), "tackfree-test-"));
chmodSync(scratch, 0o755); // as root, PostgreSQL runs as another user, who must get through

/** @param {"unit" | "integration"} project */
function vitest(project) {
  const report = path.join(scratch, `${project}.json`);
  const reporters = ["--reporter=default", "--reporter=json", `--outputFile.json=${report}`];
  const endedWell = run("vitest", ["run", "--config", "tests/vitest.config.ts", "--project", project, ...reporters]);
  return countVitest(report, endedWell);
}

async function browser() {
  build();
  const report = path.join(scratch, "browser.json");
  const endedWell = run("playwright", ["test", "--config", "tests/e2e/playwright.config.ts", "--reporter=list,json"], {
    TACKFREE_BROWSER_TEST_DATA: path.join(scratch, "shop"),
    TACKFREE_CHROMIUM: await chromiumPath(),
    PLAYWRIGHT_JSON_OUTPUT_FILE: report,
  });
  return countPlaywright(report, endedWell);
}

const layers = {
  // The types of the routes and of imported stylesheets are generated; a bare checkout has none yet.
  "type check": () => countCheck(run("next", ["typegen"]) && run("tsc", ["--noEmit"])),
  lint: () => countCheck(run("biome", ["ci"])),
  unit: () => vitest("unit"),
  integration: () => vitest("integration"),
  browser,
};

try {
  install();
  generate();
} catch (error) {
  giveUp(error);
}

const total = { passed: 0, failed: 0 };
for (const [name, check] of Object.entries(layers)) {
  console.log(`\n[${name}] …`);
  const startedAt = performance.now();
  const count = await Promise.resolve()
    .then(check)
    .catch((error) => {
      console.error(error.remedy ? `${error.message}\n${error.remedy}` : error);
      return { passed: 0, failed: 1 };
    });
  total.passed += count.passed;
  total.failed += count.failed;
  const seconds = ((performance.now() - startedAt) / 1000).toFixed(1);
  console.log(`[${name}] ${count.passed} passed, ${count.failed} failed, in ${seconds} s`);
}
rmSync(scratch, { recursive: true, force: true });
process.exitCode = total.failed === 0 ? 0 : 1;
console.log(`${total.passed} passed, ${total.failed} failed`);
