import { expect, test } from "vitest";
import { asLast, withBarrier } from "~/core/coating/schedule-change";
import { coatsOutOfOrder } from "~/core/coating/schedule-order";
import type { Coat } from "~/core/shop/tables";
import { aCoat, aWetCoat, dresser, id, top } from "../support/shop";

const [first, second, third] = [id(121), id(122), id(123)];
const blocker = { sheetId: id(140), why: "Patch bled", coats: 1 };
const ids = () => {
  let made = 200;
  return () => id(++made);
};
/** The schedule after a change, as the rule keeps it. */
const after = (coats: readonly Coat[], change: ReturnType<typeof withBarrier>): Coat[] => [
  ...coats.filter((coat) => !change?.strike.includes(coat.id)),
  ...(change?.add ?? []).map(
    ({ coatId, ...fields }): Coat => ({ id: coatId, pieceId: dresser, surfaceId: top, state: "planned", ...fields }),
  ),
];

test("a barrier goes below the coat that would show the stain, and all above move up by one", () => {
  const coats = [aCoat({ id: first, position: 1, plannedWetFilmMicrometres: 100 }), aCoat({ id: second, position: 2 })];
  const change = withBarrier(coats, first, blocker, ids());
  expect(change).toEqual({
    strike: [first, second],
    add: [
      { coatId: id(201), position: 1, sheetId: id(140), barrierWhy: "Patch bled" },
      { coatId: id(202), position: 2, sheetId: coats[0]?.sheetId, plannedWetFilmMicrometres: 100 },
      { coatId: id(203), position: 3, sheetId: coats[1]?.sheetId },
    ],
  });
});

test("what lies already stays where it is, and the schedule is in order afterwards", () => {
  const coats = [
    aWetCoat({ id: first, position: 1 }),
    aCoat({ id: second, position: 2 }),
    aCoat({ id: third, position: 3 }),
  ];
  const change = withBarrier(coats, third, { ...blocker, coats: 2 }, ids());
  expect(change?.strike).toEqual([third]);
  const changed = after(coats, change);
  expect(coatsOutOfOrder(changed)).toBeUndefined();
  const order = changed.sort((one, other) => one.position - other.position).map(({ sheetId }) => sheetId);
  expect(order.map((sheetId) => sheetId === id(140))).toEqual([false, false, true, true, false]);
});

test("a barrier that was planned before keeps its reason when it moves", () => {
  const coats = [aCoat({ id: first, position: 1, barrierWhy: "Knots" })];
  expect(withBarrier(coats, first, blocker, ids())?.add[1]).toMatchObject({ position: 2, barrierWhy: "Knots" });
});

test("no barrier goes below what is laid or struck", () => {
  expect(withBarrier([aWetCoat({ id: first })], first, blocker, ids())).toBeUndefined();
  expect(withBarrier([aCoat({ id: first, state: "struck" })], first, blocker, ids())).toBeUndefined();
});

test("wax moves on top of all, and stays where it is when it is there already", () => {
  const coats = [aCoat({ id: first, position: 1 }), aCoat({ id: second, position: 2 })];
  const change = asLast(coats, first, ids());
  expect(change).toMatchObject({ strike: [first], add: [{ coatId: id(201), position: 3 }] });
  expect(coatsOutOfOrder(after(coats, change))).toBeUndefined();
  expect(asLast(coats, second, ids())).toBeUndefined();
});
