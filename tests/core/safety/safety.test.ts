import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { cautionsFor } from "~/core/safety/cautions";
import { type LeadState, leadState, methodLock, mustDiscloseLead } from "~/core/safety/lead";
import { oilOf, ragsDueAt } from "~/core/safety/rags";
import { methods } from "~/core/shop/entities/pieces";
import { families } from "~/core/shop/entities/products";
import type { HandTest } from "~/core/shop/tables";
import { at, handTest } from "../cure/week";

const now = at("10-28 12:00 EDT");
const chest = { isPainted: "yes" } as const;
const layer = (
  name: string,
  kind: "lead-swab" | "lead-laboratory",
  result: HandTest["result"],
  more: Partial<HandTest> = {},
) => handTest({ subject: { of: "paint-layer", layer: name }, kind, result, at: at("10-27 19:40 EDT"), ...more });

describe("what is known about lead in old paint", () => {
  const swabbed = [layer("top", "lead-swab", "pass"), layer("second", "lead-swab", "pass")];
  const sent = [layer("Top", "lead-laboratory", "pass"), layer("second ", "lead-laboratory", "pass")];
  test.each([
    { said: "age unknown, no test", piece: chest, tests: [], state: "unknown" },
    { said: "made 1977", piece: { ...chest, madeYear: 1977 }, tests: [], state: "unknown" },
    { said: "made 1978", piece: { ...chest, madeYear: 1978 }, tests: [], state: "later-than-ban" },
    { said: "never painted", piece: { isPainted: "no" as const }, tests: [], state: "not-painted" },
    { said: "painted or not is unknown", piece: { isPainted: "unknown" as const }, tests: [], state: "unknown" },
    { said: "swabs on both layers", piece: chest, tests: swabbed, state: "screened-negative" },
    { said: "a laboratory on both layers", piece: chest, tests: [...swabbed, ...sent], state: "negative" },
    {
      said: "a laboratory on one layer only",
      piece: chest,
      tests: [...swabbed, sent[0] as HandTest],
      state: "screened-negative",
    },
    {
      said: "one layer's result pending",
      piece: chest,
      tests: [swabbed[0] as HandTest, layer("second", "lead-swab", "pending")],
      state: "unknown",
    },
    {
      said: "the second layer positive",
      piece: chest,
      tests: [...swabbed, ...sent, layer("second", "lead-swab", "fail")],
      state: "positive",
    },
    {
      said: "a positive on a late piece",
      piece: { ...chest, madeYear: 1990 },
      tests: [layer("top", "lead-swab", "fail")],
      state: "positive",
    },
    {
      said: "a positive taken back at once",
      piece: chest,
      tests: [layer("top", "lead-swab", "fail", { takenBackAt: at("10-27 19:45 EDT") })],
      state: "unknown",
    },
    {
      said: "treated as lead",
      piece: { ...chest, treatAsLead: { by: "", at: now - 1, why: "dry sanded" } },
      tests: sent,
      state: "treated-as-lead",
    },
  ])("$said: $state", ({ piece, tests, state }) => {
    expect(leadState(piece, tests, 1978, now)).toBe(state);
  });

  test("a test that is still to come says nothing yet", () => {
    expect(leadState(chest, [layer("top", "lead-swab", "fail")], 1978, at("10-27 11:15 EDT"))).toBe("unknown");
  });
});

describe("what old paint locks", () => {
  test.each([
    { state: "unknown", dry: "locked", wet: "locked" },
    { state: "screened-negative", dry: "locked", wet: "free" },
    { state: "positive", dry: "locked", wet: "contained" },
    { state: "treated-as-lead", dry: "locked", wet: "contained" },
    { state: "negative", dry: "free", wet: "free" },
    { state: "later-than-ban", dry: "free", wet: "free" },
    { state: "not-painted", dry: "free", wet: "free" },
  ] as const)("$state: sanding dry and heat $dry, wet $wet", ({ state, dry, wet }) => {
    expect([methodLock(state, "dry-sand"), methodLock(state, "heat")]).toEqual([dry, dry]);
    expect([methodLock(state, "strip"), methodLock(state, "wet-sand")]).toEqual([wet, wet]);
    expect(mustDiscloseLead(state)).toBe(dry === "locked");
  });
});

describe("oily rags", () => {
  const ended = at("10-27 16:00 EDT");
  test("of an unlabelled can are due half an hour after the coat, or when the last person leaves before that", () => {
    expect(ragsDueAt({ isOilBearing: "unknown" }, ended, at("10-27 17:30 EDT"))).toBe(at("10-27 16:30 EDT"));
    expect(ragsDueAt({ isOilBearing: "yes" }, ended, at("10-27 16:10 EDT"))).toBe(at("10-27 16:10 EDT"));
    expect(ragsDueAt({ isOilBearing: "yes" }, at("10-26 10:00 EDT"))).toBe(at("10-26 10:30 EDT"));
  });
  test("of a water-borne paint count as oily when its can had no label", () => {
    const paint = { isOilBearing: "no" } as const;
    expect(ragsDueAt(oilOf(paint, [{ isLabelled: true }]), ended)).toBeUndefined();
    expect(ragsDueAt(oilOf(paint, [{ isLabelled: true }, { isLabelled: false }]), ended)).toBe(at("10-27 16:30 EDT"));
  });
  test("are not made by a product that holds no oil", () => {
    expect(ragsDueAt({ isOilBearing: "no" }, ended)).toBeUndefined();
  });
});

describe("cautions", () => {
  const states: LeadState[] = ["unknown", "positive", "treated-as-lead", "screened-negative", "not-painted"];
  test("put lead first wherever old paint is worked, and name each thing once", () => {
    fc.assert(
      fc.property(
        fc.subarray([...methods]),
        fc.subarray([...families]),
        fc.constantFrom(...states),
        (chosen, laid, state) => {
          const found = cautionsFor({ methods: chosen, families: laid, leadState: state }).map(({ id }) => id);
          expect(new Set(found).size).toBe(found.length);
          const isWorked = state !== "not-painted" && chosen.some((method) => method !== "glue" && method !== "mask");
          expect(found[0] === "lead-dust").toBe(isWorked);
        },
      ),
    );
  });
  test("never stand alone: every one defers to a data sheet, a local code or a licensed practice", () => {
    const every = cautionsFor({ methods: [...methods], families: [...families], leadState: "positive" });
    expect(every).toHaveLength(14);
    for (const caution of every) expect(caution.defersTo.length).toBeGreaterThan(0);
  });
  test("warn of rags with every family whose rags may heat", () => {
    expect(cautionsFor({ methods: [], families: ["oil-wax"], leadState: "not-painted" }).map(({ id }) => id)).toEqual([
      "oily-rags",
    ]);
  });
});
