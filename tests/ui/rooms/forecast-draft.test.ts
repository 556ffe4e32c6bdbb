import { describe, expect, test } from "vitest";
import { hourFaults } from "~/core/climate/forecast-fit";
import { roomAir } from "~/core/climate/history";
import { hourMs, minuteMs } from "~/core/units";
import { typedMomentOf } from "~/ui/kit/typed-moment";
import { type ForecastDraft, forecastHoursOf, newForecast, overriddenBy, withRow } from "~/ui/rooms/forecast-draft";
import { aReading, aRoom, id, loft, monday8 } from "../../core/support/shop";

const zone = "America/New_York";
const room = aRoom({ id: loft });
/** Read once, at 16 °C and 60 %: every hour to come is as that hour was. */
const air = roomAir([aReading({ id: id(1), at: monday8, airCelsius: 16, humidityPercent: 60 })], room);
const at = (hours: number) => typedMomentOf(monday8 + hours * hourMs, zone);
const row = (fromHour: number, lowCelsius: number, highHumidityPercent: number) => ({
  id: fromHour,
  from: at(fromHour),
  lowCelsius,
  highHumidityPercent,
  likelyCelsius: Number.NaN,
  likelyHumidityPercent: Number.NaN,
});
const hoursOf = (draft: ForecastDraft, now = monday8) => {
  const found = forecastHoursOf(draft, air, now, zone);
  if (!found.ok) throw new Error(JSON.stringify(found.refusal));
  return found.value;
};
const errorsOf = (draft: ForecastDraft, now = monday8) => {
  const found = forecastHoursOf(draft, air, now, zone);
  return found.ok ? undefined : found.refusal;
};

describe("a forecast of a few rows", () => {
  test("becomes whole hours, each with the row that covers it", () => {
    const hours = hoursOf({ rows: [row(1, 10, 80), row(3, 6, 90)], until: at(5) });
    expect(hours.map((hour) => [(hour.fromAt - monday8) / hourMs, hour.lowCelsius, hour.highHumidityPercent])).toEqual([
      [1, 10, 80],
      [2, 10, 80],
      [3, 6, 90],
      [4, 6, 90],
    ]);
  });

  test("takes the worse of two rows for the hour in which they meet", () => {
    const hours = hoursOf({ rows: [row(1, 10, 95), row(1.5, 6, 70)], until: at(3) });
    expect(hours[0]).toMatchObject({ lowCelsius: 6, highHumidityPercent: 95 });
  });

  test("is likely as the room usually is, within what was typed", () => {
    const [warm] = hoursOf({ rows: [row(1, 10, 90)], until: at(2) });
    const [narrow] = hoursOf({ rows: [row(1, 18, 50)], until: at(2) });
    // never read at that hour: likely is the room's stated usual, 20 °C and 50 %
    expect(warm).toMatchObject({ likelyCelsius: 20, likelyHumidityPercent: 50 });
    expect(narrow).toMatchObject({ lowCelsius: 18, likelyCelsius: 20, likelyHumidityPercent: 50 });
  });

  test("leaves out hours that are over, so that what is sent is never refused for its times", () => {
    const draft = { rows: [row(0, 10, 80)], until: at(48) };
    const now = monday8 + 90 * minuteMs;
    const hours = hoursOf(draft, now);
    expect(hours[0]?.fromAt).toBe(monday8 + hourMs);
    expect(hourFaults(hours, now)).toEqual([]);
  });

  test("says what it takes over from the room's own pattern", () => {
    const hours = hoursOf({ rows: [row(1, 6, 95)], until: at(3) });
    expect(overriddenBy(hours, air)).toEqual({ lowestCelsius: 16, highestPercent: 60 });
    expect(overriddenBy(hours, roomAir([], room))).toBeUndefined();
  });
});

describe("what cannot be sent yet", () => {
  test("is an empty figure, at its row", () => {
    const errors = errorsOf(newForecast(monday8, zone));
    expect(errors?.rows[0]).toEqual({ low: expect.any(String), high: expect.any(String) });
  });

  test("is a row that does not come after the one above it, and an end before the last row", () => {
    const errors = errorsOf({ rows: [row(3, 10, 80), row(3, 9, 80)], until: at(2) });
    expect(errors?.rows[1]).toHaveProperty("from");
    expect(errors).toHaveProperty("until");
  });

  test("is more than ten days ahead", () => {
    expect(errorsOf({ rows: [row(1, 10, 80)], until: at(241) })).toHaveProperty("until");
    expect(errorsOf({ rows: [row(1, 10, 80)], until: at(240) })).toBeUndefined();
  });

  test("is a likely value outside of its own bounds", () => {
    const colder = { ...row(1, 10, 80), likelyCelsius: 9 };
    expect(errorsOf({ rows: [colder], until: at(5) })?.rows[0]).toHaveProperty("likely");
  });
});

test("another row starts six hours after the last one", () => {
  const draft = withRow({ rows: [row(1, 10, 80)], until: at(24) }, zone);
  expect(draft.rows.map((each) => each.from)).toEqual([at(1), at(7)]);
});
