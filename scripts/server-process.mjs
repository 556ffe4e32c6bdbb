import { spawn } from "node:child_process";
import { once } from "node:events";
import { root } from "./steps.mjs";

const patienceMs = 20_000; // to let people's last changes reach the database

/**
 * Runs the server until it ends by itself or this program is asked to end; then waits for it.
 * @param {string[]} args for node
 * @param {NodeJS.ProcessEnv} env
 * @param {AbortSignal} ending aborted when this program was asked to end
 * @returns {Promise<number>} 0 where it ended because it was asked to, else its exit code
 */
export async function runServer(args, env, ending) {
  if (ending.aborted) return 0;
  /** @type {import("node:child_process").SpawnOptions} */
  const options = {
    cwd: root,
    env,
    // The terminal's Ctrl-C must not reach it a second time. The channel breaks if this program is killed, and the
    // server, which listens for that, then ends by itself and does not keep the port.
    detached: process.platform !== "win32",
    stdio: ["ignore", "inherit", "inherit", "ipc"],
  };
  const child = spawn(process.execPath, args, options);
  const exited = once(child, "exit");
  ending.addEventListener("abort", () => {
    child.kill("SIGTERM");
    setTimeout(() => child.kill("SIGKILL"), patienceMs).unref();
  });
  const [code] = await exited;
  return ending.aborted ? 0 : (code ?? 1);
}
