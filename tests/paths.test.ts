/** What the documents point at is there: a path between backticks, or the target of a link. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";

const root = path.resolve(import.meta.dirname, "..");
const topLevel = new Set(readdirSync(root));
const inFolder = (folder: string): string[] =>
  readdirSync(path.join(root, folder), { recursive: true, encoding: "utf8" }).map((file) => path.join(folder, file));
const documents = ["README.md", "DEVELOPERS.md", ...(topLevel.has("docs") ? inFolder("docs") : [])]
  .filter((file) => file.endsWith(".md") && existsSync(path.join(root, file)))
  .sort();

/** Paths that begin in a folder of this repository; `./data` and `/trust` are made or served, not kept here. */
function pathsIn(text: string): string[] {
  const prose = text.replace(/^```[\s\S]*?^```/gm, "");
  const spans = [...prose.matchAll(/`([^`\n]+)`/g)].flatMap(([, span = ""]) => span.split(/\s+/));
  return spans
    .map((word) => word.replace(/[,;:.]+$/, ""))
    .filter((word) => /^[\w.@-]+\/[\w./@()[\]-]+$/.test(word) && topLevel.has(word.split("/")[0] as string));
}

const linksIn = (text: string): string[] =>
  [...text.matchAll(/\]\(([^)\s#]+)[^)]*\)/g)]
    .map(([, target = ""]) => target)
    .filter((target) => !/^[a-z]+:/.test(target));

const isThere = (named: string): boolean => existsSync(path.join(root, named));

test.each(documents)("every path that %s names is there", (document) => {
  const text = readFileSync(path.join(root, document), "utf8");
  const linked = linksIn(text).map((target) => path.join(path.dirname(document), target));
  expect([...pathsIn(text), ...linked].filter((named) => !isThere(named))).toEqual([]);
});

test("a path that has moved is noticed, a command or an address is not taken for one", () => {
  const text = [
    "See `src/core/shop/judge.ts`, `tests/paths.test.ts` and `src/core/gone.ts`; run `npx x --config tests/gone.config.ts`.",
    "It listens on `/sync`, keeps `./data`, and asks `application/json`. [Why](docs/gone.md) [out](https://example.org)",
    "```\nsrc/core/in-a-listing.ts `src/core/unread.ts`\n```",
  ].join("\n");
  expect(pathsIn(text)).toEqual([
    "src/core/shop/judge.ts",
    "tests/paths.test.ts",
    "src/core/gone.ts",
    "tests/gone.config.ts",
  ]);
  expect(linksIn(text)).toEqual(["docs/gone.md"]);
  expect(pathsIn(text).filter((named) => !isThere(named))).toEqual(["src/core/gone.ts", "tests/gone.config.ts"]);
});
