/** What a film earns, against the same integral by a general solver of differential equations that knows none of our tables. */
import fc from "fast-check";
import * as mathjs from "mathjs";
import { describe, expect, test } from "vitest";
import { airWithReading, roomAir } from "~/core/climate/history";
import type { CureReference } from "~/core/cure/rate";
import { lineMinutes, rateIn, slowClock } from "~/core/cure/rate";
import { rateLaw } from "~/core/cure/rate-laws";
import { minutesBy, rateTable } from "~/core/cure/rate-table";
import { earnedBetween, roomCredit, roomReachedAt } from "~/core/cure/room-credit";
import { mechanisms } from "~/core/shop/entities/products";
import type { Reading } from "~/core/shop/tables";
import { hourMs, minuteMs } from "~/core/units";
import { at, loft, reading } from "./week";

type Solution = { t: number[]; y: number[][] };
/** Its published types leave this function out. */
const { solveODE } = mathjs as unknown as {
  solveODE: (
    slope: (t: number) => number[],
    span: [number, number],
    start: number[],
    options: Record<string, number>,
  ) => Solution;
};
const startAt = at("10-20 12:00 EDT");

/** Random air: every 5 to 40 minutes a reading, to a tenth, from 4 to 32 °C. */
const walkUpTo = (dampestTenths: number, most: number) =>
  fc
    .array(
      fc.record({
        afterMin: fc.integer({ min: 5, max: 40 }),
        tenths: fc.integer({ min: 40, max: 320 }),
        humidityTenths: fc.integer({ min: 200, max: dampestTenths }),
      }),
      { minLength: 4, maxLength: most },
    )
    .map((steps): Reading[] => {
      let now = startAt;
      return steps.map(({ afterMin, tenths, humidityTenths }) => {
        now += afterMin * minuteMs;
        return reading(loft, now, tenths / 10, { humidityPercent: humidityTenths / 10 });
      });
    });
const walk = walkUpTo(950, 14);
/** Nowhere so damp that drying stops with a jump. */
const dryWalk = walkUpTo(800, 7);
/** As rooms are: a tenth or two, a percent or two from reading to reading. */
const mildWalk = fc
  .record({
    tenths: fc.integer({ min: 80, max: 260 }),
    humidityTenths: fc.integer({ min: 350, max: 700 }),
    steps: fc.array(fc.tuple(fc.integer({ min: -4, max: 4 }), fc.integer({ min: -20, max: 20 })), {
      minLength: 20,
      maxLength: 60,
    }),
  })
  .map(({ tenths, humidityTenths, steps }): Reading[] => {
    let [celsius, humidity] = [tenths, humidityTenths];
    return steps.map(([warmer, damper], index) => {
      celsius += warmer;
      humidity += damper;
      const humidityPercent = Math.min(99, Math.max(5, humidity / 10));
      return reading(loft, startAt + index * 10 * minuteMs, celsius / 10, { humidityPercent });
    });
  });

const references: CureReference[] = [
  ...mechanisms.map((mechanism) => ({
    mechanism,
    rateRule: "mechanism" as const,
    referenceCelsius: 23,
    referenceHumidityPercent: 50,
    minimumCelsius: 10,
    ...(mechanism === "solvent" && { solvent: "toluene" as const }),
    ...(mechanism === "reactive" && { activationKilojoules: 65 }),
    ...(mechanism === "glue" && { chalkCelsius: 12 }),
  })),
  { mechanism: "oxidative", referenceCelsius: 20, referenceHumidityPercent: 50, minimumCelsius: 10 },
];
const nameOf = ({ mechanism, rateRule }: CureReference) => (rateRule ? mechanism : `${mechanism} by doubling`);

type Ends = Pick<Reading, "at" | "airCelsius" | "humidityPercent">;

/** One smooth stretch as mathjs solves y′ = rate(t) from the law alone; in minutes. */
const solved = (from: Ends, to: Ends, reference: CureReference): number => {
  const law = rateLaw(reference);
  const minutes = (to.at - from.at) / minuteMs;
  // a hair inside, because the law may jump at the very end of a stretch
  const along = (start: number, end: number, minute: number) =>
    start + Math.min(1 - 1e-9, Math.max(1e-9, minute / minutes)) * (end - start);
  const { y } = solveODE(
    (minute: number) => [
      rateIn(law, slowClock, {
        celsius: along(from.airCelsius, to.airCelsius, minute),
        humidityPercent: along(from.humidityPercent, to.humidityPercent, minute),
      }),
    ],
    [0, minutes],
    [0],
    { tol: 1e-5, firstStep: minutes / 4, maxStep: minutes / 4, maxIter: 2000 },
  );
  return y.at(-1)?.[0] as number;
};

