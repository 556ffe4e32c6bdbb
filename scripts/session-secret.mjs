import { randomBytes } from "node:crypto";
import { existsSync, readFileSync, renameSync, statSync, writeFileSync } from "node:fs";
import path from "node:path";
import { Trouble } from "./trouble.mjs";

const dayMs = 24 * 60 * 60 * 1000;
/** As long as a sign-in lasts (src/api/auth.ts): after that nothing is left that the secret of before has sealed. */
const previousLastsMs = 60 * dayMs;

/** @param {string} dataFolder */
const filesIn = (dataFolder) => ({
  current: path.join(dataFolder, "session-secret"),
  previous: path.join(dataFolder, "session-secret.previous"),
});

/** @param {string} file */
const writeNew = (file) => writeFileSync(file, randomBytes(32).toString("base64url"), { mode: 0o600, flag: "wx" });

/**
 * The secret that seals people's sign-ins, and the one before it while it still counts. It is made once and kept, so that
 * a restart does not sign everybody out.
 * @param {string} dataFolder
 * @param {number} [now] epoch milliseconds
 * @returns {{ current: string, previous: string | undefined }}
 */
export function sessionSecrets(dataFolder, now = Date.now()) {
  const { current, previous } = filesIn(dataFolder);
  if (!existsSync(current)) writeNew(current);
  const stillCounts = existsSync(previous) && now - statSync(current).mtimeMs < previousLastsMs;
  return {
    current: readFileSync(current, "utf8"),
    // an empty one was replaced at once: it counts for nobody
    previous: (stillCounts && readFileSync(previous, "utf8")) || undefined,
  };
}

/**
 * Makes another secret, and keeps the one of before beside it. Counts from the next start of the server on.
 * @param {string} dataFolder
 * @param {{ isAtOnce: boolean, now?: number }} how at once: without the one of before, so that everybody must sign in
 */
export function replaceSessionSecret(dataFolder, { isAtOnce, now = Date.now() }) {
  const { current, previous } = filesIn(dataFolder);
  if (!isAtOnce && sessionSecrets(dataFolder, now).previous !== undefined) {
    const lastedDays = Math.floor((now - statSync(current).mtimeMs) / dayMs);
    throw new Trouble(
      `The secret was replaced ${lastedDays} days ago, and sign-ins of before still rest on the one before it.`,
      "A second time would sign those people out. Wait until 60 days are over, or sign everybody out: npm run new-secret -- --at-once",
    );
  }
  if (existsSync(current)) renameSync(current, previous);
  writeNew(current);
  if (isAtOnce) writeFileSync(previous, "", { mode: 0o600 });
}
