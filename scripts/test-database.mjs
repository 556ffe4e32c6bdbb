import { chmodSync, mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { migrate } from "./migrations.mjs";
import { ensurePostgres } from "./postgres.mjs";
import { root } from "./steps.mjs";

/**
 * Vitest calls this once before the integration tests: a PostgreSQL of their own, thrown away afterwards. The database
 * of the shell's DATABASE_URL may be somebody's shop, so the tests cannot even see it.
 */
export default async function setup() {
  delete process.env.DATABASE_URL;
  const folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-test-"));
  chmodSync(folder, 0o755); // as root, PostgreSQL runs as another user, who must get through
  const postgres = await ensurePostgres(path.join(folder, "postgres"));
  process.env.TEST_DATABASE_URL = postgres.url;
  await migrate(postgres.url, path.join(root, "prisma", "migrations"));
  return async () => {
    await postgres.stop();
    rmSync(folder, { recursive: true, force: true });
  };
}
