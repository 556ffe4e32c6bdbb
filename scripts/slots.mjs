import { readFileSync } from "node:fs";
import path from "node:path";
import { checkNodeVersion } from "./node-version.mjs";

// Plans an instance of docs/slots.md, or a published benchmark, and prints one JSON object.

checkNodeVersion();
const { build } = await import("esbuild");

const usage = "npm run slots -- INSTANCE.json | --job-shop FILE | --project FILE.sm [--seconds N] [--seed N]";
const root = path.resolve(import.meta.dirname, "..");

/** @param {string} why */
function refuse(why) {
  console.log(JSON.stringify({ unusable: { why } }, null, 1));
  process.exit(2);
}

/** @param {string[]} words */
function readArguments(words) {
  const given = { kind: "instance", file: "", seconds: 10, seed: 1 };
  for (let at = 0; at < words.length; at++) {
    const word = words[at] ?? "";
    const next = () => words[++at] ?? refuse(`${word} needs a value. ${usage}`) ?? "";
    if (word === "--seconds") given.seconds = Number(next());
    else if (word === "--seed") given.seed = Number(next());
    else if (word === "--job-shop" || word === "--project") [given.kind, given.file] = [word.slice(2), next()];
    else if (word.startsWith("--")) refuse(`There is no option ${word}. ${usage}`);
    else given.file = word;
  }
  if (!given.file) refuse(usage);
  if (!(given.seconds >= 0 && given.seconds <= 3600)) refuse("--seconds takes a number from 0 to 3600.");
  if (!Number.isInteger(given.seed)) refuse("--seed takes a whole number.");
  return given;
}

/** @param {string} file */
function readText(file) {
  try {
    return readFileSync(file, "utf8");
  } catch (error) {
    return refuse(`${file} cannot be read: ${error instanceof Error ? error.message : error}`) ?? "";
  }
}

/** The planner, bundled from its sources in memory. */
async function loadPlanner() {
  const { outputFiles } = await build({
    entryPoints: [path.join(root, "src/core/slots/command.ts")],
    alias: { "~": path.join(root, "src") },
    bundle: true,
    format: "esm",
    write: false,
    logLevel: "silent",
  });
  const source = Buffer.from(outputFiles[0]?.text ?? "").toString("base64");
  /** @type {typeof import("../src/core/slots/command")} */
  const planner = await import(`data:text/javascript;base64,${source}`);
  return planner;
}

const { kind, file, seconds, seed } = readArguments(process.argv.slice(2));
const text = readText(file);
const { answer } = await loadPlanner();
const begun = performance.now();
const milliseconds = () => Math.round(performance.now() - begun);
const said = answer(kind, path.basename(file).replace(/\.\w+$/, ""), text, seed, seconds * 1000, milliseconds);
console.log(JSON.stringify(said, null, 1));
process.exitCode = "unusable" in said ? 2 : 0;
