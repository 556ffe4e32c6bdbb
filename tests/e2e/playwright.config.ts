import { chmodSync, mkdtempSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { defineConfig, devices } from "@playwright/test";

const root = path.resolve(import.meta.dirname, "../..");
const port = 3117;

// Playwright reads this file in every worker too; the first reader makes the folder, the others inherit its name.
if (!process.env.TACKFREE_BROWSER_TEST_DATA) {
  const folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-browser-"));
  chmodSync(folder, 0o755); // as root, PostgreSQL runs as another user, who must get through
  process.env.TACKFREE_BROWSER_TEST_DATA = folder;
}

const args = [
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];
const isRoot = process.getuid?.() === 0;

export default defineConfig({
  testDir: ".",
  outputDir: path.join(root, "test-results"),
  workers: 1,
  forbidOnly: true,
  timeout: 120_000, // a machine with much else to do takes its time; what waits for nothing ends at the line below
  expect: { timeout: 15_000 },
  use: {
    baseURL: `http://localhost:${port}`,
    launchOptions: {
      executablePath: process.env.TACKFREE_CHROMIUM,
      args: isRoot ? ["--no-sandbox", ...args] : args, // Chromium's sandbox refuses to run as root
    },
    trace: "retain-on-failure",
  },
  projects: [{ name: "chromium", use: devices["Desktop Chrome"] }],
  webServer: {
    command: "node scripts/start.mjs --demo",
    cwd: root,
    url: `http://localhost:${port}`,
    reuseExistingServer: false,
    timeout: 300_000,
    gracefulShutdown: { signal: "SIGTERM", timeout: 30_000 },
    stdout: "pipe",
    env: {
      PORT: String(port),
      DATA_DIR: process.env.TACKFREE_BROWSER_TEST_DATA,
      // Empty counts as not set: nothing of this shell's own shop is used.
      DATABASE_URL: "",
      NEXTAUTH_URL: "",
      NEXTAUTH_SECRET: "",
      NEXTAUTH_SECRET_PREVIOUS: "",
      // a name of its own, over plain http: the test of the address that is not secure goes there
      ALLOWED_ORIGINS: `http://workshop.test:${port}`,
      TLS_CERT: "",
      TLS_KEY: "",
      LISTEN_HOST: "",
    },
  },
});
