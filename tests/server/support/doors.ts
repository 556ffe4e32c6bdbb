/** Servers without their pages, as processes of their own that a test can kill or stop, all on one database. */
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { rmSync } from "node:fs";
import path from "node:path";
import readline from "node:readline";
import { build } from "esbuild";
import { secret } from "./shop-server";

// beside the packages, where node finds them; a name of its own, because two runs may go on at once
const program = path.resolve("node_modules", ".tackfree", `door-process.${process.pid}.test.mjs`);

export const removeDoor = (): void => rmSync(program, { force: true });

export async function buildDoor(): Promise<void> {
  await build({
    entryPoints: [path.resolve("tests/server/support/door-process.ts")],
    outfile: program,
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node20",
    packages: "external",
    logLevel: "error",
  });
}

/** `lines`: what it has written to its log so far. */
export type Door = { child: ChildProcess; port: number; lines: string[] };

export async function openDoor(more: Record<string, string> = {}): Promise<Door> {
  const env: NodeJS.ProcessEnv = { ...process.env, NEXTAUTH_SECRET: secret, ...more };
  const child = spawn(process.execPath, [program], { env, stdio: ["ignore", "pipe", "inherit"] });
  if (!child.stdout) throw new Error("the door has no output");
  const [reader, lines] = [readline.createInterface(child.stdout), [] as string[]];
  const [first] = (await once(reader, "line")) as [string];
  reader.on("line", (line) => lines.push(line));
  return { child, port: Number(/listening on (\d+)/.exec(first)?.[1]), lines };
}

/** Ends a door's process, however it is. */
export async function killDoor({ child }: Door): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const gone = once(child, "exit");
  child.kill("SIGKILL");
  await gone;
}

/** Sends one intent by the API, as a device does. @returns whether the answer arrived and was yes */
export async function send(port: number, cookie: string, intent: unknown): Promise<boolean> {
  try {
    const response = await fetch(`http://127.0.0.1:${port}/api/trpc/door.send`, {
      method: "POST",
      headers: { "content-type": "application/json", cookie },
      body: JSON.stringify({ intents: [intent] }),
    });
    const answer = (await response.json()) as { result?: { data: { rulings: { verdict: string }[] } } };
    const verdict = answer.result?.data.rulings[0]?.verdict;
    if (verdict !== "accepted") throw new Error(`the door said ${JSON.stringify(answer)}`);
    return true;
  } catch (error) {
    if (error instanceof TypeError) return false; // the line broke: nobody knows whether it was taken
    throw error;
  }
}
