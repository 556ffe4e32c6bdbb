import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { scheduleTotals } from "~/core/coating/schedule-totals";
import { coatOf, laid } from "./planned";

const surface = { squareDecimetres: 420 };

// dry film = wet film × volume solids; source: arithmetic of ISO 23811
test.each([
  { family: "water-borne-paint", dryMicrometres: 36 },
  { family: "water-borne-clear", dryMicrometres: 30 },
  { family: "oil-varnish", dryMicrometres: 36 },
  { family: "lacquer", dryMicrometres: 18 },
  { family: "two-component", dryMicrometres: 38 },
] as const)("one coat of $family as its sheet lays it dries to $dryMicrometres µm", ({ family, dryMicrometres }) => {
  expect(scheduleTotals(surface, [coatOf(family)], 100).dryMicrometres).toBeCloseTo(dryMicrometres, 6);
});

describe("what a schedule takes", () => {
  // 4.2 m² at 40 µm dry of 40 % solids: 0.42 L on the surface. Source: practical spreading rate as data sheets reckon it
  test.each([
    { transferPercent: 30, litres: 1.4 },
    { transferPercent: 50, litres: 0.84 },
    { transferPercent: 65, litres: 0.6462 },
    { transferPercent: 90, litres: 0.4667 },
  ])("is $litres L where $transferPercent % stays on the piece", ({ transferPercent, litres }) => {
    const coat = coatOf("chalk-paint", { wetFilmMicrometres: 100 });
    expect(scheduleTotals(surface, [coat], transferPercent).litres).toBeCloseTo(litres, 4);
  });

  test("does not count again what lies already, though its film counts", () => {
    const layers = [laid("lacquer"), coatOf("lacquer")];
    const totals = scheduleTotals(surface, layers, 55);
    expect(totals.dryMicrometres).toBeCloseTo(36, 6);
    expect(totals.litres).toBeCloseTo(scheduleTotals(surface, [coatOf("lacquer")], 55).litres, 9);
  });

  test("goes by the area of a litre for what is wiped off, and leaves its film out by name", () => {
    // 18 m² from a litre, wiped off: common practice
    const oil = coatOf("drying-oil");
    const totals = scheduleTotals(surface, [oil], 55);
    expect(totals.litres).toBeCloseTo(4.2 / 18, 6);
    expect(totals).toMatchObject({ dryMicrometres: 0, withoutFilm: [oil.coatId], withoutLitres: [] });
  });

  test("names the coats whose sheets do not say enough", () => {
    const silent = coatOf("water-borne-paint", {
      on: { volumeSolidsPercent: undefined, spreadSquareMetresPerLitre: undefined },
    });
    expect(scheduleTotals(surface, [silent], 55)).toEqual({
      dryMicrometres: 0,
      litres: 0,
      withoutFilm: [silent.coatId],
      withoutLitres: [silent.coatId],
    });
  });

  test("adds up: two schedules one after the other take what both take", () => {
    const coat = fc.record({ isLaid: fc.boolean(), wet: fc.integer({ min: 20, max: 300 }) });
    const layersOf = (rows: { isLaid: boolean; wet: number }[]) =>
      rows.map(({ isLaid, wet }) => coatOf("oil-varnish", { isLaid, wetFilmMicrometres: wet }));
    fc.assert(
      fc.property(fc.array(coat), fc.array(coat), fc.integer({ min: 20, max: 100 }), (one, other, transfer) => {
        const of = (rows: typeof one) => scheduleTotals(surface, layersOf(rows), transfer);
        expect(of([...one, ...other]).litres).toBeCloseTo(of(one).litres + of(other).litres, 6);
        expect(of([...one, ...other]).dryMicrometres).toBeCloseTo(of(one).dryMicrometres + of(other).dryMicrometres, 6);
      }),
    );
  });
});
