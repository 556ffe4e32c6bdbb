import { expect, test } from "vitest";
import { genericSheet } from "~/core/coating/generic-sheets";
import {
  aProduct,
  aSheet,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  paint,
  paintSheet,
  refusalOf,
  rule,
  shopWith,
  silas,
} from "../support/shop";

const { id: _id, productId: _productId, version: _version, origin: _origin, ...fromCan } = aSheet();
const product = {
  productId: paint,
  sheetId: paintSheet,
  name: "Sage paint",
  family: "water-borne-paint",
  colour: "sage",
};
const withProduct = () => shopWith({ product: [aProduct()], sheet: [aSheet()] });

test("a product without a data sheet in hand starts from its generic type's", () => {
  const facts = shopWith();
  const ruling = rule(facts, envelopeOf("add-product", product, silas));
  expect(eventKinds(ruling)).toEqual(["product-added", "sheet-version-added"]);
  expect(facts.get("product", paint)).toEqual({
    id: paint,
    name: "Sage paint",
    family: "water-borne-paint",
    colour: "sage",
  });
  expect(facts.get("sheet", paintSheet)).toEqual({
    id: paintSheet,
    productId: paint,
    version: 1,
    ...genericSheet("water-borne-paint"),
  });
  expect(facts.get("sheet", paintSheet)?.origin).toBe("generic");
});

test("figures typed from the can are the product's first sheet", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("add-product", { ...product, sheet: fromCan }, silas));
  expect(facts.get("sheet", paintSheet)).toEqual(aSheet({ origin: "from-can" }));
});

test("a thinner leaves no film and has no sheet", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("add-product", { ...product, family: "thinner" }, silas));
  expect(facts.all("product")).toHaveLength(1);
  expect(facts.all("sheet")).toEqual([]);
});

test("an edit makes the next version and leaves the one before as it was", () => {
  const facts = withProduct();
  const sheet = { ...fromCan, recoatOpens: { min: 360, typicalMin: 240 } };
  rule(facts, envelopeOf("edit-sheet", { productId: paint, sheetId: id(113), sheet }, silas));
  expect(facts.get("sheet", id(113))).toEqual(
    aSheet({ id: id(113), version: 2, origin: "from-can", recoatOpens: { min: 360, typicalMin: 240 } }),
  );
  expect(facts.get("sheet", paintSheet)).toEqual(aSheet());
});

test("two edits made apart are two versions", () => {
  const facts = withProduct();
  rule(facts, envelopeOf("edit-sheet", { productId: paint, sheetId: id(113), sheet: fromCan }, silas));
  rule(facts, envelopeOf("edit-sheet", { productId: paint, sheetId: id(114), sheet: fromCan }, fern, { seenSeq: 0 }));
  expect(facts.where("sheet", "productId", paint).map((sheet) => sheet.version)).toEqual([1, 2, 3]);
});

test("a sheet is copied from another product's, or from the generic type's again", () => {
  const other = id(115);
  const facts = shopWith({
    product: [aProduct(), aProduct({ id: other })],
    sheet: [aSheet(), aSheet({ id: id(116), productId: other, origin: "from-can", handle: { min: 2000 } })],
  });
  rule(facts, envelopeOf("copy-sheet", { productId: paint, sheetId: id(117), fromSheetId: id(116) }, silas));
  expect(facts.get("sheet", id(117))).toEqual(
    aSheet({ id: id(117), version: 2, origin: "from-can", handle: { min: 2000 } }),
  );
  rule(facts, envelopeOf("copy-sheet", { productId: paint, sheetId: id(118) }, silas));
  expect(facts.get("sheet", id(118))).toMatchObject({ version: 3, ...genericSheet("water-borne-paint") });
});

test.each([
  ["takes the next coat before it is tack-free", { recoatOpens: { min: 59 } }, ["tackFree", "recoatOpens"], [60, 59]],
  [
    "may be pressed after it has cured through",
    { pressTogether: { min: 30_241 } },
    ["pressTogether", "fullCure"],
    [30_241, 30_240],
  ],
  ["closes its window as it opens", { recoatClosesMin: 240 }, ["recoatOpens", "recoatClosesMin"], [240, 240]],
  [
    "is wiped off before it is wiped",
    { wipeFromMin: 20, wipeLatestMin: 15 },
    ["wipeFromMin", "wipeLatestMin"],
    [20, 15],
  ],
  ["is spoilt before it may be used", { inductionMin: 60, potLifeMin: 60 }, ["inductionMin", "potLifeMin"], [60, 60]],
])("no sheet is written by which a film %s", (_, part, fields, minutes) => {
  const facts = withProduct();
  const body = { productId: paint, sheetId: id(113), sheet: { ...fromCan, ...part } };
  const expected = { kind: "sheet-out-of-order", fields, minutes };
  expect(refusalOf(rule(facts, envelopeOf("edit-sheet", body, silas)))).toEqual(expected);
  const added = { ...product, productId: id(119), sheetId: id(113), sheet: { ...fromCan, ...part } };
  expect(refusalOf(rule(facts, envelopeOf("add-product", added, silas)))).toEqual(expected);
});

