import { describe, expect, test } from "vitest";
import type { Product } from "~/core/shop/tables";
import { factorView } from "~/ui/shelf/factor-view";
import { at, id, w1 } from "../../core/cure/week";

const now = at("11-09 12:00 EST");
const tested = (results: ["pass" | "fail", number][], more: Partial<Product> = {}): Product => ({
  ...w1.product,
  observations: results.map(([result, ratio]) => ({ testId: id(), at: now - 1, result, ratio })),
  ...more,
});
const slow = tested([
  ["fail", 1.1],
  ["fail", 1.2],
  ["pass", 1.4],
]);

describe("what a shop's own tests say of a product", () => {
  test("is said with how many tests and how sure, and what a day on the sheet becomes", () => {
    const view = factorView(slow, w1.sheet, now);
    expect(view.head).toMatch(/^Your shop’s films of this take 1\.\d+ × the sheet’s time\.$/);
    expect(view.sure).toMatch(/^3 tests · 4 in 5 sure it is between \d\.\d+ and \d\.\d+ ×$/);
    expect(view.day).toMatch(/^24 h on the sheet: (2[5-9]|3[0-3]) h( \d\d)? here\.$/);
  });

  test("never promises that a quick film opens a gate early", () => {
    const quick = factorView(
      tested([
        ["pass", 0.7],
        ["pass", 0.75],
        ["pass", 0.7],
      ]),
      w1.sheet,
      now,
    );
    expect(quick.day).toContain("Safe stays at 24 h");
  });

  test("says that nobody has tested rather than that the sheet is right", () => {
    expect(factorView(w1.product, w1.sheet, now)).toMatchObject({ tests: 0, day: "" });
    expect(factorView(w1.product, w1.sheet, now).head).toContain("No hand test");
  });

  test("is still shown while it is switched off", () => {
    const off = factorView({ ...slow, isFactorOn: false }, w1.sheet, now);
    expect([off.isOn, off.head]).toEqual([false, factorView(slow, w1.sheet, now).head]);
  });
});