/** The solver cannot see a jump coming: it gets the parts on either side of the law's lowest temperature. */
const solvedWithJump = (from: Ends, to: Ends, reference: CureReference): number => {
  const lowest = rateLaw(reference).nothingBelowCelsius;
  const share = (lowest - from.airCelsius) / (to.airCelsius - from.airCelsius);
  if (!(share > 0 && share < 1)) return solved(from, to, reference);
  const middle = (nudge: number) => ({
    at: from.at + (share + nudge) * (to.at - from.at),
    airCelsius: from.airCelsius + (share + nudge) * (to.airCelsius - from.airCelsius),
    humidityPercent: from.humidityPercent + share * (to.humidityPercent - from.humidityPercent),
  });
  return solved(from, middle(-1e-9), reference) + solved(middle(1e-9), to, reference);
};

describe.each(references.map((reference) => ({ name: nameOf(reference), reference })))("$name", ({ reference }) => {
  test("earns what a general solver of differential equations makes of its law, to a thousandth", () => {
    fc.assert(
      fc.property(dryWalk, (readings) => {
        const credit = roomCredit(roomAir(readings, loft), reference);
        const [first, last] = [readings[0] as Reading, readings.at(-1) as Reading];
        const earned = earnedBetween(credit, "safe", first.at, last.at, { at: last.at, countsAway: false });
        const expected = readings.slice(1).reduce((sum, to, index) => {
          return sum + solvedWithJump(readings[index] as Reading, to, reference);
        }, 0);
        expect(Math.abs(earned - expected)).toBeLessThanOrEqual(0.001 * expected + 0.002);
      }),
      { numRuns: 8 },
    );
  });

  test("is looked up as it is worked out, in mild and in wild air, to a millionth of a minute and one of its own", () => {
    const law = rateLaw(reference);
    const table = rateTable(law, slowClock);
    fc.assert(
      fc.property(fc.oneof(walk, mildWalk), (readings) => {
        const air = roomAir(readings, loft);
        const credit = roomCredit(air, reference);
        const lines = readings.slice(1).map((to, index) => {
          const from = readings[index] as Reading;
          return {
            fromAt: from.at,
            toAt: to.at,
            from: { celsius: from.airCelsius, humidityPercent: from.humidityPercent },
            to: { celsius: to.airCelsius, humidityPercent: to.humidityPercent },
          };
        });
        const exact = lines.reduce((sum, line) => sum + lineMinutes(line, law, slowClock), 0);
        const apart = lines.reduce((sum, line) => sum + minutesBy(table, line), 0);
        const [from, to] = [readings[0] as Reading, readings.at(-1) as Reading];
        const earned = earnedBetween(credit, "safe", from.at, to.at, { at: to.at, countsAway: false });
        expect(Math.abs(apart - exact)).toBeLessThan(1e-6 + 1e-6 * exact);
        expect(Math.abs(earned - exact)).toBeLessThan(1e-6 + 1e-6 * exact);
      }),
      { numRuns: 60 },
    );
  });

  test("is reached at the first millisecond that has it, wherever that lies", () => {
    fc.assert(
      fc.property(
        fc.oneof(walk, mildWalk),
        fc.double({ min: 0.001, max: 3, noNaN: true }),
        fc.integer({ min: -30, max: 200 }),
        fc.constantFrom("safe" as const, "promise" as const, "likely" as const, "fast" as const),
        (readings, share, fromMin, track) => {
          const last = readings.at(-1) as Reading;
          const asked = { at: last.at + 20 * minuteMs, countsAway: false };
          const credit = roomCredit(roomAir(readings, loft), reference);
          const fromAt = (readings[0] as Reading).at + fromMin * minuteMs;
          const needed = share * ((last.at - startAt) / minuteMs);
          const reachedAt = roomReachedAt(credit, track, fromAt, needed, asked);
          if (reachedAt === undefined) {
            const later = earnedBetween(credit, track, fromAt, fromAt + 24 * 365 * hourMs, asked);
            expect(later).toBeLessThan(needed);
            return;
          }
          const earnedBy = (instant: number) => earnedBetween(credit, track, fromAt, instant, asked);
          expect(earnedBy(reachedAt)).toBeGreaterThanOrEqual(needed - 1.01e-6);
          if (reachedAt > fromAt) expect(earnedBy(reachedAt - 1)).toBeLessThan(needed - 0.99e-6);
        },
      ),
      { numRuns: 150 },
    );
  });
});

