import path from "node:path";
import { PassingFault } from "~/data/faults";

/** An error as it may be written down. */
export type DescribedError = {
  name: string;
  code?: string;
  message?: string;
  frames: string[];
  cause?: DescribedError;
};

const mostFrames = 8;
const mostCauses = 4;
const mostCharacters = 300;
const word = /^[\w.-]{1,40}$/;

/**
 * What went wrong and where, without what it went wrong with: the language and packages put into their messages what they
 * were given (a key, a row with a name in it, a text that is no JSON), so a message is kept only of an error of a plain
 * kind that was made in a line of this program.
 */
export function describedError(error: unknown, depth = 0): DescribedError {
  if (!(error instanceof Error)) return { name: typeof error, frames: [] };
  const lines = (error.stack ?? "").split("\n").filter((line) => /^\s+at /.test(line));
  const { code, cause } = error as { code?: unknown; cause?: unknown };
  const isPlain = error.constructor === Error || error instanceof PassingFault;
  const isOurs = isPlain && isOwnFrame(lines[0] ?? "");
  return {
    name: word.test(error.name) ? error.name : "Error",
    ...(typeof code === "string" && word.test(code) ? { code } : {}),
    ...(isOurs ? { message: error.message.slice(0, mostCharacters) } : {}),
    frames: lines.slice(0, mostFrames).map(frameIn),
    ...(cause !== undefined && depth < mostCauses ? { cause: describedError(cause, depth + 1) } : {}),
  };
}

const isOwnFrame = (line: string): boolean =>
  !line.includes("node_modules") && !line.includes("node:") && !line.includes("<anonymous>") && /:\d+\)?$/.test(line);

/** Where this copy of the program lies is nobody's business. */
const frameIn = (line: string): string =>
  line
    .trim()
    .replace(/^at /, "")
    .replaceAll(`file://${process.cwd()}${path.sep}`, "")
    .replaceAll(`${process.cwd()}${path.sep}`, "");
