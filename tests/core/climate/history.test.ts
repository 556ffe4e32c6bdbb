import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { roomForecast } from "~/core/climate/forecast";
import { airAt, lowestAirCelsius, readingsSince, roomAir, thinReadings } from "~/core/climate/history";
import { coatingAir } from "~/core/climate/limits";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import { at, everyTenMinutes, loft, reading, sprayRoom } from "../cure/week";

const noon = at("10-27 12:00 EDT");
const found = (air: ReturnType<typeof roomAir>, when: number) => {
  const now = airAt(air, when);
  return now.isKnown ? now.celsius : "unknown";
};

describe("the air between readings", () => {
  test("runs straight between two readings three hours apart, and is unknown a minute past that", () => {
    const near = roomAir([reading(loft, noon, 10), reading(loft, noon + 3 * hourMs, 16)], loft);
    expect(found(near, noon + hourMs)).toBe(12);
    const far = roomAir([reading(loft, noon, 10), reading(loft, noon + 3 * hourMs + minuteMs, 16)], loft);
    expect(found(far, noon + hourMs)).toBe("unknown");
    expect(found(far, noon)).toBe(10);
  });

  test("is unknown before the first and after the last reading", () => {
    const air = roomAir([reading(loft, noon, 10)], loft);
    expect([found(air, noon - 1), found(air, noon), found(air, noon + 1)]).toEqual(["unknown", 10, "unknown"]);
  });

  test("ignores retracted readings and those of other rooms", () => {
    const air = roomAir(
      [reading(loft, noon, 10), reading(loft, noon, 2, { retractedAt: noon + 1 }), reading(sprayRoom, noon, 1)],
      loft,
    );
    expect(found(air, noon)).toBe(10);
  });

  test("believes the coldest of two thermometers at one instant, in whatever order they arrive", () => {
    const both = [reading(loft, noon, 12), reading(loft, noon, 9, { source: "hand" })];
    expect([found(roomAir(both, loft), noon), found(roomAir(both.toReversed(), loft), noon)]).toEqual([9, 9]);
  });

  test("takes a long gap at the lowest of a minimum-maximum thermometer over it, and the colder of two over the same hour", () => {
    const span = (fromHour: number, toHour: number, celsius: number) =>
      reading(loft, noon + toHour * hourMs, celsius, { spanFromAt: noon + fromHour * hourMs });
    const air = roomAir(
      [reading(loft, noon, 18), reading(loft, noon + 12 * hourMs, 18), span(0, 8, 11), span(6, 12, 9)],
      loft,
    );
    expect([3, 7, 10].map((hour) => found(air, noon + hour * hourMs))).toEqual([11, 9, 9]);
  });

  test("keeps what a logger saw every ten minutes, whatever a minimum-maximum thermometer adds", () => {
    const dense = everyTenMinutes(loft, noon, noon + 8 * hourMs, () => 18);
    const air = roomAir([...dense, reading(loft, noon + 8 * hourMs, 9, { spanFromAt: noon })], loft);
    expect(found(air, noon + 4 * hourMs)).toBe(18);
  });

  test("was never colder between two instants than the lowest it is said to have been", () => {
    const air = roomAir(
      [reading(loft, noon, 18), reading(loft, noon + hourMs, 8), reading(loft, noon + 2 * hourMs, 18)],
      loft,
    );
    expect(lowestAirCelsius(air, noon, noon + 2 * hourMs)).toBe(8);
    expect(lowestAirCelsius(air, noon, noon + hourMs / 2)).toBe(13);
    expect(lowestAirCelsius(air, noon + 3 * hourMs, noon + 4 * hourMs)).toBeUndefined();
  });
});

describe("thinning", () => {
  const minutes = fc
    .array(fc.record({ minute: fc.integer({ min: 0, max: 300 }), celsius: fc.integer({ min: 0, max: 30 }) }), {
      maxLength: 200,
    })
    .map((rows) => rows.map(({ minute, celsius }) => reading(loft, noon + minute * minuteMs, celsius)));

  test("of a logger that reads every minute keeps at most four readings of ten, the coldest among them", () => {
    const cold = (minute: number) => (minute === 4 ? 6 : 18);
    const rows = Array.from({ length: 10 }, (_, minute) => reading(loft, noon + minute * minuteMs, cold(minute)));
    expect(thinReadings(rows).map((row) => [(row.at - noon) / minuteMs, row.airCelsius])).toEqual([
      [0, 18],
      [4, 6],
      [9, 18],
    ]);
  });

  test("done twice changes nothing, and never loses the coldest reading", () => {
    fc.assert(
      fc.property(minutes, (rows) => {
        const once = thinReadings(rows);
        expect(thinReadings(once)).toEqual(once);
        expect(Math.min(...once.map((row) => row.airCelsius))).toBe(Math.min(...rows.map((row) => row.airCelsius)));
      }),
    );
  });

  test("what a device carries since an instant gives it the same air from there on", () => {
    fc.assert(
      fc.property(minutes, fc.integer({ min: 0, max: 300 }), fc.integer({ min: 0, max: 300 }), (rows, since, later) => {
        const sinceAt = noon + since * minuteMs;
        const carried = roomAir(readingsSince(rows, sinceAt), loft);
        const when = sinceAt + later * minuteMs;
        expect(found(carried, when)).toEqual(found(roomAir(rows, loft), when));
      }),
    );
  });
});