test("a product is not laid on in air that is both too cold and too warm for it", () => {
  const sheet = { ...fromCan, minimumCelsius: 20, maximumCelsius: 15 };
  const refusal = refusalOf(
    rule(withProduct(), envelopeOf("edit-sheet", { productId: paint, sheetId: id(113), sheet }, silas)),
  );
  expect(refusal).toEqual({
    kind: "sheet-out-of-order",
    fields: ["minimumCelsius", "maximumCelsius"],
    celsius: [20, 15],
  });
});

test("a glue is started from its kind, and is the white one until somebody says which", () => {
  const facts = shopWith();
  const glue = { ...product, family: "glue" };
  rule(facts, envelopeOf("add-product", { ...glue, productId: id(131), sheetId: id(132) }, silas));
  expect(facts.get("sheet", id(132))).toMatchObject({ origin: "generic", chalkCelsius: 13, clampMin: 60 });
  rule(
    facts,
    envelopeOf("add-product", { ...glue, productId: id(133), sheetId: id(134), glueKind: "yellow-glue" }, silas),
  );
  expect(facts.get("sheet", id(134))).toMatchObject({ origin: "generic", chalkCelsius: 10, fullStrengthMin: 1440 });
  const again = { productId: id(131), sheetId: id(135), glueKind: "hide-glue" };
  rule(facts, envelopeOf("copy-sheet", again, silas));
  expect(facts.get("sheet", id(135))).toMatchObject({ version: 2, openTimeMin: 1, clampMin: 720 });
  expect(facts.get("sheet", id(135))?.chalkCelsius).toBeUndefined();
});

test.each([
  ["a pot life of nothing", { potLifeMin: 0 }, "pot life"],
  ["a pot life below nothing", { potLifeMin: -30 }, "pot life"],
  ["no solids at all", { volumeSolidsPercent: 0 }, "volume solids"],
  ["more solids than can", { volumeSolidsPercent: 101 }, "volume solids"],
  ["a shelf life of nothing", { shelfOpenedDays: 0 }, "shelf life"],
  ["more solvent than a litre weighs", { vocGramsPerLitre: 1001 }, "volatile organic compounds"],
  ["a thinner below nothing", { thinLimitPercent: -1 }, "thinning limit"],
])("no sheet is written with %s, and the refusal names the figure", (_, part, field) => {
  const body = { productId: paint, sheetId: id(113), sheet: { ...fromCan, ...part } };
  const found = Object.values(part)[0];
  expect(refusalOf(rule(withProduct(), envelopeOf("edit-sheet", body, silas)))).toMatchObject({
    kind: "out-of-bounds",
    field,
    found,
  });
});

test("no minimum on a sheet is nothing", () => {
  const sheet = { ...fromCan, tackFree: { min: 0 } };
  const refusal = refusalOf(
    rule(withProduct(), envelopeOf("edit-sheet", { productId: paint, sheetId: id(113), sheet }, silas)),
  );
  expect(refusal).toMatchObject({ kind: "out-of-bounds", found: 0, min: 1 });
});

test.each([
  ["edit-sheet", { productId: id(99), sheetId: id(113), sheet: fromCan }, "productId"],
  ["copy-sheet", { productId: id(99), sheetId: id(113) }, "productId"],
  ["copy-sheet", { productId: paint, sheetId: id(113), fromSheetId: id(99) }, "fromSheetId"],
  ["retire-product", { productId: id(99) }, "productId"],
])("%s wants things that are there (%#)", (kind, body, field) => {
  expect(refusalOf(rule(withProduct(), envelopeOf(kind, body, silas)))).toEqual({ kind: "unknown-thing", field });
});

test("a product is retired once", () => {
  const facts = withProduct();
  rule(facts, envelopeOf("retire-product", { productId: paint }, silas));
  expect(facts.get("product", paint)?.retiredAt).toBe(monday8);
  expect(rule(facts, envelopeOf("retire-product", { productId: paint }, fern))).toEqual({
    verdict: "accepted",
    events: [],
  });
});

test("a helper changes no data sheet and adds no product", () => {
  const bodies = {
    "add-product": product,
    "copy-sheet": { productId: paint, sheetId: id(113) },
    "edit-sheet": { productId: paint, sheetId: id(113), sheet: fromCan },
    "retire-product": { productId: paint },
  };
  for (const [kind, body] of Object.entries(bodies)) {
    expect(refusalOf(rule(withProduct(), envelopeOf(kind, body, hanna)))).toMatchObject({
      kind: "may-not",
      role: "helper",
    });
  }
});
