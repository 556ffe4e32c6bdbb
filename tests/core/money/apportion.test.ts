import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { apportion, byCodePoint } from "~/core/money/apportion";

const byWeights = (whole: number, weights: readonly number[]) =>
  apportion(
    whole,
    weights.map((weight) => ({ weight })),
  );
const sumOf = (parts: readonly number[]) => parts.reduce((sum, part) => sum + part, 0);

// 15 states and 60 seats: electowiki.org, "Hamilton method" (oldid 9372). The two with 25 and 26 seats are the usual
// example of the Alabama paradox and the ten seats that of the method, both widely reprinted (from memory). The shares
// of 41237 by hand: 725/1650 = 18119.29, 550/1650 = 13745.67, 375/1650 = 9372.05.
test.each([
  {
    what: "fifteen states share sixty seats as Hamilton had it",
    whole: 60,
    weights: [
      630560, 475327, 432879, 353523, 331589, 278514, 236841, 206236, 179570, 141822, 85533, 70835, 68705, 68446, 55540,
    ],
    parts: [11, 8, 7, 6, 6, 5, 4, 3, 3, 2, 1, 1, 1, 1, 1],
  },
  { what: "ten seats", whole: 10, weights: [47000, 16000, 15800, 12000, 6100, 3100], parts: [5, 2, 1, 1, 1, 0] },
  { what: "25 seats", whole: 25, weights: [1500, 1500, 900, 500, 500, 200], parts: [7, 7, 4, 3, 3, 1] },
  {
    what: "a 26th seat costs two their third",
    whole: 26,
    weights: [1500, 1500, 900, 500, 500, 200],
    parts: [8, 8, 5, 2, 2, 1],
  },
  { what: "cents by three weights", whole: 41237, weights: [725, 550, 375], parts: [18119, 13746, 9372] },
  { what: "a hundred dollars by thirds", whole: 10000, weights: [1, 1, 1], parts: [3334, 3333, 3333] },
])("$what", ({ whole, weights, parts }) => {
  expect(byWeights(whole, weights)).toEqual(parts);
});

describe("ties", () => {
  test("go to the larger weight first", () => {
    // quotas 0.5 and 1.5
    expect(byWeights(2, [1, 3])).toEqual([0, 2]);
  });

  test("then to the lower piece number, wherever it stands in the list", () => {
    const shares = [
      { weight: 1, name: "K-203" },
      { weight: 1, name: "K-201" },
    ];
    expect(apportion(1, shares)).toEqual([0, 1]);
  });

  test("then to the lower id", () => {
    const shares = [
      { weight: 1, name: "K-201", id: "b" },
      { weight: 1, name: "K-201", id: "a" },
    ];
    expect(apportion(1, shares)).toEqual([0, 1]);
  });

  test("are the same on every device: names compare by code point, not by language or code unit", () => {
    // U+FF21 comes before U+1F6CB, though its code unit is above the other's first
    expect(byCodePoint("\u{FF21}", "\u{1F6CB}")).toBe(-1);
    expect(byCodePoint("Z", "ä")).toBe(-1);
    expect(byCodePoint("K-2", "K-20")).toBe(-1);
  });
});

describe("for every whole and every weights", () => {
  const weights = fc.array(fc.integer({ min: 0, max: 1_000_000_000 }), { minLength: 1, maxLength: 24 });
  const usable = weights.filter((list) => list.some((weight) => weight > 0));
  const whole = fc.integer({ min: -1_000_000_000_000, max: 1_000_000_000_000 });

  test("the parts add up to the whole exactly", () => {
    fc.assert(
      fc.property(whole, usable, (cents, list) => {
        expect(sumOf(byWeights(cents, list))).toBe(cents);
      }),
    );
  });

  test("no part is a whole unit away from its quota", () => {
    fc.assert(
      fc.property(whole, usable, (cents, list) => {
        const total = list.reduce((sum, weight) => sum + BigInt(weight), 0n);
        byWeights(cents, list).forEach((part, index) => {
          const off = BigInt(part) * total - BigInt(cents) * BigInt(list[index] ?? 0);
          expect(off < total && off > -total).toBe(true);
        });
      }),
    );
  });

  test("a loss is shared as the same gain, with the sign put on last", () => {
    fc.assert(
      fc.property(whole, usable, (cents, list) => {
        expect(byWeights(0 - cents, list)).toEqual(byWeights(cents, list).map((part) => 0 - part));
      }),
    );
  });

  test("numbers too large for floating point are shared like small ones", () => {
    // the same proportions, a thousand million times over
    const large = byWeights(9_000_000_000_000_000, [2_000_000_000_000, 1_000_000_000_000]);
    expect(large).toEqual([6_000_000_000_000_000, 3_000_000_000_000_000]);
  });
});

test.each([
  ["half a cent", () => byWeights(0.5, [1])],
  ["a negative weight", () => byWeights(10, [1, -1])],
  ["half a weight", () => byWeights(10, [0.5])],
  ["something among weights that are all 0", () => byWeights(10, [0, 0])],
  ["something among nobody", () => byWeights(10, [])],
])("sharing %s is a mistake of the caller", (_, share) => {
  expect(share).toThrow(RangeError);
});

test("nothing can be shared among weights that are all 0", () => {
  expect(byWeights(0, [0, 0])).toEqual([0, 0]);
});
