import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { hourAhead } from "~/core/climate/forecast";
import type { ForecastHour } from "~/core/climate/forecast-hours";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import { wordsOf } from "~/ui/wording";
import {
  aReading,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  loft,
  monday8,
  refusalOf,
  rule,
  shopWith,
  silas,
} from "../support/shop";

const made = id(701);
const anHour = (hoursAhead: number, row: Partial<ForecastHour> = {}): ForecastHour => ({
  fromAt: monday8 + hoursAhead * hourMs,
  lowCelsius: 12,
  likelyCelsius: 14,
  likelyHumidityPercent: 60,
  highHumidityPercent: 75,
  ...row,
});
const bodyOf = (hours: ForecastHour[], row: object = {}) => ({ forecastId: made, roomId: loft, hours, ...row });
const faultsOf = (hours: ForecastHour[]) => {
  const refusal = refusalOf(rule(shopWith({}), envelopeOf("type-forecast", bodyOf(hours), silas)));
  return refusal.kind === "forecast-not-fit" ? refusal.hours : refusal;
};

describe("a typed forecast", () => {
  test("is kept as it was typed, with who typed it and when", () => {
    const facts = shopWith({});
    const hours = [anHour(0), anHour(1), anHour(30)];
    expect(eventKinds(rule(facts, envelopeOf("type-forecast", bodyOf(hours), silas)))).toEqual(["forecast-set"]);
    expect(facts.all("forecast")).toEqual([
      { id: made, roomId: loft, source: "typed", setAt: monday8, setBy: silas, hours },
    ]);
  });

  test("is replaced whole by the next one, whoever types it: a room has one", () => {
    const facts = shopWith({});
    rule(facts, envelopeOf("type-forecast", bodyOf([anHour(0), anHour(1)]), silas));
    const later = { at: monday8 + minuteMs };
    rule(
      facts,
      envelopeOf("type-forecast", bodyOf([anHour(5)], { forecastId: id(702), source: "import" }), fern, later),
    );
    expect(facts.all("forecast")).toEqual([
      { id: made, roomId: loft, source: "import", setAt: later.at, setBy: fern, hours: [anHour(5)] },
    ]);
  });

  test("that says what stands already changes nothing, not even who said it first", () => {
    const facts = shopWith({});
    rule(facts, envelopeOf("type-forecast", bodyOf([anHour(0)]), silas));
    expect(rule(facts, envelopeOf("type-forecast", bodyOf([anHour(0)]), fern))).toEqual({
      verdict: "accepted",
      events: [],
    });
  });

  test("is for partners: a helper is told who can", () => {
    expect(refusalOf(rule(shopWith({}), envelopeOf("type-forecast", bodyOf([anHour(0)]), hanna)))).toMatchObject({
      kind: "may-not",
      role: "helper",
      needs: ["owner", "partner"],
    });
  });

  test("needs a room that is there and not closed", () => {
    const unknown = envelopeOf("type-forecast", bodyOf([anHour(0)], { roomId: id(999) }), silas);
    expect(refusalOf(rule(shopWith({}), unknown))).toEqual({ kind: "unknown-thing", field: "roomId" });
    const facts = shopWith({});
    const room = facts.get("room", loft);
    if (room) facts.put("room", { ...room, closedAt: monday8 - hourMs });
    expect(refusalOf(rule(facts, envelopeOf("type-forecast", bodyOf([anHour(0)]), silas)))).toMatchObject({
      kind: "after-it-left",
    });
  });

  test("counts before the pattern of the week, from the hour on that it speaks of", () => {
    const facts = shopWith({ reading: [aReading({ id: id(711), at: monday8 - minuteMs, airCelsius: 18 })] });
    rule(facts, envelopeOf("type-forecast", bodyOf([anHour(2, { lowCelsius: 4 })]), silas));
    const air = facts.air(loft, monday8);
    expect([1, 2, 3].map((hour) => hourAhead(air, monday8 + hour * hourMs)?.lowCelsius)).toEqual([18, 4, 18]);
  });
});

