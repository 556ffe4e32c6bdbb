import { describe, expect, test } from "vitest";
import { genericSheet } from "~/core/coating/generic-sheets";
import { sheetInOrder } from "~/core/coating/sheet-order";
import { families } from "~/core/shop/entities/products";
import { pairRule } from "~/core/tables/over-under";
import { w1 } from "../cure/week";

const withFilm = families.filter((family) => genericSheet(family) !== undefined);

test("every generic sheet has its times in the order in which films dry", () => {
  expect(withFilm).toHaveLength(families.length - 2);
  for (const family of withFilm)
    expect([family, sheetInOrder(genericSheet(family) as never).ok]).toEqual([family, true]);
});

// source: common practice, the long end of the run of data sheets at 23 °C
test.each([
  { family: "water-borne-paint", recoat: 4, handle: 48, stack: 168, cureDays: 30 },
  { family: "water-borne-clear", recoat: 3, handle: 48, stack: 168, cureDays: 21 },
  { family: "oil-varnish", recoat: 24, handle: 72, stack: 336, cureDays: 30 },
  { family: "shellac", recoat: 2, handle: 24, stack: 72, cureDays: 7 },
] as const)("a shop without a sheet starts $family at $recoat h to recoat and $cureDays days to full cure", (row) => {
  const sheet = genericSheet(row.family);
  expect([sheet?.recoatOpens?.min, sheet?.handle?.min, sheet?.fullCure?.min]).toEqual([
    row.recoat * 60,
    row.handle * 60,
    row.cureDays * 24 * 60,
  ]);
  expect(sheet?.pressTogether).toMatchObject({ min: row.stack * 60 });
});

test("lacquer is never pressed face to face nor wrapped in plastic, and oil is known by its rags", () => {
  const lacquer = genericSheet("lacquer");
  expect(lacquer?.pressTogether).toBe("never");
  expect(lacquer?.wrap).toContainEqual({ wrap: "plastic", time: "never" });
  expect(withFilm.filter((family) => genericSheet(family)?.isOilBearing === "yes")).toEqual([
    "oil-varnish",
    "alkyd-enamel",
    "drying-oil",
    "oil-wax",
    "oil-stain",
  ]);
});

describe("a sheet whose times cannot be true together is refused with the two that disagree", () => {
  const hours = (count: number) => ({ min: count * 60 });
  test.each([
    { change: { recoatOpens: hours(25) }, fields: ["recoatOpens", "handle"], minutes: [1500, 1440] },
    {
      change: { recoatOpens: undefined, setToTouch: hours(30) },
      fields: ["setToTouch", "handle"],
      minutes: [1800, 1440],
    },
    { change: { fullCure: hours(90) }, fields: ["pressTogether", "fullCure"], minutes: [5760, 5400] },
    { change: { fullCure: hours(160) }, fields: ["wrap.plastic", "fullCure"], minutes: [10_080, 9600] },
    { change: { recoatClosesMin: 240 }, fields: ["recoatOpens", "recoatClosesMin"], minutes: [240, 240] },
    {
      change: { recoatClosesMin: 600, recoatReopensMin: 500 },
      fields: ["recoatClosesMin", "recoatReopensMin"],
      minutes: [600, 500],
    },
    { change: { wipeFromMin: 20, wipeLatestMin: 15 }, fields: ["wipeFromMin", "wipeLatestMin"], minutes: [20, 15] },
    {
      change: { handle: { min: 1440, typicalMin: 1500 } },
      fields: ["handle.typicalMin", "handle.min"],
      minutes: [1500, 1440],
    },
  ])("$fields", ({ change, fields, minutes }) => {
    expect(sheetInOrder({ ...w1.sheet, ...change } as typeof w1.sheet)).toEqual({
      ok: false,
      refusal: { kind: "sheet-out-of-order", fields, minutes },
    });
  });

  test("equal neighbours are in order, and so is a sheet that leaves most of them out", () => {
    expect(sheetInOrder({ ...w1.sheet, recoatOpens: hours(24) }).ok).toBe(true);
    expect(sheetInOrder({ stackWith: [], wrap: [] }).ok).toBe(true);
  });
});

// source: common practice of the finishing trade; no standard exists
test.each([
  { under: "wax", over: "water-borne-paint", rule: "N" },
  { under: "drying-oil", over: "water-borne-clear", rule: "B" },
  { under: "lacquer", over: "water-borne-clear", rule: "B" },
  { under: "shellac", over: "lacquer", rule: "Y" },
  { under: "shellac", over: "two-component", rule: "S" },
  { under: "water-borne-paint", over: "oil-varnish", rule: "D" },
  { under: "water-borne-clear", over: "lacquer", rule: "T" },
  { under: "two-component", over: "two-component", rule: undefined },
  { under: "filler", over: "shellac", rule: undefined },
] as const)("$over over $under: $rule", ({ under, over, rule }) => {
  expect(pairRule(under, over)).toBe(rule);
});
