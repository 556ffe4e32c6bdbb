import { randomBytes } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";

/**
 * The secret that signs people's sessions. It is made once and kept, so that a restart does not sign everybody out.
 * @param {string} dataFolder
 */
export function sessionSecret(dataFolder) {
  const file = path.join(dataFolder, "session-secret");
  if (!existsSync(file)) writeFileSync(file, randomBytes(32).toString("base64url"), { mode: 0o600, flag: "wx" });
  return readFileSync(file, "utf8");
}
