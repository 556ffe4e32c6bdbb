/**
 * Speed, measured on the server as production runs it: bundled, in a process of its own. Times are this machine's; a ratio
 * to the bare broadcaster of the same run, or to one flush of the disk, may be compared with another's. Names choose parts:
 * `npm run bench -- fan-out intents`.
 */
import os from "node:os";
import { run } from "../../scripts/steps.mjs";
import { parts } from "./parts";

const names = process.argv.slice(2);
const unknown = names.filter((name) => !(name in parts));
if (unknown.length > 0) {
  console.error(`There is no part ${unknown.join(", ")}. There are: ${Object.keys(parts).join(", ")}.`);
  process.exit(1);
}
console.log(`Node ${process.version}, ${os.cpus().length} × ${os.cpus()[0]?.model ?? "unknown processor"}`);
const chosen = Object.keys(parts).filter((name) => names.length === 0 || names.includes(name));
const failed = chosen.filter((name) => !run("tsx", ["tests/bench/part.ts", name]));
if (failed.length > 0) {
  console.error(`\nNot measured: ${failed.join(", ")}.`);
  process.exitCode = 1;
}
