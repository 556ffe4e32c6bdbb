import { describe, expect, test } from "vitest";
import { roomAir } from "~/core/climate/history";
import { type AirLimits, coatingAir, type MeasuredFor } from "~/core/climate/limits";
import { hourMs } from "~/core/units";
import { at, loft, reading } from "../cure/week";

const noon = at("10-28 12:00");
const waterBorne: AirLimits = { minimumCelsius: 10, maximumCelsius: 32, humidityLimitPercent: 85, dewSpreadCelsius: 3 };

const answerIn = (airCelsius: number, humidityPercent: number, measured: MeasuredFor, limits = waterBorne) =>
  coatingAir(limits, roomAir([reading(loft, noon, airCelsius, { humidityPercent })], loft), noon, measured);

describe("the minimum film-forming temperature", () => {
  // source: ASTM D2354 measures it; that the coldest of air, product and surface counts is common practice
  test.each([
    { air: 14, surface: 9, product: 16, held: "surface" },
    { air: 12, surface: 11, product: 15, held: undefined },
    { air: 20, surface: 19, product: 8, held: "product" },
    { air: 9, surface: 9, product: 9, held: "air" },
  ])("of 10 °C with air $air, piece $surface, can $product is held by: $held", ({ air, surface, product, held }) => {
    const answer = answerIn(air, 40, { surfaceCelsius: surface, productCelsius: product });
    const minimum = answer.state === "unfit" ? answer.failing.find((failed) => failed.limit === "minimum") : undefined;
    expect(minimum?.limit === "minimum" ? minimum.of : undefined).toBe(held);
  });

  test("asks nothing of a can that nobody measured", () => {
    expect(answerIn(20, 40, { surfaceCelsius: 20 })).not.toHaveProperty("productCelsius");
  });
});

describe("a piece that was carried in from the cold", () => {
  // source: finishers' advice on a clear coat in a garage of 9 °C: not there; indoors only once wood and can have warmed
  test("is refused in the garage, and waiting there would not help", () => {
    const garage = answerIn(9, 60, { surfaceCelsius: 9 });
    expect(garage).toMatchObject({ state: "unfit", failing: [{ limit: "minimum", of: "air", foundCelsius: 9 }] });
    expect(garage).not.toHaveProperty("acclimatising");
  });

  test("waits in the warm room until it is at the minimum, better within 3 °C of the room", () => {
    expect(answerIn(20, 30, { surfaceCelsius: 9 })).toMatchObject({
      state: "unfit",
      acclimatising: { what: "surface", foundCelsius: 9, atLeastCelsius: 10, betterCelsius: 17 },
    });
  });

  test("waits longer in a damp room, where dew would fall on it", () => {
    // dew point of 20 °C and 60 %: 12.0 °C (WMO-No. 8), and the rule asks for 3 °C above
    const damp = answerIn(20, 60, { surfaceCelsius: 11 });
    expect(damp.state === "unfit" && damp.acclimatising?.atLeastCelsius).toBeCloseTo(15, 1);
  });

  test("may be coated when it is over the minimum, and is still told to warm up", () => {
    expect(answerIn(20, 30, { surfaceCelsius: 12 })).toMatchObject({
      state: "fit",
      acclimatising: { what: "surface", foundCelsius: 12, betterCelsius: 17 },
    });
    expect(answerIn(20, 30, { surfaceCelsius: 17 })).not.toHaveProperty("acclimatising");
  });

  test("is told of the cold can where that is what is colder", () => {
    expect(answerIn(20, 40, { surfaceCelsius: 19, productCelsius: 8 })).toMatchObject({
      state: "unfit",
      acclimatising: { what: "product", foundCelsius: 8, atLeastCelsius: 10 },
    });
  });

  test("counts as measured when somebody measured it for this coat, whatever the room's last surface was", () => {
    const air = roomAir([reading(loft, noon - hourMs, 20, { surfaceCelsius: 19 }), reading(loft, noon, 20)], loft);
    expect(coatingAir(waterBorne, air, noon)).toMatchObject({ state: "fit", surfaceCelsius: 19 });
    expect(coatingAir(waterBorne, air, noon, { surfaceCelsius: 9 })).toMatchObject({
      state: "unfit",
      surfaceCelsius: 9,
      isSurfaceMeasured: true,
    });
  });
});

describe("milky lacquer on a rainy day", () => {
  // source: a finishing forum's case, with 20 °F (11.1 °C) over the dew point as what fast solvents need
  const lacquer: AirLimits = { minimumCelsius: 10, maximumCelsius: 32, dewSpreadCelsius: 11.1 };
  test.each([
    { day: "rainy", air: 15.6, percent: 90, dewPoint: 14.0, spread: 1.6, state: "unfit" },
    { day: "muggy", air: 26.7, percent: 60.1, dewPoint: 18.3, spread: 8.4, state: "unfit" },
    { day: "dry", air: 22, percent: 40, dewPoint: 7.8, spread: 14.2, state: "fit" },
  ])("is $state in the $day air, $spread °C over its dew point", ({ air, percent, dewPoint, spread, state }) => {
    const answer = answerIn(air, percent, { surfaceCelsius: air }, lacquer);
    if (answer.state === "unknown") throw new Error("the room was read at this very instant");
    expect(answer.state).toBe(state);
    expect(Math.abs(answer.dewPointCelsius - dewPoint)).toBeLessThan(0.2);
    expect(Math.abs(answer.spreadCelsius - spread)).toBeLessThan(0.2);
  });
});
