import { checkNodeVersion } from "./node-version.mjs";

checkNodeVersion();
const { generate, install, run } = await import("./steps.mjs");
const { giveUp } = await import("./trouble.mjs");

try {
  install();
  generate();
  process.exitCode = run("tsx", ["tests/bench/main.ts", ...process.argv.slice(2)]) ? 0 : 1;
} catch (error) {
  giveUp(error);
}