describe("hours that cannot be are refused, all of them named", () => {
  test.each([
    { hours: [anHour(0, { fromAt: monday8 + minuteMs })], row: 1, why: "no-whole-hour" },
    { hours: [anHour(0), anHour(0)], row: 2, why: "twice" },
    { hours: [anHour(3), anHour(1)], row: 2, why: "out-of-order" },
    { hours: [anHour(-1)], row: 1, why: "over-already" },
    { hours: [anHour(241)], row: 1, why: "too-far-ahead" },
    { hours: [anHour(0, { lowCelsius: -41 })], row: 1, why: "cannot-be", min: -40, max: 60, unit: "°C" },
    { hours: [anHour(0, { highHumidityPercent: 101 })], row: 1, why: "cannot-be", min: 1, max: 100, unit: "% RH" },
    { hours: [anHour(0, { lowCelsius: 12.34 })], row: 1, why: "finer-than-a-tenth", found: 12.34 },
    { hours: [anHour(0, { lowCelsius: 15 })], row: 1, why: "low-above-likely", found: 15, max: 14 },
    { hours: [anHour(0, { highHumidityPercent: 55 })], row: 1, why: "high-below-likely", found: 55, min: 60 },
  ])("hour $row $why", ({ hours, ...fault }) => {
    expect(faultsOf(hours)).toMatchObject([fault]);
  });

  test("the good hours among them are not kept either", () => {
    const facts = shopWith({});
    rule(facts, envelopeOf("type-forecast", bodyOf([anHour(0), anHour(1, { lowCelsius: 99 })]), silas));
    expect(facts.all("forecast")).toEqual([]);
  });

  test("in words that name the hour, what was found and what can be", () => {
    const hours = [anHour(0), anHour(1, { lowCelsius: 99 })];
    const refusal = refusalOf(rule(shopWith({}), envelopeOf("type-forecast", bodyOf(hours), silas)));
    const name = (found?: string) => found ?? "";
    const names = { member: name, surface: name, room: name, task: name, joint: name };
    const words = wordsOf(refusal, { names, now: monday8, zone: "America/New_York" });
    expect(words.found).toBe("Hour 2 says 99 °C; possible is -40 to 60.");
  });

  test("an hour that has begun still counts, and so does the last of ten days", () => {
    const facts = shopWith({});
    const hours = [anHour(0), anHour(240)];
    const late = { at: monday8 + 59 * minuteMs };
    expect(rule(facts, envelopeOf("type-forecast", bodyOf(hours), silas, late)).verdict).toBe("accepted");
  });

  test("an empty one, and one of more than 240 hours, is no forecast", () => {
    const many = Array.from({ length: 241 }, (_, hour) => anHour(hour));
    expect(rule(shopWith({}), envelopeOf("type-forecast", bodyOf([]), silas)).verdict).toBe("refused");
    expect(rule(shopWith({}), envelopeOf("type-forecast", bodyOf(many), silas)).verdict).toBe("refused");
  });

  test("any numbers at all are judged, never thrown at", () => {
    const wild = fc.oneof(
      { weight: 20, arbitrary: fc.integer({ min: 10, max: 13 }) },
      { weight: 1, arbitrary: fc.double({ noDefaultInfinity: true, noNaN: true }) },
    );
    const hour = fc.record({
      fromAt: fc.oneof(
        wild,
        fc.integer({ min: -3, max: 300 }).map((ahead) => monday8 + ahead * hourMs),
      ),
      lowCelsius: wild,
      likelyCelsius: wild,
      likelyHumidityPercent: wild,
      highHumidityPercent: wild,
    });
    fc.assert(
      fc.property(fc.array(hour, { minLength: 1, maxLength: 10 }), (hours) => {
        const facts = shopWith({});
        const ruling = rule(facts, envelopeOf("type-forecast", bodyOf(hours), silas));
        if (ruling.verdict === "refused") expect(facts.all("forecast")).toEqual([]);
        for (const kept of facts.all("forecast")[0]?.hours ?? []) {
          expect(kept.fromAt + hourMs).toBeGreaterThan(monday8);
          expect(kept.fromAt).toBeLessThanOrEqual(monday8 + 10 * dayMs);
          expect(kept.lowCelsius).toBeLessThanOrEqual(kept.likelyCelsius);
        }
      }),
    );
  });
});
