import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { hourAhead, storedUntilAt } from "~/core/climate/forecast";
import type { ForecastHour } from "~/core/climate/forecast-hours";
import { airAhead, coldAhead, nextGoodAir } from "~/core/climate/good-air";
import { airKnownAt, type RoomAir, roomAir } from "~/core/climate/history";
import type { AirLimits } from "~/core/climate/limits";
import type { Reading, Room } from "~/core/shop/tables";
import { dayMs, hourMs } from "~/core/units";
import { at, loft, outlet, reading, sprayRoom } from "../cure/week";

const hourOf = (fromAt: number, celsius: number, percent: number): ForecastHour => ({
  fromAt,
  lowCelsius: celsius,
  likelyCelsius: celsius + 2,
  likelyHumidityPercent: percent - 5,
  highHumidityPercent: percent,
});

/** Every whole hour of seven days, by the hour of the day in the shop's zone (UTC−4). */
const weekOf = (room: Room, untilAt: number, airOf: (clockHour: number) => [celsius: number, percent: number]) => {
  const rows: Reading[] = [];
  for (let when = untilAt - 7 * dayMs; when <= untilAt; when += hourMs) {
    const [celsius, humidityPercent] = airOf(((when / hourMs - 4) % 24) + (when / hourMs - 4 < 0 ? 24 : 0));
    rows.push(reading(room, when, celsius, { humidityPercent }));
  }
  return rows;
};

const thursday8 = at("10-29 08:00");
/** Warm and dry while somebody heats, cool and damper at night. */
const byDay = (clockHour: number): [number, number] => (clockHour >= 8 && clockHour < 18 ? [19, 48] : [14, 58]);

describe("the air of the hours to come", () => {
  const stored = [hourOf(thursday8 + hourMs, 5, 90), hourOf(thursday8 + 3 * hourMs, 6, 91)];
  const air = roomAir(weekOf(sprayRoom, thursday8, byDay), sprayRoom, { setAt: thursday8, hours: stored });

  test("is the stored forecast where it has the hour, and the pattern of the week before where it has none", () => {
    expect(hourAhead(air, thursday8 + hourMs)).toMatchObject({ lowCelsius: 5, highHumidityPercent: 90 });
    expect(hourAhead(air, thursday8 + 2 * hourMs - 1)).toMatchObject({ lowCelsius: 5 });
    expect(hourAhead(air, thursday8 + 2 * hourMs)).toMatchObject({ lowCelsius: 19, highHumidityPercent: 48 });
    expect(hourAhead(air, thursday8 + 3 * hourMs)).toMatchObject({ lowCelsius: 6 });
    expect(hourAhead(air, thursday8 + 4 * hourMs)).toMatchObject({ lowCelsius: 19 });
  });

  test("goes on as the pattern beyond the last stored hour", () => {
    expect(storedUntilAt(air)).toBe(thursday8 + 4 * hourMs);
    expect(hourAhead(air, thursday8 + 30 * dayMs)).toMatchObject({ lowCelsius: 19, likelyCelsius: 19 });
    expect(hourAhead(air, thursday8 + 30 * dayMs + 12 * hourMs)).toMatchObject({ lowCelsius: 14 });
  });

  test("was not known before somebody stored it", () => {
    const later = roomAir(weekOf(sprayRoom, thursday8, byDay), sprayRoom, { setAt: thursday8 + 1, hours: stored });
    expect(hourAhead(airKnownAt(later, thursday8), thursday8 + hourMs)).toMatchObject({ lowCelsius: 19 });
    expect(hourAhead(airKnownAt(later, thursday8 + 1), thursday8 + hourMs)).toMatchObject({ lowCelsius: 5 });
  });

  test("is known for a room that was never read, as far as somebody typed it", () => {
    const unread = roomAir([], loft, { setAt: thursday8, hours: stored });
    expect(hourAhead(unread, thursday8 + hourMs)).toMatchObject({ lowCelsius: 5 });
    expect(hourAhead(unread, thursday8)).toBeUndefined();
    expect(hourAhead(roomAir([], loft), thursday8)).toBeUndefined();
  });
});

// source of the week: dry days of 19 °C and 48 %, one rainy morning of 17 °C and 78 %; lacquer needs 11.1 °C over the dew
// point, the enamel at most 70 %
const lacquer: AirLimits = { minimumCelsius: 15, maximumCelsius: 32, dewSpreadCelsius: 11.1 };
const enamel: AirLimits = { minimumCelsius: 10, maximumCelsius: 32, humidityLimitPercent: 70, dewSpreadCelsius: 3 };

