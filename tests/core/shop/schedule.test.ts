import { expect, test } from "vitest";
import { dayMs } from "~/core/units";
import {
  aCoat,
  aPiece,
  aProduct,
  aSheet,
  aSurface,
  aWetCoat,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  paintSheet,
  refusalOf,
  rule,
  shopWith,
  silas,
  top,
} from "../support/shop";

const withCoats = (coat: ReturnType<typeof aCoat>[], piece = aPiece()) =>
  shopWith({ piece: [piece], surface: [aSurface()], product: [aProduct()], sheet: [aSheet()], coat });
const [first, second, third] = [id(121), id(122), id(123)];
const planned = (coatId: string, position: number) => ({ coatId, position, sheetId: paintSheet });

test("coats are planned on a surface in their places, with the wet film that is meant", () => {
  const facts = withCoats([]);
  const add = [planned(first, 1), { ...planned(second, 2), plannedWetFilmMicrometres: 100 }];
  const ruling = rule(facts, envelopeOf("change-schedule", { surfaceId: top, add }, silas));
  expect(eventKinds(ruling)).toEqual(["coats-planned"]);
  expect(facts.where("coat", "pieceId", dresser)).toEqual([
    aCoat({ id: first, position: 1 }),
    aCoat({ id: second, position: 2, plannedWetFilmMicrometres: 100 }),
  ]);
});

test("a barrier carries its reason, so that nobody strikes it unawares", () => {
  const facts = withCoats([]);
  const add = [{ ...planned(first, 1), barrierWhy: "The patch bled." }];
  rule(facts, envelopeOf("change-schedule", { surfaceId: top, add }, silas));
  expect(facts.get("coat", first)?.barrierWhy).toBe("The patch bled.");
});

test("a planned coat is struck, its place is free at once, and striking it again changes nothing", () => {
  const facts = withCoats([aCoat({ id: first })]);
  const body = { surfaceId: top, strike: [first], add: [planned(second, 1)] };
  expect(eventKinds(rule(facts, envelopeOf("change-schedule", body, silas)))).toEqual([
    "coats-struck",
    "coats-planned",
  ]);
  expect(facts.get("coat", first)?.state).toBe("struck");
  const again = rule(facts, envelopeOf("change-schedule", { surfaceId: top, strike: [first] }, fern));
  expect(again).toEqual({ verdict: "accepted", events: [] });
});

test.each(["applied", "wiped", "flawed", "mended", "removed"] as const)(
  "a coat that is %s is not unplanned",
  (state) => {
    const facts = withCoats([aWetCoat({ id: first, state })]);
    const refusal = refusalOf(rule(facts, envelopeOf("change-schedule", { surfaceId: top, strike: [first] }, silas)));
    expect(refusal).toEqual({ kind: "coat-is-over", coatId: first, state });
  },
);

test("no coat is planned below one that lies already, not even below one that was sanded off", () => {
  for (const state of ["applied", "removed"] as const) {
    const facts = withCoats([aWetCoat({ id: second, position: 2, state })]);
    const refusal = refusalOf(
      rule(facts, envelopeOf("change-schedule", { surfaceId: top, add: [planned(first, 1)] }, silas)),
    );
    expect(refusal).toEqual({ kind: "coat-out-of-order", coatIds: [first, second] });
  }
});

test("two coats do not share a place, and one on top of a laid coat is fine", () => {
  const facts = withCoats([aWetCoat({ id: first, position: 1 })]);
  const same = { surfaceId: top, add: [planned(second, 2), planned(third, 2)] };
  expect(refusalOf(rule(facts, envelopeOf("change-schedule", same, silas)))).toEqual({
    kind: "coat-out-of-order",
    coatIds: [second, third],
  });
  const above = { surfaceId: top, add: [planned(second, 2), planned(third, 3)] };
  expect(rule(facts, envelopeOf("change-schedule", above, silas)).verdict).toBe("accepted");
});

test.each([
  ["surface", { surfaceId: id(99) }, "surfaceId"],
  ["sheet", { add: [{ coatId: second, position: 2, sheetId: id(99) }] }, "sheetId"],
  ["coat", { strike: [id(99)] }, "strike"],
])("a %s that is not there is not planned with", (_, part, field) => {
  const facts = withCoats([]);
  const refusal = refusalOf(rule(facts, envelopeOf("change-schedule", { surfaceId: top, ...part }, silas)));
  expect(refusal).toEqual({ kind: "unknown-thing", field });
});

test("another surface's coat is not struck from this one", () => {
  const facts = withCoats([aCoat({ id: first, surfaceId: id(105) })]);
  const refusal = refusalOf(rule(facts, envelopeOf("change-schedule", { surfaceId: top, strike: [first] }, silas)));
  expect(refusal).toEqual({ kind: "unknown-thing", field: "strike" });
});

test("nothing is planned on a piece that has left, and a helper plans nothing", () => {
  const body = { surfaceId: top, add: [planned(first, 1)] };
  const left = withCoats([], aPiece({ archivedAt: monday8 - dayMs }));
  expect(refusalOf(rule(left, envelopeOf("change-schedule", body, silas)))).toEqual({
    kind: "after-it-left",
    thing: "K-201",
    happenedAt: monday8,
    leftAt: monday8 - dayMs,
  });
  expect(refusalOf(rule(withCoats([]), envelopeOf("change-schedule", body, hanna)))).toMatchObject({ kind: "may-not" });
});

test("a schedule has forty places", () => {
  const refusal = refusalOf(
    rule(withCoats([]), envelopeOf("change-schedule", { surfaceId: top, add: [planned(first, 41)] }, silas)),
  );
  expect(refusal).toMatchObject({
    kind: "out-of-bounds",
    field: "position in the schedule",
    found: 41,
    min: 1,
    max: 40,
  });
});
