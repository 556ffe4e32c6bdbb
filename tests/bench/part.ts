/** Measures one part, named as the only argument. */
import { chmodSync, mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { parts } from "./parts";
import { printRows } from "./rows";

const part = parts[process.argv[2] ?? ""];
if (!part) throw new Error(`no part ${process.argv[2]}`);
const scratch = mkdtempSync(path.join(os.tmpdir(), "tackfree-bench-"));
chmodSync(scratch, 0o755); // as root, PostgreSQL runs as another user, who must get through
try {
  printRows(part.title, await part.measure(scratch));
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
