/**
 * Which way imports point: the table is the rule, so the document and the check are the same thing. A failure names the
 * rule, not just the file.
 */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, test } from "vitest";

const root = path.resolve(import.meta.dirname, "..");

/** What a folder may import from other folders; `types` only by `import type`, which leaves no code behind. */
const mayImport: Record<string, { code: string[]; types?: string[] }> = {
  "src/core": { code: [] },
  "src/data": { code: ["src/core"] },
  "src/api": { code: ["src/core", "src/data"] },
  // the phone's queue, clock and sync client: no server code in the browser
  "src/device": { code: ["src/core"], types: ["src/api"] },
  "src/ui": { code: ["src/core", "src/device"], types: ["src/api"] },
  "src/app": { code: ["src/core", "src/ui", "src/device"] },
  // a route of the framework that only hands the sign-in handler over
  "src/app/api": { code: ["src/api"] },
  server: { code: ["src/core", "src/data", "src/api"] },
  // an empty database may be filled with the invented shop when it is asked for; nothing else of the server knows the seed
  "server/first-start.ts": { code: ["server", "src/core", "src/data", "seed"] },
  seed: { code: ["src/core", "src/data"] },
};
const layers = Object.keys(mayImport).sort((one, other) => other.length - one.length);

/** The rules of the shop parse with one package; only the calendar knows what a time zone does. */
const corePackages = ["zod/mini"];
const calendarPackages = ["zod/mini", "temporal-polyfill"];

