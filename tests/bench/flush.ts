import { closeSync, fdatasyncSync, openSync, rmSync, writeSync } from "node:fs";
import path from "node:path";

const rounds = 200;
/** What PostgreSQL writes at a time. */
const pageBytes = 8192;

/** How long one flush of the disk takes, where the database lies: nothing that is kept for good can be faster. */
export function measureFlush(folder: string): number[] {
  const file = path.join(folder, "flush-probe");
  const opened = openSync(file, "w");
  const timesMs: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    writeSync(opened, Buffer.alloc(pageBytes, round));
    const startedAt = performance.now();
    fdatasyncSync(opened);
    timesMs.push(performance.now() - startedAt);
  }
  closeSync(opened);
  rmSync(file);
  return timesMs;
}
