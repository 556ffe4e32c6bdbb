import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import path from "node:path";
import { checkDiskSpace, Trouble } from "./trouble.mjs";

// What must happen before the server can run. A step is skipped while the fingerprint of what it reads is the one kept
// from its last success and what it makes is still there.

export const root = path.resolve(import.meta.dirname, "..");

const quietTools = {
  CHECKPOINT_DISABLE: "1",
  NEXT_TELEMETRY_DISABLED: "1",
  PRISMA_HIDE_UPDATE_MESSAGE: "1",
  // `prisma generate` looks for a native engine and downloads it where it is missing, but never runs it: any program will do.
  PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
};

/**
 * Runs a tool to its end, its output shown, and tells whether it ended well.
 * @param {string} command a program on the PATH, or one that the packages bring along
 * @param {string[]} args
 * @param {Record<string, string | undefined>} [env] on top of this program's own; undefined takes a variable away
 */
export function run(command, args, env = {}) {
  const own = path.join(root, "node_modules", ".bin", command);
  const isWindows = process.platform === "win32"; // there these are .cmd files, which only a shell can run
  const ended = spawnSync(existsSync(own) ? own : command, args, {
    cwd: root,
    env: { ...process.env, ...quietTools, ...env },
    stdio: ["ignore", "inherit", "inherit"],
    shell: isWindows,
  });
  return ended.status === 0;
}

/** @param {string[]} names files and folders, relative to the root; missing ones count as empty */
function fingerprint(names) {
  const hash = createHash("sha256").update(process.version);
  /** @param {string} name */
  const add = (name) => {
    const full = path.join(root, name);
    const found = statSync(full, { throwIfNoEntry: false });
    if (!found || name === path.join("src", "data", "generated")) return; // generated from the schema, which counts itself
    if (found.isDirectory()) for (const entry of readdirSync(full).sort()) add(path.join(name, entry));
    else hash.update(`${name}\0${found.size}\0`).update(readFileSync(full));
  };
  names.forEach(add);
  return hash.digest("hex");
}

/**
 * @param {string} name
 * @param {{ reads: string[], makes: string[], needsSpace?: boolean }} files
 * @param {() => void} work throws where it fails
 */
function step(name, files, work) {
  const stamp = path.join(root, "node_modules", ".tackfree", name);
  const isMade = files.makes.every((file) => existsSync(path.join(root, file)));
  const current = fingerprint(files.reads);
  if (isMade && existsSync(stamp) && readFileSync(stamp, "utf8") === current) return;
  if (files.needsSpace) checkDiskSpace(root);
  console.log(`[${name}] …`);
  const startedAt = performance.now();
  work();
  mkdirSync(path.dirname(stamp), { recursive: true });
  writeFileSync(stamp, current);
  console.log(`[${name}] done in ${((performance.now() - startedAt) / 1000).toFixed(1)} s`);
}

export function install() {
  step("install", { reads: ["package-lock.json"], makes: ["node_modules"], needsSpace: true }, () => {
    if (!run("npm", ["--version"]))
      throw new Trouble("npm, which comes with Node.js, was not found.", "Install Node.js with npm and start again.");
    // The build needs the development packages too, also where NODE_ENV says "production".
    if (!run("npm", ["ci", "--include=dev", "--no-audit", "--no-fund"]))
      throw new Trouble(
        "The packages could not be installed.",
        "The lines above say why. The first start needs the network, later ones do not; when it is there, start again.",
      );
  });
}

export function generate() {
  step("generate", { reads: ["prisma", "package-lock.json"], makes: ["src/data/generated"] }, () => {
    if (!run("prisma", ["generate", "--config", "prisma/prisma.config.ts"]))
      throw new Trouble("The database client could not be generated.", "The lines above say what is wrong in prisma/.");
  });
}

const pageSources = ["src", "server", "seed", "public", "next.config.mjs", "postcss.config.mjs", "tsconfig.json"];
const programs = ["server=server/main.ts", "owner-link=server/owner-link.ts"];

export function build() {
  const reads = [...pageSources, "prisma/schema.prisma", "package-lock.json"];
  const makes = [".next/BUILD_ID", "dist/server.mjs", "dist/owner-link.mjs"];
  step("build", { reads, makes, needsSpace: true }, () => {
    const options = ["--bundle", "--platform=node", "--format=esm", "--target=node20", "--packages=external"];
    const output = ["--outdir=dist", "--out-extension:.js=.mjs", "--sourcemap", "--log-level=warning"];
    const isBuilt =
      run("next", ["build"], { NODE_ENV: "production" }) && run("esbuild", [...programs, ...options, ...output]);
    if (!isBuilt) throw new Trouble("The build failed.", "The lines above say where.");
  });
}
