import { describe, expect, test } from "vitest";
import { genericSheet } from "~/core/coating/generic-sheets";
import { sheetInOrder, sheetRemarks } from "~/core/coating/sheet-order";
import { families } from "~/core/shop/entities/products";
import { glueKinds } from "~/core/tables/glue-times";
import { type FilmFamily, materialByFamily, type UsualSpan } from "~/core/tables/material-values";
import { pairRule } from "~/core/tables/over-under";
import { w1 } from "../cure/week";

const withFilm = families.filter((family) => genericSheet(family) !== undefined) as FilmFamily[];
const generic = (family: FilmFamily) => genericSheet(family) as NonNullable<ReturnType<typeof genericSheet>>;

describe("every sheet that a shop may start from", () => {
  test("is of a type that leaves a film or holds a joint", () => {
    expect(withFilm).toHaveLength(families.length - 2);
    expect(genericSheet("stripper")).toBeUndefined();
    expect(genericSheet("thinner")).toBeUndefined();
  });

  test.each(withFilm)("%s has its figures in the order in which films dry, and nothing odd", (family) => {
    expect(sheetInOrder(generic(family)).ok).toBe(true);
    expect(sheetRemarks(generic(family))).toEqual([]);
  });

  test.each(withFilm)("%s says of every figure the customary one, inside of its usual span", (family) => {
    const spans = Object.entries(materialByFamily[family]) as [keyof ReturnType<typeof generic>, UsualSpan][];
    for (const [field, [low, usual, high]] of spans) {
      expect(low).toBeLessThanOrEqual(usual);
      expect(usual).toBeLessThanOrEqual(high);
      expect(generic(family)[field]).toBe(usual);
    }
  });

  // a litre is 1000 µm on one square metre, by arithmetic; what is lost in laying makes the printed figure smaller
  test.each(withFilm)("%s spreads no further than its wet film lets it, and not much less", (family) => {
    const { wetFilmMicrometres, spreadSquareMetresPerLitre } = generic(family);
    if (wetFilmMicrometres === undefined || spreadSquareMetresPerLitre === undefined) return;
    expect(spreadSquareMetresPerLitre).toBeLessThanOrEqual((1000 / wetFilmMicrometres) * 1.06);
    expect(spreadSquareMetresPerLitre).toBeGreaterThanOrEqual((1000 / wetFilmMicrometres) * 0.85);
  });

  test.each(withFilm)("%s gives the long end of its usual times to the gates and marks itself as typical", (family) => {
    const { origin, rateRule, recoatOpens, referenceCelsius, referenceHumidityPercent } = generic(family);
    expect([origin, rateRule]).toEqual(["generic", "mechanism"]);
    // ISO 3270: 23 °C, 50 % RH
    expect([referenceCelsius, referenceHumidityPercent]).toEqual([23, 50]);
    expect(recoatOpens?.typicalMin ?? 0).toBeLessThan(recoatOpens?.min ?? 0);
  });
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

// source: common practice, the customary figures of data sheets
test.each([
  { family: "water-borne-paint", solids: 36, film: 100, density: 1250, voc: 50 },
  { family: "lacquer", solids: 18, film: 100, density: 920, voc: 650 },
  { family: "shellac-blocker", solids: 30, film: 90, density: 1200, voc: 550 },
  { family: "two-component", solids: 38, film: 100, density: 1050, voc: 420, potLife: 120 },
  { family: "milk-paint", solids: 25, film: 100, density: 1300, voc: 0, potLife: 480 },
  { family: "drying-oil", solids: 90, film: undefined, density: 930, voc: 150 },
] as const)("a can of $family is taken as $solids % solids, $density g/L, $voc g/L of solvent", (row) => {
  const sheet = generic(row.family);
  expect([sheet.volumeSolidsPercent, sheet.wetFilmMicrometres]).toEqual([row.solids, row.film]);
  expect([sheet.densityGramsPerLitre, sheet.vocGramsPerLitre]).toEqual([row.density, row.voc]);
  expect(sheet.potLifeMin).toBe("potLife" in row ? row.potLife : undefined);
});

test("dissolved shellac is not trusted for more than half a year once opened", () => {
  // 6 to 12 months, common practice
  expect([generic("shellac").shelfOpenedDays, generic("shellac").shelfUnopenedDays]).toEqual([180, 365]);
});

describe("a glue starts from its kind", () => {
  test.each(glueKinds)("%s is in order", (kind) => {
    expect(sheetInOrder(genericSheet("glue", kind) as never).ok).toBe(true);
  });

  // source: common practice; 55 °F for white glue (12.8 °C), 40 to 50 °F for yellow; an hour in clamps, a day to strength
  test.each([
    { kind: "white-glue", chalk: 13, clampHours: 1, strengthHours: 24 },
    { kind: "yellow-glue", chalk: 10, clampHours: 1, strengthHours: 24 },
    { kind: "hide-glue", chalk: undefined, clampHours: 12, strengthHours: 24 },
    { kind: "epoxy", chalk: undefined, clampHours: 24, strengthHours: 168 },
  ] as const)("$kind: chalk below $chalk °C, $clampHours h in clamps", ({ kind, chalk, clampHours, strengthHours }) => {
    const sheet = genericSheet("glue", kind);
    expect(sheet?.chalkCelsius).toBe(chalk);
    expect([sheet?.clampMin, sheet?.fullStrengthMin]).toEqual([clampHours * 60, strengthHours * 60]);
  });

  test("a glue that nobody named is the one that minds the cold most", () => {
    expect(genericSheet("glue")).toEqual(genericSheet("glue", "white-glue"));
  });
});

test("lacquer is never pressed face to face nor wrapped in plastic, and oil is known by its rags", () => {
  const lacquer = genericSheet("lacquer");
  expect(lacquer?.pressTogether).toBe("never");
  expect(lacquer?.wrap).toContainEqual({ wrap: "plastic", time: "never" });
  expect(withFilm.filter((family) => generic(family).isOilBearing === "yes")).toEqual([
    "oil-varnish",
    "alkyd-enamel",
    "drying-oil",
    "oil-wax",
    "oil-stain",
  ]);
});

const hours = (count: number) => ({ min: count * 60 });
const sheetWith = (change: object) => ({ ...w1.sheet, ...change }) as typeof w1.sheet;

describe("a sheet whose times cannot be true together is refused with the two that disagree", () => {
  test.each([
    { change: { recoatOpens: hours(25) }, fields: ["recoatOpens", "handle"], minutes: [1500, 1440] },
    {
      change: { recoatOpens: undefined, setToTouch: hours(30) },
      fields: ["setToTouch", "handle"],
      minutes: [1800, 1440],
    },
    { change: { tackFree: hours(5) }, fields: ["tackFree", "recoatOpens"], minutes: [300, 240] },
    { change: { lightUse: hours(12) }, fields: ["handle", "lightUse"], minutes: [1440, 720] },
    { change: { fullCure: hours(90) }, fields: ["pressTogether", "fullCure"], minutes: [5760, 5400] },
    { change: { fullCure: hours(160) }, fields: ["wrap.plastic", "fullCure"], minutes: [10_080, 9600] },
    {
      change: { stackWith: [{ material: "felt", time: hours(200) }], fullCure: hours(199) },
      fields: ["stackWith.felt", "fullCure"],
      minutes: [12_000, 11_940],
    },
    { change: { recoatClosesMin: 240 }, fields: ["recoatOpens", "recoatClosesMin"], minutes: [240, 240] },
    { change: { recoatClosesMin: 60 }, fields: ["recoatOpens", "recoatClosesMin"], minutes: [240, 60] },
    {
      change: { recoatClosesMin: 600, recoatReopensMin: 500 },
      fields: ["recoatClosesMin", "recoatReopensMin"],
      minutes: [600, 500],
    },
    // a film that only takes a coat again later, without ever having closed, still reopens after it opened
    { change: { recoatReopensMin: 100 }, fields: ["recoatOpens", "recoatReopensMin"], minutes: [240, 100] },
    { change: { wipeFromMin: 20, wipeLatestMin: 15 }, fields: ["wipeFromMin", "wipeLatestMin"], minutes: [20, 15] },
    { change: { inductionMin: 30, potLifeMin: 30 }, fields: ["inductionMin", "potLifeMin"], minutes: [30, 30] },
    { change: { inductionMin: 31, potLifeMin: 30 }, fields: ["inductionMin", "potLifeMin"], minutes: [31, 30] },
    {
      change: { clampMin: 1500, fullStrengthMin: 1440 },
      fields: ["clampMin", "fullStrengthMin"],
      minutes: [1500, 1440],
    },
    {
      change: { handle: { min: 1440, typicalMin: 1500 } },
      fields: ["handle.typicalMin", "handle.min"],
      minutes: [1500, 1440],
    },
  ])("$fields", ({ change, fields, minutes }) => {
    expect(sheetInOrder(sheetWith(change))).toEqual({
      ok: false,
      refusal: { kind: "sheet-out-of-order", fields, minutes },
    });
  });

  test.each([
    { change: { chalkCelsius: 26 }, fields: ["chalkCelsius", "referenceCelsius"], celsius: [26, 25] },
    { change: { minimumCelsius: 33 }, fields: ["minimumCelsius", "maximumCelsius"], celsius: [33, 32] },
  ])("$fields", ({ change, fields, celsius }) => {
    expect(sheetInOrder(sheetWith(change))).toEqual({
      ok: false,
      refusal: { kind: "sheet-out-of-order", fields, celsius },
    });
  });

  test("equal neighbours are in order, and so is a sheet that leaves most of them out", () => {
    expect(sheetInOrder(sheetWith({ recoatOpens: hours(24) })).ok).toBe(true);
    expect(sheetInOrder(sheetWith({ clampMin: 60, fullStrengthMin: 60, chalkCelsius: 25 })).ok).toBe(true);
    const silent = { recoatOpens: undefined, handle: undefined, pressTogether: undefined, wrap: [] };
    expect(sheetInOrder(sheetWith(silent)).ok).toBe(true);
  });
});

test("an opened can that outlasts a closed one is odd, and no reason to refuse the sheet", () => {
  const sheet = sheetWith({ shelfOpenedDays: 400, shelfUnopenedDays: 365 });
  expect(sheetInOrder(sheet).ok).toBe(true);
  expect(sheetRemarks(sheet)).toEqual([
    { kind: "opened-outlasts-unopened", shelfOpenedDays: 400, shelfUnopenedDays: 365 },
  ]);
  expect(sheetRemarks(sheetWith({ shelfOpenedDays: 365, shelfUnopenedDays: 365 }))).toEqual([]);
});

test("a litre that is said to cover more than its film allows is odd", () => {
  // 16 m² at 100 µm wet are 1.6 litres
  expect(sheetRemarks(sheetWith({ spreadSquareMetresPerLitre: 16, wetFilmMicrometres: 100 }))).toEqual([
    { kind: "spread-thins-film", spreadSquareMetresPerLitre: 16, wetFilmMicrometres: 100 },
  ]);
  expect(sheetRemarks(sheetWith({ spreadSquareMetresPerLitre: 10, wetFilmMicrometres: 100 }))).toEqual([]);
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
