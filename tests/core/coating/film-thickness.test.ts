import fc from "fast-check";
import { expect, test } from "vitest";
import {
  dryFilmMicrometres,
  notchGaugeMicrometres,
  thinCoatsTimeRatio,
  wetFilmMicrometres,
} from "~/core/coating/film-thickness";
import { micrometresPerMil } from "~/core/coating/spreading";

// source: arithmetic of ISO 23811, volume solids by ISO 3233; 8 mil at 35 % → 2.8 mil is a published worked example
test.each([
  { wet: 8 * micrometresPerMil, solids: 35, share: 0, dry: 2.8 * micrometresPerMil },
  { wet: 8 * micrometresPerMil, solids: 35, share: 0.1, dry: 2.545 * micrometresPerMil },
  { wet: 100, solids: 40, share: 0, dry: 40 },
  { wet: 100, solids: 40, share: 0.1, dry: 36.364 },
  { wet: 120, solids: 38, share: 1 / 3, dry: 34.2 },
  { wet: 150, solids: 35, share: 0.25, dry: 42 },
  // common practice, the usual film and solids of generic types
  { wet: 100, solids: 36, share: 0, dry: 36 },
  { wet: 80, solids: 45, share: 0, dry: 36 },
  { wet: 100, solids: 18, share: 0, dry: 18 },
])("$wet µm wet at $solids % solids, thinned by $share, dries to $dry µm", ({ wet, solids, share, dry }) => {
  expect(dryFilmMicrometres(wet, solids, share)).toBeCloseTo(dry, 1);
});

// source: the same
test.each([
  { dry: 2.8 * micrometresPerMil, solids: 35, share: 0, wet: 8 * micrometresPerMil },
  { dry: 2.8 * micrometresPerMil, solids: 35, share: 0.1, wet: 8.8 * micrometresPerMil },
  { dry: 40, solids: 40, share: 0.1, wet: 110 },
  { dry: 40, solids: 35, share: 1 / 3, wet: 152.381 },
])("for $dry µm dry at $solids % solids, thinned by $share, $wet µm are laid wet", ({ dry, solids, share, wet }) => {
  expect(wetFilmMicrometres(dry, solids, share)).toBeCloseTo(wet, 2);
});

test("a wet film worked out for a dry one dries to just that one", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 3000, noNaN: true }),
      fc.double({ min: 1, max: 100, noNaN: true }),
      fc.double({ min: 0, max: 3, noNaN: true }),
      (dry, solids, share) => {
        expect(dryFilmMicrometres(wetFilmMicrometres(dry, solids, share), solids, share) / dry).toBeCloseTo(1, 9);
      },
    ),
  );
});

// source: ASTM D4414, the film lies between the deepest wetted notch and the next dry one
test("the comb says between which notches the film lies, and nothing when it is drowned or dry", () => {
  expect(notchGaugeMicrometres([25, 50, 75, 100], [125, 150])).toEqual({ from: 100, to: 125 });
  expect(notchGaugeMicrometres([25, 50], [])).toBeUndefined();
  expect(notchGaugeMicrometres([], [25, 50])).toBeUndefined();
});

// source: diffusion time goes with the square of the thickness
test.each([
  { parts: [0.5, 0.5], ratio: 0.5 },
  { parts: [1 / 3, 1 / 3, 1 / 3], ratio: 1 / 3 },
  { parts: [2], ratio: 4 },
])("coats of $parts of a film dry in $ratio of the time of one", ({ parts, ratio }) => {
  expect(thinCoatsTimeRatio(parts)).toBeCloseTo(ratio, 9);
});
