/** The log helps whoever looks after the server, and tells nobody anything about the people who work there. */
import { TRPCError } from "@trpc/server";
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { referenceOf } from "~/api/error-reference";
import { describedError } from "../../server/described-error";
import { type LogFields, openLog } from "../../server/log";

function opened(isReadable = false) {
  const lines: string[] = [];
  const log = openLog({ level: "info", isReadable, sink: { write: (line) => lines.push(line) } });
  return { log, lines, parsed: () => lines.map((line) => JSON.parse(line) as Record<string, unknown>) };
}

describe("a line of the log", () => {
  test("is one line of JSON with its level, moment, server and event", () => {
    const { log, lines, parsed } = opened();
    log.info("told", { shopId: "0190a1b2-0000-7000-8000-000000000001", tookMs: 1.23456, count: 3 });
    log.debug("too fine");
    expect(lines).toHaveLength(1);
    expect(lines[0]?.endsWith("}\n")).toBe(true);
    const [line] = parsed();
    expect(line).toMatchObject({ level: "info", event: "told", node: log.node, count: 3, tookMs: 1.235 });
    expect(Date.parse(line?.at as string)).not.toBeNaN();
  });

  test("while developing is one that people read", () => {
    const { log, lines } = opened(true);
    log.warn("origin-refused", { origin: "http://mill.example:3000" });
    expect(lines[0]).toMatch(/^\d\d:\d\d:\d\d\.\d{3} warn {2}origin-refused origin=http:\/\/mill\.example:3000\n$/);
  });

  test("says nothing that has a blank, an address of mail or anything else that people write", () => {
    const { log, lines, parsed } = opened();
    const written = fc.string({ minLength: 1 }).filter((text) => !/^(https?:\/\/)?[\w.:[\]-]{1,64}$/.test(text));
    fc.assert(
      fc.property(written, (text) => {
        lines.length = 0;
        const fields: Record<keyof LogFields, unknown> = {} as Record<keyof LogFields, unknown>;
        for (const name of ["kind", "verdict", "refusal", "shopId", "intentId", "reference", "origin"] as const)
          fields[name] = text;
        fields.intentIds = [text];
        log.info("told", fields as LogFields);
        expect(Object.keys(parsed()[0] ?? {}).sort()).toEqual(["at", "event", "intentIds", "level", "node"]);
        expect(parsed()[0]?.intentIds).toEqual([]);
      }),
    );
  });
});

/** As a package of ours does it: with what it was given in the message. */
function thrownBy(work: () => unknown): Error {
  try {
    work();
  } catch (error) {
    return error as Error;
  }
  throw new Error("nothing was thrown");
}

describe("an error in the log", () => {
  test("is told with its place, and with its words only where they are this program's own", () => {
    const own = describedError(new Error("no shop 0190a1b2"));
    expect(own).toMatchObject({ name: "Error", message: "no shop 0190a1b2" });
    expect(own.frames[0]).toContain("tests/server/log.test.ts");
    expect(own.frames.join()).not.toContain(process.cwd());
  });

  test.each([
    ["a text that is no JSON", () => JSON.parse("Tilda Marsh, tilda@mill.example")],
    ["a number that is none", () => BigInt("Tilda")],
    ["a key of a thing that is not there", () => (undefined as unknown as Record<string, string>).Tilda],
    ["a package's own check", () => new TRPCError({ code: "BAD_REQUEST", cause: thrownBy(() => JSON.parse("Tilda")) })],
  ])("keeps the name out that is in %s", (_, work) => {
    let error: unknown;
    try {
      error = work();
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(Error);
    expect(JSON.stringify(describedError(error))).not.toContain("Tilda");
  });

  test("of the database keeps its code and loses the row that it names", () => {
    const broken = Object.assign(new Error('Key ("signInName")=(tilda) already exists.'), {
      code: "23505",
      detail: 'Key ("signInName")=(tilda) already exists.',
    });
    broken.stack = "error: Key\n    at Parser.parseErrorMessage (/srv/node_modules/pg-protocol/dist/parser.js:285:98)";
    const wrapped = new Error("the ledger could not be written", { cause: broken });
    const found = describedError(wrapped);
    expect(found.cause).toMatchObject({ code: "23505" });
    expect(JSON.stringify(found)).not.toContain("tilda");
  });

  test("has the reference that the person was shown, and no other error has it", () => {
    const { log, parsed } = opened();
    const [one, other] = [new Error("a bug"), new Error("a bug")];
    const reference = log.fault(one, { intentId: "0190a1b2-0000-7000-8000-000000000001" });
    expect(reference).toMatch(/^[0-9A-HJKMNP-TV-Z]{8}$/);
    expect(referenceOf(one)).toBe(reference);
    expect(referenceOf(other)).not.toBe(reference);
    expect(parsed()[0]).toMatchObject({ level: "error", event: "fault", reference });
  });
});