describe("the hours to come, where no forecast is stored", () => {
  const week = (coldNights: number, days = 7) =>
    everyTenMinutes(loft, noon - days * dayMs, noon, (when) => {
      const daysBack = Math.floor((noon - when) / dayMs);
      return daysBack < coldNights && when % dayMs < hourMs ? 8 : 18;
    });
  const firstHour = (coldNights: number, days?: number) => {
    const forecast = roomForecast(roomAir(week(coldNights, days), loft));
    return [forecast?.lowCelsius[0], forecast?.likelyCelsius[0]];
  };

  test("forgive one cold night of seven, not two", () => {
    expect(firstHour(1)).toEqual([18, 18]);
    expect(firstHour(2)).toEqual([8, 18]);
  });

  test("forgive nothing with three days of readings", () => {
    expect(firstHour(1, 3)[0]).toBe(8);
  });

  test("are likely as the middle of the seven days was", () => {
    expect(firstHour(4)[1]).toBe(8);
  });

  test("count an hour of the day that was never read as the coldest known, and likely as the room usually is", () => {
    const forecast = roomForecast(roomAir([reading(loft, noon, 12)], loft));
    expect([forecast?.lowCelsius[3], forecast?.likelyCelsius[3]]).toEqual([12, 18]);
  });

  test("are not guessed for a room that was never read", () => {
    expect(roomForecast(roomAir([], loft))).toBeUndefined();
  });
});

describe("whether the air is fit for coating", () => {
  const limits = { minimumCelsius: 10, maximumCelsius: 32, humidityLimitPercent: 85, dewSpreadCelsius: 3 };
  // source of the table: the usual window for water-borne coatings, common practice of data sheets
  test.each([
    { air: 20, percent: 55, surface: 19, failing: [] },
    { air: 9, percent: 60, surface: 9, failing: ["minimum"] },
    { air: 22, percent: 88, surface: 22, failing: ["humidity", "dew-spread"] },
    { air: 33, percent: 40, surface: 33, failing: ["maximum"] },
    { air: 18, percent: 72, surface: 14, failing: ["dew-spread"] },
    { air: 24, percent: 84, surface: 24, failing: ["dew-spread"] },
  ])(
    "air of $air °C and $percent % over a surface of $surface °C fails $failing",
    ({ air, percent, surface, failing }) => {
      const row = reading(loft, noon, air, { humidityPercent: percent, surfaceCelsius: surface });
      const answer = coatingAir(limits, roomAir([row], loft), noon);
      expect(answer.state === "unfit" ? answer.failing.map((failed) => failed.limit) : []).toEqual(failing);
    },
  );

  test("says by how much lacquer misses its spread on a rainy morning, and passes just on a dry one", () => {
    const lacquer = { minimumCelsius: 15, maximumCelsius: 32, dewSpreadCelsius: 11.1 };
    const answerOf = (air: number, percent: number) =>
      coatingAir(
        lacquer,
        roomAir([reading(sprayRoom, noon, air, { humidityPercent: percent, surfaceCelsius: air })], sprayRoom),
        noon,
      );
    const rain = answerOf(17, 78);
    expect(rain).toMatchObject({ state: "unfit", failing: [{ limit: "dew-spread", neededCelsius: 11.1 }] });
    expect(rain.state === "unfit" && rain.spreadCelsius).toBeCloseTo(3.9, 1);
    expect(answerOf(19, 48).state).toBe("fit");
  });

  test("takes an unmeasured surface to be as cold as the coldest of the last six hours", () => {
    const rows = [reading(loft, noon - 5 * hourMs, 9), reading(loft, noon - 3 * hourMs, 18), reading(loft, noon, 18)];
    expect(coatingAir(limits, roomAir(rows, loft), noon)).toMatchObject({
      state: "unfit",
      surfaceCelsius: 9,
      isSurfaceMeasured: false,
    });
  });

  test("is not known when the last reading is older than the gap limit, or is still to come", () => {
    const air = roomAir([reading(loft, noon, 18)], loft);
    expect(coatingAir(limits, air, noon + 180 * minuteMs).state).toBe("fit");
    expect(coatingAir(limits, air, noon + 180 * minuteMs + 1)).toEqual({
      state: "unknown",
      roomId: loft.id,
      lastReadingAt: noon,
      gapLimitMin: 180,
    });
    expect(coatingAir(limits, air, noon - 1)).toEqual({ state: "unknown", roomId: loft.id, gapLimitMin: 180 });
  });
});
