import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import path from "node:path";
import { run } from "./steps.mjs";
import { Trouble } from "./trouble.mjs";

const names = ["chromium", "chromium-browser", "google-chrome"];

/** @param {string} file */
const runs = (file) => spawnSync(file, ["--version"], { stdio: "ignore" }).status === 0;

async function find() {
  const folders = (process.env.PATH ?? "").split(path.delimiter);
  const onPath = names.flatMap((name) => folders.map((folder) => path.join(folder, name)));
  const { chromium } = await import("@playwright/test");
  const candidates = [process.env.TACKFREE_CHROMIUM, ...onPath, chromium.executablePath()];
  return candidates.find((file) => file && existsSync(file) && runs(file));
}

/**
 * A Chromium for the browser tests: one that is here already, else one that gets installed.
 * @returns {Promise<string>} its path
 */
export async function chromiumPath() {
  const found = await find();
  if (found) return found;
  const canUseApt = process.getuid?.() === 0 && spawnSync("apt-get", ["--version"]).status === 0;
  run("playwright", ["install", ...(canUseApt ? ["--with-deps"] : []), "chromium"]);
  const downloaded = await find();
  if (downloaded) return downloaded;
  if (canUseApt) {
    console.log("Playwright's own Chromium could not be had; trying the operating system's package.");
    run("apt-get", ["update"]);
    run("apt-get", ["install", "-y", "chromium"], { DEBIAN_FRONTEND: "noninteractive" });
    const packaged = await find();
    if (packaged) return packaged;
  }
  throw new Trouble(
    `No Chromium was found (${names.join(", ")}), and none could be installed.`,
    "Install Chromium, or name one: TACKFREE_CHROMIUM=/path/to/chromium npm test",
  );
}
