import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { cupLoads } from "~/core/coating/cup-loads";
import { mixToMake } from "~/core/coating/mixing-sheet";
import { type CoatToLay, sprayBatches } from "~/core/coating/spray-session";
import { unthinned } from "~/core/coating/thinning";

const coat = (coatId: string, pieceId: string, sheetId: string, more: Partial<CoatToLay> = {}): CoatToLay => ({
  coatId,
  pieceId,
  sheetId,
  squareDecimetres: 100,
  wetFilmMicrometres: 100,
  ...more,
});

const half = () => 50;
const plain = { thinning: unthinned, thinnerGramsPerLitre: 0, cupMillilitres: 600 };

test("a session mixes each product once, with its pieces in their order and every surface in its piece", () => {
  const batches = sprayBatches(
    [
      coat("a", "K-202", "white"),
      coat("b", "K-202", "clear"),
      coat("c", "K-201", "white", { squareDecimetres: 50 }),
      coat("d", "K-202", "white"),
    ],
    half,
  );
  expect(batches.map((batch) => batch.sheetId)).toEqual(["white", "clear"]);
  // by hand: 1 m² under 100 µm is 100 mL on the piece, 200 mL at 50 % transfer
  expect(batches[0]?.turns).toEqual([
    { pieceId: "K-202", coatIds: ["a", "d"], squareMetres: 2, millilitres: 400 },
    { pieceId: "K-201", coatIds: ["c"], squareMetres: 0.5, millilitres: 100 },
  ]);
  expect(batches[0]).toMatchObject({ squareMetres: 2.5, millilitres: 500, unknownCoatIds: [] });
});

test("what the can says a litre covers has its loss in it already", () => {
  // by hand: 1 m² at 10 m² a litre
  const [oil] = sprayBatches(
    [coat("a", "K-201", "oil", { wetFilmMicrometres: undefined, spreadSquareMetresPerLitre: 10 })],
    half,
  );
  expect(oil?.millilitres).toBe(100);
});

test("a coat whose film nobody knows is named instead of being counted as nothing", () => {
  const [batch] = sprayBatches(
    [coat("a", "K-201", "s"), coat("b", "K-201", "s", { wetFilmMicrometres: undefined })],
    half,
  );
  expect(batch).toMatchObject({ millilitres: 200, unknownCoatIds: ["b"] });
});

test("the mix of a session is the sum of its pieces, and doubles with their surfaces", () => {
  const coats = fc.array(
    fc.record({
      coatId: fc.uuid(),
      pieceId: fc.constantFrom("K-201", "K-202", "K-203"),
      sheetId: fc.constantFrom("white", "clear"),
      squareDecimetres: fc.integer({ min: 1, max: 1000 }),
      wetFilmMicrometres: fc.integer({ min: 1, max: 300 }),
    }),
    { minLength: 1, maxLength: 20 },
  );
  fc.assert(
    fc.property(coats, (laid) => {
      const batches = sprayBatches(laid, half);
      const doubled = sprayBatches(
        laid.map((one) => ({ ...one, squareDecimetres: one.squareDecimetres * 2 })),
        half,
      );
      for (const [index, batch] of batches.entries()) {
        const turns = batch.turns.reduce((sum, turn) => sum + turn.millilitres, 0);
        expect(turns).toBeCloseTo(batch.millilitres, 6);
        expect((doubled[index]?.millilitres ?? 0) / batch.millilitres).toBeCloseTo(2, 9);
      }
      expect(batches.flatMap((batch) => batch.coats)).toHaveLength(laid.length);
    }),
  );
});

describe("a batch is taken apart into what is poured", () => {
  test("3 to 1 in an 800 mL mix is 600 of paint and 200 of water, dries a quarter thinner and asks for one coat more", () => {
    // source: common practice for thick water-borne furniture paint; 36 % solids fall to 27 %
    const mix = mixToMake(
      { coats: [coat("a", "K-201", "white")], millilitres: 800 },
      { volumeSolidsPercent: 36, vocGramsPerLitre: 50, thinLimitPercent: 20 },
      { ...plain, thinning: { by: "parts", paint: 3, thinner: 1 } },
    );
    expect(mix).toMatchObject({ baseMillilitres: 600, thinnerMillilitres: 200, hardenerMillilitres: 0 });
    expect(mix.film?.wet).toEqual([100, 100]);
    expect(mix.film?.dry?.[0]).toBeCloseTo(27, 9);
    expect(mix.coatsFactor).toBeCloseTo(1.3333, 4);
    // by hand: 50 g in 1.333 L
    expect(mix.volatileGramsPerLitre).toBeCloseTo(37.5, 9);
    expect(mix.overThinned?.percent).toBeCloseTo(33.33, 2);
    expect(mix.overThinned?.limitPercent).toBe(20);
  });

  test("thinner as far as the sheet allows is not too much", () => {
    const mix = mixToMake(
      { coats: [], millilitres: 100 },
      { thinLimitPercent: 10 },
      { ...plain, thinning: { by: "percent", ofPaint: 10 } },
    );
    expect(mix.overThinned).toBeUndefined();
  });

  test("base, hardener and thinner are always the whole mix, and the cups too", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 50_000, noNaN: true }),
        fc.integer({ min: 0, max: 2000 }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        fc.integer({ min: 100, max: 2000 }),
        (millilitres, hardenerPartsPerMille, ofPaint, cupMillilitres) => {
          const mix = mixToMake(
            { coats: [], millilitres },
            { hardenerPartsPerMille },
            { ...plain, thinning: { by: "percent", ofPaint }, cupMillilitres },
          );
          const parts = mix.baseMillilitres + mix.hardenerMillilitres + mix.thinnerMillilitres;
          expect(parts).toBeCloseTo(millilitres, 6);
          expect(mix.cups.fullCups * cupMillilitres + mix.cups.restMillilitres).toBeCloseTo(millilitres, 5);
          expect(mix.cups.restMillilitres).toBeLessThan(cupMillilitres);
        },
      ),
    );
  });
});

test.each([
  { mix: 942, cup: 600, full: 1, rest: 342 },
  { mix: 1200, cup: 600, full: 2, rest: 0 },
  { mix: 250, cup: 600, full: 0, rest: 250 },
])("$mix mL in a cup of $cup mL are $full full and $rest mL", ({ mix, cup, full, rest }) => {
  expect(cupLoads(mix, cup)).toEqual({ fullCups: full, restMillilitres: rest });
});
