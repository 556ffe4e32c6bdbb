import { readdirSync } from "node:fs";
import { statfs } from "node:fs/promises";
import { secondMs } from "~/core/units";
import { isDatabaseThere } from "~/data/db";
import { missingMigrations } from "~/data/readiness";
import type { Handler } from "./http";

/** What has to be so before people are sent to this process. */
export type ReadyChecks = {
  draining: () => boolean;
  database: () => Promise<boolean>;
  migrations: () => Promise<boolean>;
  disk: () => Promise<boolean>;
};
type CheckName = keyof ReadyChecks;

/** PostgreSQL stops when it cannot write its log, which grows by files of 16 MiB; this many of them are left. */
const leastFreeBytes = 16 * (16 << 20);

type Timing = { withinMs: number; keptMs: number };
export type Readiness = { isReady: boolean; failing: CheckName[] };

/**
 * Asks how things stand, at most every half a second. A check that takes too long, or breaks, has failed; one that is
 * still out is not begun again, so that a database which hangs is not asked by more and more.
 *
 * @param timing how long whoever asks waits: a database that needs longer serves nobody either; and for how long an
 *   answer is good, because anybody may ask, as often as they like
 */
export function readinessOf(
  checks: ReadyChecks,
  { withinMs, keptMs }: Timing = { withinMs: secondMs, keptMs: secondMs / 2 },
): () => Promise<Readiness> {
  const slow = ["database", "migrations", "disk"] as const;
  let asked: { at: number; failing: Promise<CheckName[]> } | undefined;
  const out = new Map<CheckName, Promise<boolean>>();
  const answerOf = (name: (typeof slow)[number]) => {
    const known = out.get(name);
    if (known) return known;
    const begun = checks[name]().catch(() => false);
    out.set(name, begun);
    void begun.then(() => out.delete(name));
    return begun;
  };
  const look = async () => {
    const answers = await Promise.all(slow.map((name) => inTime(answerOf(name), withinMs)));
    return slow.filter((_, index) => !answers[index]);
  };
  return async () => {
    const now = performance.now();
    if (!asked || now - asked.at >= keptMs) asked = { at: now, failing: look() };
    const failing = [...(checks.draining() ? (["draining"] as const) : []), ...(await asked.failing)];
    return { isReady: failing.length === 0, failing };
  };
}

async function inTime(check: Promise<boolean>, withinMs: number): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<boolean>((resolve) => {
    timer = setTimeout(() => resolve(false), withinMs);
  });
  return Promise.race([check, late]).finally(() => clearTimeout(timer));
}

/** The names of the migrations in a folder. */
export const migrationsIn = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true })
    .filter((found) => found.isDirectory())
    .map(({ name }) => name)
    .sort();

/**
 * The checks of a process.
 *
 * @param migrations names of those that this program was built with; a database that has more was made by a newer one,
 *   beside which this one goes on
 * @param dataFolder where the embedded database, the secrets and the certificates lie
 */
export const checksOf = ({
  migrations,
  dataFolder,
  draining,
}: {
  migrations: readonly string[];
  dataFolder: string;
  draining: () => boolean;
}): ReadyChecks => ({
  draining,
  database: isDatabaseThere,
  migrations: async () => (await missingMigrations(migrations)).length === 0,
  disk: async () => {
    const { bavail, bsize } = await statfs(dataFolder);
    return bavail * bsize >= leastFreeBytes;
  },
});

const json = { "content-type": "application/json", "cache-control": "no-store" };

/** The process answers, and so its event loop turns. It knows of nothing else: a database that is away is no reason to kill it. */
export const aliveHandler: Handler = async (_, response) => {
  response.writeHead(200, json).end('{"alive":true}\n');
};

export const readyHandler =
  (readiness: () => Promise<Readiness>): Handler =>
  async (_, response) => {
    const { isReady, failing } = await readiness();
    response.writeHead(isReady ? 200 : 503, json).end(`${JSON.stringify({ ready: isReady, failing })}\n`);
  };
