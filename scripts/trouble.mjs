import { mkdirSync, rmSync, statfsSync, writeFileSync } from "node:fs";
import net from "node:net";
import path from "node:path";

/** Something the person at the keyboard can put right: what is wrong, and what to do about it. */
export class Trouble extends Error {
  /**
   * @param {string} what what was found, in a sentence
   * @param {string} remedy what to do next, in a sentence
   */
  constructor(what, remedy) {
    super(what);
    this.remedy = remedy;
  }
}

/**
 * Prints what went wrong and ends the program. A Trouble gets its two sentences, anything else is a bug and keeps its stack.
 * @param {unknown} error
 * @returns {never}
 */
export function giveUp(error) {
  if (error instanceof Trouble) console.error(`\n${error.message}\n${error.remedy}\n`);
  else console.error(error);
  process.exit(1);
}

/**
 * @param {number} port
 * @param {string} host the address to listen on
 * @param {string} command the command line that was given, to be repeated with another port
 */
export async function checkPortFree(port, host, command) {
  const code = await new Promise((resolve) => {
    const probe = net.createServer();
    probe.once("error", (/** @type {NodeJS.ErrnoException} */ error) => resolve(error.code));
    probe.listen(port, host, () => probe.close(() => resolve(undefined)));
  });
  if (code === undefined) return;
  if (code === "EADDRINUSE")
    throw new Trouble(
      `Port ${port} is taken: another program, perhaps an earlier Tackfree, listens on it.`,
      `End that program, or use another port: PORT=${port + 1} ${command}`,
    );
  if (code === "EACCES")
    throw new Trouble(`This user may not listen on port ${port}.`, `Use a port above 1023: PORT=3000 ${command}`);
  throw new Trouble(`Tackfree cannot listen on ${host}, port ${port} (${code}).`, "Check LISTEN_HOST and PORT.");
}

const neededBytes = 1_000_000_000; // about 700 MB of packages and 150 MB of built pages, measured on Linux x64

/** @param {string} folder where packages and built pages go */
export function checkDiskSpace(folder) {
  const disk = statfsSync(folder);
  const freeBytes = disk.bavail * disk.bsize;
  if (freeBytes > neededBytes) return;
  throw new Trouble(
    `Only ${Math.floor(freeBytes / 1e6)} MB are free on the disk of ${folder}; installing and building need 1000 MB.`,
    "Free some space, or move this folder to another disk, and start again.",
  );
}

/** @param {string} folder made where it is missing */
export function checkWritable(folder) {
  const probe = path.join(folder, `.write-check-${process.pid}`);
  try {
    mkdirSync(folder, { recursive: true });
    writeFileSync(probe, "");
    rmSync(probe);
  } catch (error) {
    const { code } = /** @type {NodeJS.ErrnoException} */ (error);
    throw new Trouble(
      `Tackfree cannot write to its data folder ${folder} (${code}).`,
      "Give this user the right to write there, or name another folder: DATA_DIR=/path/to/a/folder npm start",
    );
  }
}
