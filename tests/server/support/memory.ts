import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

setFlagsFromString("--expose-gc");
const collect = runInNewContext("gc") as () => void;

/** What this process holds once everything that nobody needs has been thrown away, in bytes. */
export async function heldBytes(): Promise<number> {
  for (let round = 0; round < 3; round += 1) {
    await new Promise((resolve) => setImmediate(resolve));
    collect();
  }
  const { heapUsed, external } = process.memoryUsage();
  return heapUsed + external;
}