/** Magnus over water: 17.62 and 243.12 °C. Source: WMO-No. 8, annex 4.B. */
const deficitHectopascal = ({ airCelsius, humidityPercent }: Ends) =>
  mathjs.evaluate("6.112 * exp(17.62 * t / (243.12 + t)) * (1 - h / 100)", { t: airCelsius, h: humidityPercent });

/** Shares of a stretch where something changes its sign, found on a fine grid and then by halving. */
const crossings = (from: Ends, to: Ends, above: (ends: Ends) => boolean): number[] => {
  const at = (share: number): Ends => ({
    at: from.at + share * (to.at - from.at),
    airCelsius: from.airCelsius + share * (to.airCelsius - from.airCelsius),
    humidityPercent: from.humidityPercent + share * (to.humidityPercent - from.humidityPercent),
  });
  return Array.from({ length: 200 }, (_, index) => index / 200).flatMap((start) => {
    let [low, high] = [start, start + 1 / 200];
    const isAbove = above(at(low));
    if (above(at(high)) === isAbove) return [];
    for (let step = 0; step < 40; step += 1) {
      const middle = (low + high) / 2;
      if (above(at(middle)) === isAbove) low = middle;
      else high = middle;
    }
    return [high];
  });
};

/** As solved, with every jump in sight of the solver: the lowest temperature, and 0.15 kPa of room for water (common practice). */
const solvedWithStops = (from: Ends, to: Ends, reference: CureReference): number => {
  const lowest = rateLaw(reference).nothingBelowCelsius;
  const cuts = [
    0,
    ...crossings(from, to, (ends) => ends.airCelsius >= lowest),
    ...crossings(from, to, (ends) => deficitHectopascal(ends) >= 1.5),
    1,
  ].sort((one, other) => one - other);
  const at = (share: number): Ends => ({
    at: from.at + share * (to.at - from.at),
    airCelsius: from.airCelsius + share * (to.airCelsius - from.airCelsius),
    humidityPercent: from.humidityPercent + share * (to.humidityPercent - from.humidityPercent),
  });
  return cuts.slice(1).reduce((sum, end, index) => {
    const start = cuts[index] as number;
    return end - start < 1e-6 ? sum : sum + solved(at(start + 1e-9), at(end - 1e-9), reference);
  }, 0);
};

const waterBorne = references.filter(({ mechanism }) => mechanism === "water-borne" || mechanism === "filler");

test.each(waterBorne.map((reference) => ({ name: nameOf(reference), reference })))(
  "in air of up to 98 % RH $name stops under 0.15 kPa of room for water, and earns what the solver makes of the rest",
  ({ reference }) => {
    let stretchesStopped = 0;
    fc.assert(
      fc.property(walkUpTo(980, 7), (readings) => {
        const credit = roomCredit(roomAir(readings, loft), reference);
        const [first, last] = [readings[0] as Reading, readings.at(-1) as Reading];
        const earned = earnedBetween(credit, "safe", first.at, last.at, { at: last.at, countsAway: false });
        const expected = readings.slice(1).reduce((sum, to, index) => {
          const from = readings[index] as Reading;
          if (deficitHectopascal(from) < 1.5 !== deficitHectopascal(to) < 1.5) stretchesStopped += 1;
          return sum + solvedWithStops(from, to, reference);
        }, 0);
        expect(Math.abs(earned - expected)).toBeLessThanOrEqual(0.001 * expected + 0.002);
      }),
      { numRuns: 12, seed: 1515 },
    );
    expect(stretchesStopped).toBeGreaterThan(3);
  },
);

test("a history that grows reading by reading earns what one read at once does, and so does each that was cut off or forked", () => {
  fc.assert(
    fc.property(fc.oneof(walk, mildWalk), fc.constantFrom(...references), fc.nat(), (readings, reference, seed) => {
      const last = readings.at(-1) as Reading;
      const fork = seed % readings.length;
      const earnedIn = (air: ReturnType<typeof roomAir>) =>
        (["safe", "likely", "fast"] as const).map((track) =>
          earnedBetween(roomCredit(air, reference), track, startAt, last.at, { at: last.at, countsAway: false }),
        );
      let grown = roomAir([], loft);
      let forked: typeof grown | undefined;
      const colder = reading(loft, last.at + 15 * minuteMs, 5);
      for (const [index, found] of readings.entries()) {
        grown = airWithReading(grown, found);
        earnedIn(grown);
        if (index === fork) {
          forked = airWithReading(grown, colder);
          earnedIn(forked);
        }
      }
      expect(earnedIn(grown)).toEqual(earnedIn(roomAir(readings, loft)));
      const until = readings.slice(0, fork + 1);
      expect(earnedIn(forked as typeof grown)).toEqual(earnedIn(roomAir([...until, colder], loft)));
    }),
    { numRuns: 60 },
  );
});
