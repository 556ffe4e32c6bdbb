import fc from "fast-check";
import { expect, test } from "vitest";
import { blushLevel } from "~/core/climate/blush";
import { dewPointCelsius } from "~/core/climate/dew-point";

// sources: finishers' published rules (not above 65 % RH; not within 20 °F of the dew point; blush at or above 75 %; a
// label's 85 % and 15 °F). The level between them is this product's choice (common practice)
test.each([
  { degrees: 70, percent: 50, level: "caution" },
  { degrees: 70, percent: 65, level: "stop" },
  { degrees: 75, percent: 65, level: "stop" },
  { degrees: 80, percent: 50, level: "none" },
  { degrees: 80, percent: 65, level: "stop" },
  { degrees: 80, percent: 75, level: "stop" },
  { degrees: 80, percent: 85, level: "hard-stop" },
])("shellac and lacquer at $degrees °F and $percent % RH: $level", ({ degrees, percent, level }) => {
  const celsius = ((degrees - 32) * 5) / 9;
  expect(blushLevel(percent, celsius - dewPointCelsius(celsius, percent))).toBe(level);
});

test("damper air or a colder surface never lowers the level", () => {
  const order = ["none", "caution", "stop", "hard-stop"];
  const rank = (percent: number, spread: number) => order.indexOf(blushLevel(percent, spread));
  const [percent, spread] = [
    fc.double({ min: 1, max: 99, noNaN: true }),
    fc.double({ min: -10, max: 30, noNaN: true }),
  ];
  const more = fc.double({ min: 0, max: 20, noNaN: true });
  fc.assert(
    fc.property(percent, spread, more, (humidity, above, step) => {
      expect(rank(humidity + step, above)).toBeGreaterThanOrEqual(rank(humidity, above));
      expect(rank(humidity, above - step)).toBeGreaterThanOrEqual(rank(humidity, above));
    }),
  );
});
