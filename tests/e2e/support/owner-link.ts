import { execFile } from "node:child_process";
import path from "node:path";
import { promisify } from "node:util";

const root = path.resolve(import.meta.dirname, "../../..");

/** Runs `npm run owner-link` beside the running server. @returns the address that it prints */
export async function ownerLink(dataFolder: string, port: number): Promise<string> {
  const env = { ...process.env, DATABASE_URL: "", NEXTAUTH_URL: "", DATA_DIR: dataFolder, PORT: String(port) };
  const { stdout } = await promisify(execFile)(process.execPath, ["scripts/owner-link.mjs"], { cwd: root, env });
  const address = /https?:\/\/\S+\/reset\S+/.exec(stdout)?.[0];
  if (!address) throw new Error(`no address was printed:\n${stdout}`);
  return address;
}
