import path from "node:path";
import { defineConfig } from "vitest/config";

const root = path.resolve(import.meta.dirname, "..");
const needDatabase = ["data", "api", "server", "scripts"].map((folder) => `tests/${folder}/**/*.test.{ts,tsx}`);
const common = { root, resolve: { alias: { "~": path.join(root, "src") } } };

export default defineConfig({
  test: {
    projects: [
      {
        ...common,
        test: {
          name: "unit",
          include: ["tests/**/*.test.{ts,tsx}"],
          exclude: [...needDatabase, "tests/e2e/**"],
          // the core is pure, so that files may share its modules: loading them anew for each took most of the time
          isolate: false,
        },
      },
      {
        ...common,
        test: {
          name: "integration",
          include: needDatabase,
          globalSetup: path.join(root, "scripts/test-database.mjs"),
          fileParallelism: false, // they share one database
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        ...common,
        test: {
          name: "soak",
          include: ["tests/soak/**/*.soak.ts"],
          globalSetup: path.join(root, "scripts/test-database.mjs"),
          fileParallelism: false,
          testTimeout: 3_600_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
