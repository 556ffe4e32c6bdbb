import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { countingFactor, factorAt, factorBounds, factoredTime, normalShareBelow } from "~/core/cure/factor";
import type { Product } from "~/core/shop/tables";
import { at, id, o2, w1 } from "./week";

type Observation = NonNullable<Product["observations"]>[number];
const monday = at("10-26 12:00 EDT");
const later = at("11-09 12:00 EST");

const seen = (result: "pass" | "fail", ratio: number, more: Partial<Observation> = {}): Observation => ({
  testId: id(),
  at: monday,
  result,
  ratio,
  ...more,
});
const productWith = (observations: Observation[], more: Partial<Product> = {}): Product => ({
  ...w1.product,
  observations,
  ...more,
});
const factorOf = (observations: Observation[]) => factorAt(productWith(observations), w1.sheet, later).factor;

const observation = fc.record({
  testId: fc.uuid(),
  at: fc.integer({ min: monday, max: later }),
  result: fc.constantFrom("pass" as const, "fail" as const),
  ratio: fc.double({ min: 0, max: 100, noNaN: true }),
});
const observations = fc.array(observation, { maxLength: 30 });

// Source: Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.1
test.each([
  { z: 0, share: 0.5 },
  { z: 1, share: 0.841_344_746 },
  { z: 1.96, share: 0.975_002_105 },
  { z: 3, share: 0.998_650_102 },
  { z: -1, share: 1 - 0.841_344_746 },
])("$share of a normal distribution lies below $z (Abramowitz and Stegun, table 26.1)", ({ z, share }) => {
  expect(Math.abs(normalShareBelow(z) - share)).toBeLessThan(1e-7);
});

describe("what hand tests teach of a product", () => {
  test("is exactly the sheet's time where nobody has tested, and says that it rests on no test", () => {
    expect(factorAt(w1.product, w1.sheet, later)).toMatchObject({ factor: 1, tests: 0, isOn: true });
    expect(factorAt(productWith([]), w1.sheet, later)).toMatchObject({ factor: 1, tests: 0 });
  });

  test("grows with fails at hours when the sheet calls it hard, and comes back with passes there", () => {
    const slow = [seen("fail", 1.1), seen("fail", 1.2), seen("fail", 1.15), seen("pass", 1.6)];
    const found = factorOf(slow);
    // whatever the prior: it must lie between the last fail and the first pass
    expect(found).toBeGreaterThan(1.15);
    expect(found).toBeLessThan(1.6);
    expect(factorOf([...slow, seen("pass", 1.1), seen("pass", 1.1)])).toBeLessThan(found);
  });

  test("is all but silent about a fail long before its time and a pass long after: everybody knew", () => {
    expect(factorOf([seen("fail", 0.3)])).toBeCloseTo(1, 2);
    expect(factorOf([seen("pass", 4)])).toBeCloseTo(1, 2);
  });

  test("is surer the more tests agree", () => {
    const width = (count: number) => {
      const many = Array.from({ length: count }, () => [seen("fail", 1.2), seen("pass", 1.4)]).flat();
      const { leastFactor, mostFactor } = factorAt(productWith(many), w1.sheet, later);
      return mostFactor / leastFactor;
    };
    expect([width(1) > width(3), width(3) > width(10)]).toEqual([true, true]);
  });

  test("moves faster where the sheet's own figures lie far apart than where they are close", () => {
    const narrow = { ...w1.sheet, handle: { min: 1440, typicalMin: 1300 } };
    const wide = { ...w1.sheet, handle: { min: 1440, typicalMin: 720 } };
    const slow = productWith([seen("fail", 1.3)]);
    expect(factorAt(slow, wide, later).factor).toBeGreaterThan(factorAt(slow, narrow, later).factor);
  });

  test("is not moved far by one slip of a hand", () => {
    const steady = Array.from({ length: 10 }, () => [seen("fail", 0.9), seen("pass", 1.1)]).flat();
    expect(Math.abs(factorOf([...steady, seen("pass", 0.1)]) - factorOf(steady))).toBeLessThan(0.05);
  });

  test("counts only the tests that were made by then", () => {
    const product = productWith([seen("fail", 1.5, { at: later })]);
    expect(factorAt(product, w1.sheet, later - 1)).toMatchObject({ factor: 1, tests: 0 });
    expect(factorAt(product, w1.sheet, later).factor).toBeGreaterThan(1);
  });

  test("is still learnt when it is switched off, and nothing goes by it", () => {
    const product = productWith([seen("fail", 1.5)], { isFactorOn: false });
    expect(factorAt(product, w1.sheet, later)).toMatchObject({ tests: 1, isOn: false });
    expect(factorAt(product, w1.sheet, later).factor).toBeGreaterThan(1);
    expect(countingFactor(product, w1.sheet, later)).toBe(1);
    expect(countingFactor({ ...product, isFactorOn: true }, w1.sheet, later)).toBeGreaterThan(1);
  });
});

describe("whatever hands find", () => {
  test("the factor and what it may be stay within a half and three", () => {
    fc.assert(
      fc.property(observations, (all) => {
        const { factor, leastFactor, mostFactor } = factorAt(productWith(all), o2.sheet, later);
        for (const value of [factor, leastFactor, mostFactor]) {
          expect(value).toBeGreaterThanOrEqual(factorBounds.least);
          expect(value).toBeLessThanOrEqual(factorBounds.most);
        }
        expect(leastFactor).toBeLessThanOrEqual(mostFactor);
      }),
    );
  });

  test("the order in which the tests reached the shop changes nothing", () => {
    const shuffled = observations.chain((all) =>
      fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length })),
    );
    fc.assert(
      fc.property(shuffled, ([all, other]) => {
        expect(factorAt(productWith(other), w1.sheet, later)).toEqual(factorAt(productWith(all), w1.sheet, later));
      }),
    );
  });

  test("one more fail never lowers the factor, one more pass never raises it", () => {
    fc.assert(
      fc.property(observations, observation, (all, next) => {
        const change = factorOf([...all, next]) - factorOf(all);
        if (next.result === "fail") expect(change).toBeGreaterThan(-1e-6);
        else expect(change).toBeLessThan(1e-6);
      }),
    );
  });

  test("no factor brings the safe time before the sheet's, nor before the likely one", () => {
    const time = fc.record({
      min: fc.integer({ min: 10, max: 50_000 }),
      share: fc.double({ min: 0.1, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(time, observations, ({ min, share }, all) => {
        const { safeMin, likelyMin } = factoredTime({ min, typicalMin: min * share }, factorOf(all));
        expect(safeMin).toBeGreaterThanOrEqual(min);
        expect(safeMin).toBeGreaterThanOrEqual(likelyMin);
      }),
    );
  });
});

// by hand: 24 h × 1.2 = 28.8 h; × 0.8 = 19.2 h, but the sheet's 24 h stay
test("a film that takes 1.2 times the sheet's day is safe after 28.8 hours; one that takes 0.8 stays at the sheet's 24", () => {
  expect(factoredTime({ min: 1440 }, 1.2)).toEqual({ safeMin: 1728, likelyMin: 1728 });
  expect(factoredTime({ min: 1440 }, 0.8)).toEqual({ safeMin: 1440, likelyMin: 1152 });
  expect(factoredTime({ min: 1440, typicalMin: 1000 }, 1.2)).toEqual({ safeMin: 1440, likelyMin: 1200 });
});
