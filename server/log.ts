/**
 * The log: a line of JSON for each event, on stdout; while developing, a line that people read. It has no personal data:
 * ids of things are opaque, everything else is a word of the program or a number, and what is neither is left out.
 */
import { randomUUID } from "node:crypto";
import pino from "pino";
import { referenceOf } from "~/api/error-reference";
import { type DescribedError, describedError } from "./described-error";

export const logLevels = ["debug", "info", "warn", "error", "silent"] as const;
export type LogLevel = (typeof logLevels)[number];

/** What a line may say beside its event. */
export type LogFields = {
  /** The intent that it is about: its id goes along from the device to the neighbours. */
  intentId?: string;
  intentIds?: readonly string[];
  shopId?: string;
  documentId?: string;
  kind?: string;
  verdict?: string;
  refusal?: string;
  fromSeq?: number;
  seq?: number;
  tookMs?: number;
  waitedMs?: number;
  count?: number;
  signal?: string;
  via?: "hint" | "look";
  /** Of a site, as a browser names it. */
  origin?: string;
  /** Of the fault that it was because of. */
  reference?: string;
};

export type Log = {
  /** Of the process: neighbours tell each other by it who speaks. */
  readonly node: string;
  debug: (event: string, fields?: LogFields) => void;
  info: (event: string, fields?: LogFields) => void;
  warn: (event: string, fields?: LogFields) => void;
  /** Something broke. @returns the reference by which the line is found */
  fault: (error: unknown, fields?: LogFields) => string;
};

export type Sink = { write: (line: string) => unknown };

/** A word, a code or an id of the program: nothing that a person would have written. */
const word = /^(https?:\/\/)?[\w.:[\]-]{1,64}$/;
const mostIds = 500;
const mostWaitingBytes = 16 << 20;
/** So much is written at once, or what there is after so many milliseconds. */
const together = { minLength: 8192, periodicFlush: 200 };
const microsecondsPerMs = 1_000;

function cleaned(fields: LogFields): Record<string, unknown> {
  const kept = Object.entries(fields).map(([name, value]): [string, unknown] => {
    if (typeof value === "string") return [name, word.test(value) ? value : undefined];
    if (typeof value === "number") return [name, Math.round(value * microsecondsPerMs) / microsecondsPerMs];
    const ids = Array.isArray(value) ? (value as readonly string[]) : [];
    return [name, ids.length === 0 ? undefined : ids.slice(0, mostIds).filter((id) => word.test(id))];
  });
  return Object.fromEntries(kept.filter(([, value]) => value !== undefined));
}

export type LogSettings = {
  level: LogLevel;
  isReadable?: boolean;
  sink?: Sink;
  /** Told of every fault. */
  counted?: () => void;
};

export function openLog({ level, isReadable = false, sink, counted = () => undefined }: LogSettings): Log {
  const node = randomUUID();
  // Without waiting for whoever reads: a slow terminal must not hold up the rooms, nor a stuck one fill the memory. What
  // waits is written when the process ends.
  // Lines wait for each other a moment: a writing for each of the four of an intent takes as long as asking the database.
  const own = sink ? undefined : pino.destination({ dest: 1, sync: false, maxLength: mostWaitingBytes, ...together });
  const out = (sink ?? own) as Sink;
  const to = isReadable ? { write: (line: string) => out.write(readable(line)) } : out;
  const lines = pino(
    {
      level,
      base: { node },
      messageKey: "event",
      timestamp: () => `,"at":"${new Date().toISOString()}"`,
      formatters: { level: (label) => ({ level: label }) },
    },
    to as pino.DestinationStream,
  );
  const at =
    (one: "debug" | "info" | "warn") =>
    (event: string, fields: LogFields = {}) =>
      lines[one](cleaned(fields), event);
  return {
    node,
    debug: at("debug"),
    info: at("info"),
    warn: at("warn"),
    fault: (error, fields = {}) => {
      const reference = referenceOf(error);
      counted();
      lines.error({ ...cleaned(fields), reference, error: describedError(error) }, "fault");
      own?.flush(); // it may be the last that is heard of this process
      return reference;
    },
  };
}

/** For parts that are tried by themselves. */
export const noLog = (): Log => openLog({ level: "silent", sink: { write: () => undefined } });

type Line = { level: string; at: string; event: string; node: string; error?: DescribedError } & LogFields;

function readable(line: string): string {
  const { level, at, event, node: _node, error, ...fields } = JSON.parse(line) as Line;
  const said = Object.entries(fields).map(
    ([name, value]) => `${name}=${Array.isArray(value) ? value.join(",") : value}`,
  );
  const first = [at.slice(11, 23), level.padEnd(5), event, ...said].join(" ");
  return `${first}\n${error ? `${wordsOf(error, "  ")}\n` : ""}`;
}

const wordsOf = ({ name, code, message, frames, cause }: DescribedError, indent: string): string =>
  [
    `${indent}${[name, code, message].filter((part) => part !== undefined).join(" ")}`,
    ...frames.map((frame) => `${indent}  at ${frame}`),
    ...(cause ? [`${indent}because of`, wordsOf(cause, `${indent}  `)] : []),
  ].join("\n");