/** Clock, chance and the world outside: what they say is an argument in `src/core`. */
const impure: [word: string, pattern: RegExp][] = [
  ["Date.now", /\bDate\s*\.\s*now\b/],
  ["new Date", /\bnew\s+Date\b/],
  ["Temporal.Now", /\bTemporal\s*\.\s*Now\b/],
  ["performance.now", /\bperformance\s*\.\s*now\b/],
  ["Math.random", /\bMath\s*\.\s*random\b/],
  ["crypto", /\bcrypto\s*\./],
  ["process.", /\bprocess\s*\./],
  ["fetch(", /\bfetch\s*\(/],
  ["console.", /\bconsole\s*\./],
  ["setTimeout", /\bsetTimeout\b/],
  ["setInterval", /\bsetInterval\b/],
];

/** A file without its comments; a string that looks like one stays. */
const withoutComments = (text: string): string =>
  text.replace(
    /("(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|`(?:\\[\s\S]|[^`\\])*`)|\/\/[^\n]*|\/\*[\s\S]*?\*\//g,
    (_found, string?: string) => string ?? " ",
  );

const layerOf = (file: string): string | undefined =>
  layers.find((layer) => file === layer || file.startsWith(`${layer}/`));

type Import = { from: string; isType: boolean };

function importsOf(code: string): Import[] {
  const statements = code.matchAll(/\b(import|export)\s+(type\s+)?(?:[\w*{}\s,$]+?\s*\bfrom\s*)?["']([^"'\n]+)["']/g);
  const calls = code.matchAll(/\bimport\s*\(\s*["'`]([^"'`\n]+)["'`]/g);
  return [
    ...[...statements].map(([, , type, from]) => ({ from: from as string, isType: type !== undefined })),
    ...[...calls].map(([, from]) => ({ from: from as string, isType: false })),
  ];
}

/** The path in the repository that an import names, or nothing for a package. */
function ownPath(file: string, from: string): string | undefined {
  if (from.startsWith("~/")) return path.posix.join("src", from.slice(2));
  return from.startsWith(".") ? path.posix.join(path.posix.dirname(file), from) : undefined;
}

/** What a file does against the rules, in words. */
function breachesOf(file: string, text: string): string[] {
  const code = withoutComments(text);
  const layer = layerOf(file);
  if (!layer) return [`${file} lies in no folder of the table`];
  const isCore = layer === "src/core";
  const packages = file.startsWith("src/core/calendar") ? calendarPackages : corePackages;
  const breaches = importsOf(code).flatMap(({ from, isType }) => {
    const own = ownPath(file, from);
    if (own === undefined) {
      return isCore && !packages.includes(from) ? [`${file}: src/core takes no package ${from}`] : [];
    }
    const target = layerOf(own) ?? own;
    const rule = mayImport[layer] as (typeof mayImport)[string];
    if (target === layer || rule.code.includes(target)) return [];
    if (!rule.types?.includes(target)) return [`${file}: ${layer} may not import ${target}`];
    return isType ? [] : [`${file}: ${layer} imports only types of ${target}`];
  });
  const impurities = isCore
    ? impure.filter(([, pattern]) => pattern.test(code)).map(([word]) => `${file}: src/core has no ${word}`)
    : [];
  return [...breaches, ...impurities];
}

const files = ["src", "server", "seed"]
  .filter((folder) => existsSync(path.join(root, folder)))
  .flatMap((folder) =>
    readdirSync(path.join(root, folder), { recursive: true, encoding: "utf8" }).map((file) =>
      path.posix.join(folder, file),
    ),
  )
  .filter((file) => /\.(ts|tsx|mjs)$/.test(file) && !file.startsWith("src/data/generated/"))
  .sort();

test.each(layers.filter((layer) => files.some((file) => layerOf(file) === layer)))(
  "%s imports nothing but what lies below it",
  (layer) => {
    const ours = files.filter((file) => layerOf(file) === layer);
    expect(ours.flatMap((file) => breachesOf(file, readFileSync(path.join(root, file), "utf8")))).toEqual([]);
  },
);

test("every source file lies in a folder of the table", () => {
  expect(files.length).toBeGreaterThan(100);
  expect(files.filter((file) => layerOf(file) === undefined)).toEqual([]);
});

describe("a seeded breach is caught:", () => {
  test.each([
    ["src/core/a.ts", 'import { db } from "~/data/db";', "src/core may not import src/data"],
    ["src/core/shop/a.ts", 'import { db } from "../../data/db";', "src/core may not import src/data"],
    ["src/core/a.ts", 'export * from "~/device/store";', "src/core may not import src/device"],
    ["src/core/a.ts", 'const late = await import("~/ui/format");', "src/core may not import src/ui"],
    ["src/core/a.ts", 'import "../ui/side-effect";', "src/core may not import src/ui"],
    ["src/core/a.ts", 'import { z } from "zod";', "src/core takes no package zod"],
    ["src/core/a.ts", 'import { readFileSync } from "node:fs";', "src/core takes no package node:fs"],
    ["src/core/a.ts", 'import { Temporal } from "temporal-polyfill";', "src/core takes no package temporal-polyfill"],
    ["src/data/a.ts", 'import { room } from "../../server/rooms";', "src/data may not import server"],
    ["src/api/a.ts", 'import { store } from "~/device/store";', "src/api may not import src/device"],
    ["src/api/a.ts", 'import type { Hub } from "../../server/hub";', "src/api may not import server"],
    ["src/device/a.ts", 'import { appRouter } from "~/api/root";', "src/device imports only types of src/api"],
    ["src/device/a.ts", 'import { act } from "~/ui/shell/act";', "src/device may not import src/ui"],
    [
      "src/ui/a.tsx",
      'import {\n  type Router,\n  appRouter,\n} from "~/api/root";',
      "src/ui imports only types of src/api",
    ],
    ["src/ui/a.tsx", 'import { db } from "~/data/db";', "src/ui may not import src/data"],
    ["src/app/page.tsx", 'import type { Router } from "~/api/root";', "src/app may not import src/api"],
    ["src/app/api/a/route.ts", 'import { db } from "~/data/db";', "src/app/api may not import src/data"],
    ["server/a.ts", 'import { wording } from "~/ui/wording";', "server may not import src/ui"],
    ["server/main.ts", 'import { seedDemo } from "../seed/demo";', "server may not import seed"],
    ["server/first-start.ts", 'import { act } from "~/ui/shell/act";', "server/first-start.ts may not import src/ui"],
    ["seed/a.ts", 'import { hub } from "../server/hub";', "seed may not import server"],
    ["src/elsewhere/a.ts", "", "lies in no folder of the table"],
  ])("%s with %s", (file, text, rule) => {
    const found = breachesOf(file, text);
    expect(found).toHaveLength(1);
    expect(found[0]?.endsWith(rule)).toBe(true);
  });

  test.each([
    ["Date.now", "const at = Date.now();"],
    ["new Date", "const at = new Date(0);"],
    ["Temporal.Now", "const at = Temporal.Now.instant();"],
    ["performance.now", "const at = performance.now();"],
    ["Math.random", "const chance = Math.random();"],
    ["crypto", "const id = crypto.randomUUID();"],
    ["process.", "const zone = process.env.TZ;"],
    ["fetch(", 'const page = await fetch("/");'],
    ["console.", "console.log(1);"],
    ["setTimeout", "setTimeout(() => 1, 2);"],
    ["setInterval", "const tick = setInterval;"],
  ])("src/core with %s", (word, text) => {
    expect(breachesOf("src/core/a.ts", text)).toEqual([`src/core/a.ts: src/core has no ${word}`]);
    expect(breachesOf("src/device/a.ts", text)).toEqual([]);
  });

  test("and what is allowed, commented out or only said in words passes", () => {
    const core = [
      'import * as z from "zod/mini";',
      'import { text } from "../text";',
      'import type { Coat } from "~/core/shop/tables";',
      "// import { db } from '~/data/db'; Date.now() is the caller's",
      "/* new Date() and\n Math.random() stay outside */",
      'const address = "https://example.org"; // process.env is not read',
      "const finish = process; // a finishing process",
    ].join("\n");
    expect(breachesOf("src/core/shop/a.ts", core)).toEqual([]);
    const calendar = 'import { Temporal } from "temporal-polyfill";';
    expect(breachesOf("src/core/calendar.ts", calendar)).toEqual([]);
    expect(breachesOf("src/device/a.ts", 'import type { Router } from "~/api/root";')).toEqual([]);
    expect(breachesOf("src/app/api/a/route.ts", 'export { GET } from "~/api/auth";')).toEqual([]);
    expect(breachesOf("server/a.ts", 'import { appRouter } from "~/api/root";\nimport { hub } from "./hub";')).toEqual(
      [],
    );
  });
});
