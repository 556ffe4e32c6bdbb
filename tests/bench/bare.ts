/** A broadcaster that does nothing else, as a process of its own: what any server on this machine is to be held against. */
import { fork } from "node:child_process";
import { once } from "node:events";
import path from "node:path";

export type Bare = { port: number; stop(): void };

export async function openBare(): Promise<Bare> {
  const child = fork(path.join(import.meta.dirname, "broadcaster.mjs"), { execArgv: [] });
  const [port] = (await once(child, "message")) as [number];
  return { port, stop: () => child.disconnect() };
}
