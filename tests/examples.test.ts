/** Runs every `@example expression // value` of the core: a number must agree to the decimals that are shown. */
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";

const root = path.resolve(import.meta.dirname, "..");

type Example = { file: string; expression: string; shown: string };

const examples: Example[] = readdirSync(path.join(root, "src/core"), { recursive: true, encoding: "utf8" })
  .filter((file) => file.endsWith(".ts"))
  .map((file) => path.posix.join("src/core", file))
  .sort()
  .flatMap((file) =>
    [...readFileSync(path.join(root, file), "utf8").matchAll(/@example[ \t]+(.*)/g)].map(([, line = ""]) => {
      const cut = line.lastIndexOf(" // ");
      return {
        file,
        expression: line.slice(0, cut === -1 ? undefined : cut).trim(),
        shown: cut === -1 ? "" : line.slice(cut + 4).trim(),
      };
    }),
  );

/** The value of an expression in which every export of its own file has its name. */
const evaluated = (expression: string, names: Record<string, unknown> = {}): unknown =>
  new Function(...Object.keys(names), `"use strict"; return (${expression});`)(...Object.values(names));

const decimalsOf = (shown: string): number => shown.split(".")[1]?.length ?? 0;

test("the core shows how it is used, each time with the value that comes out", () => {
  expect(examples.length).toBeGreaterThan(10);
  expect(examples.filter((example) => example.shown === "")).toEqual([]);
});

test.each(examples.filter((example) => example.shown !== ""))(
  "$expression is $shown, as $file says",
  async (example) => {
    const names = (await import(path.join(root, example.file))) as Record<string, unknown>;
    const found = evaluated(example.expression, names);
    const isNumber = /^-?\d+(\.\d+)?$/.test(example.shown);
    if (isNumber && decimalsOf(example.shown) > 0) {
      expect(found).toBeCloseTo(Number(example.shown), decimalsOf(example.shown));
    } else {
      expect(found).toEqual(evaluated(example.shown));
    }
  },
);
