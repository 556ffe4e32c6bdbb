import fc from "fast-check";
import { expect, test } from "vitest";
import {
  splitMix,
  type Thinning,
  thinnedSolidsPercent,
  thinnerPercentOfMix,
  thinnerShare,
} from "~/core/coating/thinning";

// source: arithmetic; that "3 to 1" is paint to thinner is common practice
test.each([
  { paint: 3, thinner: 1, share: 0.3333, ofMix: 25, solids: 30 },
  { paint: 4, thinner: 1, share: 0.25, ofMix: 20, solids: 32 },
  { paint: 10, thinner: 1, share: 0.1, ofMix: 9.091, solids: 36.364 },
  { paint: 2, thinner: 1, share: 0.5, ofMix: 33.333, solids: 26.667 },
])("$paint to $thinner is $ofMix % of the mix and leaves 40 % solids at $solids %", (row) => {
  const thinning: Thinning = { by: "parts", paint: row.paint, thinner: row.thinner };
  expect(thinnerShare(thinning)).toBeCloseTo(row.share, 4);
  expect(thinnerPercentOfMix(thinning)).toBeCloseTo(row.ofMix, 3);
  expect(thinnedSolidsPercent(40, thinning)).toBeCloseTo(row.solids, 3);
});

test("thinning by 10 % is 10 parts to 100 of paint, which is 9.09 % of the mix", () => {
  // source: "1 + per cent thinner by volume", convention of film-thickness tables
  const thinning: Thinning = { by: "percent", ofPaint: 10 };
  expect(thinnerShare(thinning)).toBeCloseTo(0.1, 9);
  expect(thinnerPercentOfMix(thinning)).toBeCloseTo(9.091, 3);
});

// source: common practice for thick water-borne furniture paint, 3 parts to 1 of water
test.each([
  { total: 600, paint: 450, thinner: 150 },
  { total: 800, paint: 600, thinner: 200 },
])("$total mL at 3 to 1 are $paint mL of paint and $thinner mL of water", ({ total, paint, thinner }) => {
  expect(splitMix(total, { by: "parts", paint: 3, thinner: 1 })).toEqual({
    paintMillilitres: paint,
    thinnerMillilitres: thinner,
  });
});

test("950 mL of paint at 3 to 1 take 316.7 mL of water", () => {
  expect(950 * thinnerShare({ by: "parts", paint: 3, thinner: 1 })).toBeCloseTo(316.667, 3);
});

const thinnings = fc.oneof(
  fc.record({ by: fc.constant("parts" as const), paint: fc.integer({ min: 1, max: 20 }), thinner: fc.nat(20) }),
  fc.record({ by: fc.constant("percent" as const), ofPaint: fc.double({ min: 0, max: 200, noNaN: true }) }),
);

test("paint and thinner are always the whole mix, in the proportion that was asked for", () => {
  fc.assert(
    fc.property(thinnings, fc.double({ min: 1, max: 100_000, noNaN: true }), (thinning, millilitres) => {
      const { paintMillilitres, thinnerMillilitres } = splitMix(millilitres, thinning);
      expect(paintMillilitres + thinnerMillilitres).toBeCloseTo(millilitres, 6);
      expect(thinnerMillilitres / millilitres).toBeCloseTo(thinnerPercentOfMix(thinning) / 100, 9);
      expect(thinnerMillilitres).toBeGreaterThanOrEqual(0);
    }),
  );
});
