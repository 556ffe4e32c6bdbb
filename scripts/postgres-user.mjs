import { spawnSync } from "node:child_process";
import { statSync } from "node:fs";
import { Trouble } from "./trouble.mjs";

const userName = "tackfree";

/** @param {string} flag of `id`: -u or -g */
function idOf(flag) {
  const found = spawnSync("id", [flag, userName], { encoding: "utf8" });
  return found.status === 0 ? Number(found.stdout) : undefined;
}

/**
 * Who PostgreSQL runs as. It refuses to run as root, so root lends it a user of the operating system: the one who owns
 * the cluster already, else one made for it. Everybody else runs it as themselves.
 * @param {string} cluster the folder that may hold a cluster already
 * @returns {{ uid?: number, gid?: number }} as child_process takes it
 */
export function postgresUser(cluster) {
  const own = process.getuid?.();
  const owner = own === undefined ? undefined : statSync(cluster, { throwIfNoEntry: false });
  if (own !== 0) {
    if (owner && owner.uid !== own)
      throw new Trouble(
        `The database in ${cluster} belongs to another user of this machine (number ${owner.uid}).`,
        "Start Tackfree as the user who started it first (or as root), or name another folder with DATA_DIR.",
      );
    return {};
  }
  if (owner && owner.uid !== 0) return { uid: owner.uid, gid: owner.gid };
  if (idOf("-u") === undefined) spawnSync("useradd", ["--system", "--no-create-home", "--user-group", userName]);
  const uid = idOf("-u");
  const gid = idOf("-g");
  if (uid === undefined || gid === undefined)
    throw new Trouble(
      "PostgreSQL refuses to run as root, and no user could be made for it.",
      `Start Tackfree as an ordinary user, or make a user called ${userName}, or give a DATABASE_URL.`,
    );
  return { uid, gid };
}

/**
 * Whether that user can write in a folder, all the folders above it included.
 * @param {string} folder
 * @param {{ uid?: number, gid?: number }} user
 */
export function canWrite(folder, user) {
  return user.uid === undefined || spawnSync("sh", ["-c", 'test -w "$0"', folder], { ...user, cwd: "/" }).status === 0;
}
