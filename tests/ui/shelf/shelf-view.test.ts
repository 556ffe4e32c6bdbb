import { expect, test } from "vitest";
import { families } from "~/core/shop/entities/products";
import { groups, shelfView, usesOf, versionsOf } from "~/ui/shelf/shelf-view";
import {
  aCoat,
  aPiece,
  aProduct,
  aSheet,
  aWetCoat,
  dresser,
  id,
  monday8,
  paint,
  paintSheet,
  shopWith,
} from "../../core/support/shop";

test("every type has one place on the shelf", () => {
  const placed = groups.flatMap((group) => [...group.families]);
  expect([...placed].sort()).toEqual([...families].sort());
});

const wax = id(131);
const shelf = (rows = {}) =>
  shopWith({
    product: [aProduct(), aProduct({ id: wax, name: "Paste wax", family: "wax", retiredAt: monday8 })],
    sheet: [aSheet(), aSheet({ id: id(113), version: 2, origin: "from-can" }), aSheet({ id: id(132), productId: wax })],
    piece: [aPiece()],
    ...rows,
  });

test("a product says what it is, from where its figures come, and on how many pieces it is", () => {
  const facts = shelf({ coat: [aWetCoat({ id: id(121) }), aCoat({ id: id(122), position: 2, sheetId: id(113) })] });
  const { groups: shown, retired } = shelfView(facts);
  expect(shown.map(({ words }) => words)).toEqual(["Paints and colour"]);
  expect(shown[0]?.products).toMatchObject([
    { familyWords: "water-borne paint", sheetWords: "from the can, version 2", usedWords: "on 1 piece" },
  ]);
  expect(retired.map(({ product, sheetWords }) => [product.name, sheetWords])).toEqual([
    ["Paste wax", "typical figures"],
  ]);
});

test("versions are read from the newest, and a use counts whatever version a coat went on under", () => {
  const facts = shelf({
    coat: [
      aWetCoat({ id: id(121) }),
      aCoat({ id: id(122), position: 2, sheetId: id(113) }),
      aCoat({ id: id(123), position: 3, sheetId: paintSheet, state: "struck" }),
    ],
  });
  expect(versionsOf(facts, paint).map(({ version }) => version)).toEqual([2, 1]);
  expect(usesOf(facts, paint)).toEqual([
    { pieceId: dresser, number: "K-201", name: "Tall dresser", planned: 1, laid: 1 },
  ]);
  const gone = shelf({ piece: [aPiece({ archivedAt: monday8 })], coat: [aWetCoat({ id: id(121) })] });
  expect(usesOf(gone, paint)).toEqual([]);
});