describe("the next good air", () => {
  const rainyReadings = [
    ...weekOf(sprayRoom, thursday8 - hourMs, byDay),
    reading(sprayRoom, thursday8, 17, { humidityPercent: 78 }),
  ];
  const rain = (hours: number, percent: number, celsius: number) => (hour: number) =>
    hourOf(thursday8 + (hours + hour) * hourMs, celsius, percent);
  const typed = [
    ...Array.from({ length: 5 }, (_, hour) => rain(0, 78, 17)(hour)),
    ...Array.from({ length: 5 }, (_, hour) => rain(5, 62, 18)(hour)),
  ];
  const rainy = roomAir(rainyReadings, sprayRoom, { setAt: thursday8, hours: typed });

  test("for a water-borne enamel on a rainy Thursday is the afternoon, when it is dry enough", () => {
    const [first] = nextGoodAir(enamel, rainy, thursday8, { lastsMin: 60 });
    expect(first?.fromAt).toBe(at("10-29 13:00"));
  });

  test("for lacquer is Friday morning, when the heating is on, on a piece that has warmed up", () => {
    const [first] = nextGoodAir(lacquer, rainy, thursday8, { lastsMin: 60 });
    expect(first).toEqual({ fromAt: at("10-30 08:00"), toAt: at("10-30 18:00"), needsWarmPiece: true });
  });

  test("names what fails in between, by its worst", () => {
    const [first] = airAhead(enamel, rainy, thursday8, 24);
    expect(first).toMatchObject({
      isGood: false,
      toAt: at("10-29 13:00"),
      failing: [{ limit: "humidity", foundPercent: 78, neededPercent: 70 }],
    });
  });

  test("is not now while the room was just read too damp, though it is dry at this hour on other days", () => {
    const unforecast = roomAir(rainyReadings, sprayRoom);
    // the reading of 8:00 speaks for three hours, as long as the room may go unread
    expect(nextGoodAir(enamel, unforecast, thursday8)[0]?.fromAt).toBe(at("10-29 11:00"));
  });

  test("is none in a room that nobody reads, nor in one of which nothing is known", () => {
    expect(airAhead(enamel, roomAir([reading(outlet, thursday8, 20)], outlet), thursday8)).toEqual([]);
    expect(airAhead(enamel, roomAir([], loft), thursday8)).toEqual([]);
  });

  test("covers the hours asked for without a hole, and every good window is one that its forecast passes", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 30 }), fc.integer({ min: 20, max: 95 })), {
          minLength: 1,
          maxLength: 60,
        }),
        fc.integer({ min: 0, max: 59 }),
        (hours, minute) => {
          const stored = hours.map(([celsius, percent], hour) => hourOf(thursday8 + hour * hourMs, celsius, percent));
          const air: RoomAir = roomAir([reading(loft, thursday8 - hourMs, 18)], loft, { setAt: 0, hours: stored });
          const from = thursday8 + minute * 60_000;
          const stretches = airAhead(enamel, air, from, hours.length);
          expect(stretches[0]?.fromAt).toBe(from);
          expect(stretches.at(-1)?.toAt).toBe(from + hours.length * hourMs);
          for (const [index, stretch] of stretches.entries()) {
            if (index > 0) expect(stretch.fromAt).toBe(stretches[index - 1]?.toAt);
            for (let when = stretch.fromAt; stretch.isGood && when < stretch.toAt; when += hourMs) {
              const hour = hourAhead(air, when);
              expect(hour?.lowCelsius).toBeGreaterThanOrEqual(enamel.minimumCelsius);
              expect(hour?.highHumidityPercent).toBeLessThanOrEqual(70);
            }
          }
        },
      ),
    );
  });
});

test("a coat laid at noon is warned of the night that falls below its minimum before it has dried", () => {
  const air = roomAir(
    weekOf(loft, at("10-28 12:00"), (hour) => (hour < 6 ? [8, 60] : [18, 50])),
    loft,
  );
  const noon = at("10-28 12:00");
  expect(coldAhead({ minimumCelsius: 10 }, air, noon, 24 * 60)).toEqual({ fromAt: at("10-29 00:00"), lowCelsius: 8 });
  expect(coldAhead({ minimumCelsius: 10 }, air, noon, 4 * 60)).toBeUndefined();
  expect(coldAhead({ minimumCelsius: 8 }, air, noon, 24 * 60)).toBeUndefined();
});
