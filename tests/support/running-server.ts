import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import net from "node:net";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";

const root = path.resolve(import.meta.dirname, "../..");
const patienceMs = 120_000;
const askEveryMs = 20;

/** Two free ports beside each other: with `--lan` the page that tells phones what to trust has the second one. */
async function freePort(): Promise<number> {
  const isFree = (port: number) =>
    new Promise<number | undefined>((resolve) => {
      const probe = net.createServer().once("error", () => resolve(undefined));
      probe.listen(port, () => {
        const { port: found } = probe.address() as net.AddressInfo;
        probe.close(() => resolve(found));
      });
    });
  for (;;) {
    const port = await isFree(0);
    if (port && port < 65_534 && (await isFree(port + 1))) return port;
  }
}

export type Start = {
  dataFolder: string;
  args?: string[];
  /** Where several servers are to be one: the database that they share, and the secret of its sessions. */
  shared?: { databaseUrl: string; sessionSecret: string };
};

/** The built server as `npm start` runs it, on a port of its own; nothing of this shell's own shop reaches it. */
export class RunningServer {
  printed = "";

  private constructor(
    readonly port: number,
    private readonly child: ChildProcess,
  ) {
    for (const stream of [child.stdout, child.stderr]) {
      stream?.on("data", (data: Buffer) => {
        this.printed += data.toString();
      });
    }
  }

  /** As many servers on one database, each with a folder of its own. */
  static async startBeside(
    count: number,
    start: Required<Pick<Start, "dataFolder" | "shared">>,
  ): Promise<RunningServer[]> {
    const folders = Array.from({ length: count }, (_, index) => path.join(start.dataFolder, `node-${index + 1}`));
    const running: RunningServer[] = [];
    for (const dataFolder of folders) running.push((await RunningServer.start({ ...start, dataFolder })).server);
    return running;
  }

  /** @returns the server once it answers with a page, and the milliseconds that this took */
  static async start({
    dataFolder,
    args = ["--no-demo"],
    shared,
  }: Start): Promise<{ server: RunningServer; startMs: number }> {
    const port = await freePort();
    const startedAt = performance.now();
    const child = spawn(process.execPath, ["scripts/start.mjs", ...args], {
      cwd: root,
      env: {
        ...process.env,
        ...nothingOfThisShell,
        ...(shared ? { DATABASE_URL: shared.databaseUrl, NEXTAUTH_SECRET: shared.sessionSecret } : {}),
        PORT: String(port),
        DATA_DIR: dataFolder,
      },
      stdio: ["ignore", "pipe", "pipe"],
    });
    const server = new RunningServer(port, child);
    const asked = args.includes("--lan") ? `http://localhost:${port + 1}/trust` : `${server.site}/sign-in`;
    await server.until(async () => (await fetch(asked)).ok);
    return { server, startMs: performance.now() - startedAt };
  }

  get site(): string {
    return `http://localhost:${this.port}`;
  }

  /** The code with which the first shop is founded, as the terminal shows it. */
  async founderCode(): Promise<string> {
    await this.until(async () => this.codeShown !== undefined);
    return this.codeShown as string;
  }

  async stop(): Promise<void> {
    if (this.child.exitCode !== null) return;
    const ended = once(this.child, "exit");
    this.child.kill("SIGTERM");
    await ended;
  }

  private get codeShown(): string | undefined {
    return / code:? ([\w-]{20,})/.exec(this.printed)?.[1];
  }

  private async until(isSo: () => Promise<boolean>): Promise<void> {
    const givesUpAt = performance.now() + patienceMs;
    while (!(await isSo().catch(() => false))) {
      if (this.child.exitCode !== null || performance.now() > givesUpAt) {
        throw new Error(`the server did not come up; it said:\n${this.printed.slice(-2000)}`);
      }
      await pause(askEveryMs);
    }
  }
}

const nothingOfThisShell = {
  DATABASE_URL: "",
  NEXTAUTH_URL: "",
  NEXTAUTH_SECRET: "",
  NEXTAUTH_SECRET_PREVIOUS: "",
  ALLOWED_ORIGINS: "",
  TLS_CERT: "",
  TLS_KEY: "",
  LISTEN_HOST: "",
  TACKFREE_DEMO: "",
};
