import { describe, expect, test } from "vitest";
import type { Row } from "~/core/shop/tables";
import { dayMs, hourMs } from "~/core/units";
import { type CoatNow, coatNow } from "~/ui/rooms/coat-now";
import { answerWords, linesOf, windowWords } from "~/ui/rooms/coat-now-words";
import {
  aCoat,
  aPiece,
  aProduct,
  aReading,
  aRoom,
  aSheet,
  aSurface,
  aWetCoat,
  id,
  loft,
  monday8,
  shopWith,
  van,
} from "../../core/support/shop";

const zone = "America/New_York";
const enamel = aProduct({ id: id(801), name: "Enamel" });
const lacquer = aProduct({ id: id(802), name: "Lacquer", family: "lacquer" });
const glue = aProduct({ id: id(803), name: "White glue", family: "glue" });
const enamelSheet = aSheet({ id: id(811), productId: enamel.id });
const lacquerSheet = aSheet({
  id: id(812),
  productId: lacquer.id,
  mechanism: "solvent",
  minimumCelsius: 15,
  humidityLimitPercent: undefined,
  dewSpreadCelsius: 8.3,
});
const glueSheet = aSheet({ id: id(813), productId: glue.id });
const planned = aCoat({ id: id(821), sheetId: enamelSheet.id });

/** A reading every hour of the last week, the same all the time, and one of this minute. */
const airOf = (airCelsius: number, humidityPercent: number, now?: Partial<Row<"reading">>) => [
  ...Array.from({ length: 7 * 24 }, (_, hour) =>
    aReading({ id: id(9000 + hour), at: monday8 - (hour + 1) * hourMs, airCelsius, humidityPercent }),
  ),
  aReading({ id: id(8999), at: monday8, airCelsius, humidityPercent, ...now }),
];

const shop = (reading: Row<"reading">[], rows: Parameters<typeof shopWith>[0] = {}) =>
  shopWith({
    piece: [aPiece()],
    surface: [aSurface()],
    product: [enamel, lacquer, glue],
    sheet: [enamelSheet, lacquerSheet, glueSheet],
    coat: [planned, aWetCoat({ id: id(822), sheetId: lacquerSheet.id, position: 2 })],
    reading,
    ...rows,
  });

const room = aRoom({ id: loft, name: "Loft", uses: ["spray", "cure"] });
const asked = (reading: Row<"reading">[], rows?: Parameters<typeof shopWith>[0]) =>
  coatNow(shop(reading, rows), room, monday8);
const ofEnamel = (found: CoatNow[]) => found.find(({ name }) => name === "Enamel") as CoatNow;

describe("may we coat in this room now", () => {
  test("names what is planned or lies young, never glue, and first what somebody waits for", () => {
    expect(asked(airOf(20, 45)).map(({ name, waiting }) => [name, waiting])).toEqual([
      ["Enamel", 1],
      ["Lacquer", 0],
    ]);
  });

  test("of a new shop without coats names every product that is laid", () => {
    expect(asked(airOf(20, 45), { coat: [] }).map(({ name }) => name)).toEqual(["Enamel", "Lacquer"]);
  });

  test("is yes in warm dry air, and until when the forecast goes on passing", () => {
    expect(ofEnamel(asked(airOf(20, 45)))).toMatchObject({ answer: "yes", failing: [], untilAt: monday8 + 10 * dayMs });
  });

  test("is no in damp air, with what was found and what is needed and the next good hour", () => {
    const found = ofEnamel(asked(airOf(20, 45, { humidityPercent: 78 })));
    expect(found).toMatchObject({ answer: "no", failing: [{ limit: "humidity", found: 78, needed: 70 }] });
    // the room may go unread for three hours, so long does this reading speak; then every day of the week was dry
    expect(found.next).toMatchObject({ fromAt: monday8 + 3 * hourMs });
    expect(linesOf(found, monday8, zone)).toEqual(["Humidity 78 %, needs 70 % or less."]);
  });

  test("is no for ten days where no hour of the week passes, and says so", () => {
    const found = ofEnamel(asked(airOf(20, 85)));
    expect(found).not.toHaveProperty("next");
    expect(linesOf(found, monday8, zone)).toContain("No good hour in ten days, by the forecast.");
  });

  test("of a piece that came in cold is: warm it first, to how much", () => {
    const found = ofEnamel(asked(airOf(20, 40, { surfaceCelsius: 9 })));
    expect(answerWords[found.answer]).toBe("Warm it first");
    // dew point of 20 °C and 40 %: 6.0 °C (WMO-No. 8); 3 °C over it is under the minimum of 10 °C
    expect(linesOf(found, monday8, zone)).toEqual(["The piece is at 9 °C: let it come to 10 °C, better 17 °C."]);
  });

  test("is: read first, when the last reading is older than the room may go without", () => {
    const old = [aReading({ id: id(9001), at: monday8 - 4 * hourMs })];
    expect(ofEnamel(asked(old)).answer).toBe("unread");
    expect(ofEnamel(asked([])).answer).toBe("unread");
  });

  test("tells no window from a room of which less than a day was read, until somebody types a forecast", () => {
    const little = [aReading({ id: id(9001), at: monday8, airCelsius: 20, humidityPercent: 45 })];
    const found = ofEnamel(asked(little));
    expect(found).toMatchObject({ answer: "yes", isLittleKnown: true });
    expect(found).not.toHaveProperty("untilAt");
    const damp = ofEnamel(asked([{ ...little[0], humidityPercent: 80 } as Row<"reading">]));
    expect(linesOf(damp, monday8, zone)).toEqual(["Humidity 80 %, needs 70 % or less."]);
    const hours = [0, 1].map((hour) => ({
      fromAt: monday8 + hour * hourMs,
      lowCelsius: hour === 0 ? 18 : 5,
      likelyCelsius: 20,
      likelyHumidityPercent: 45,
      highHumidityPercent: 50,
    }));
    const forecast = { id: id(9100), roomId: loft, source: "typed" as const, setAt: monday8, setBy: id(11), hours };
    expect(ofEnamel(asked(little, { forecast: [forecast] }))).toMatchObject({ untilAt: monday8 + hourMs });
  });

  test("warns of milky lacquer beside the yes of its own sheet, and never of enamel", () => {
    // 20 °C and 48 %: 8.6 °C dew point (WMO-No. 8), 11.4 over; at 55 % 9.4: over the sheet's 8.3, under 11.1 (20 °F)
    const [mild, damp] = [asked(airOf(20, 48)), asked(airOf(20, 55))];
    expect(mild.find(({ name }) => name === "Lacquer")).toMatchObject({ answer: "yes" });
    expect(mild.some(({ blush }) => blush !== undefined)).toBe(false);
    expect(damp.find(({ name }) => name === "Lacquer")).toMatchObject({ answer: "yes", blush: "caution" });
    expect(ofEnamel(damp)).not.toHaveProperty("blush");
  });

  test("warns of a night that gets too cold before the coat has dried", () => {
    const nights = airOf(20, 45).map((row) =>
      (row.at - monday8) % dayMs === -9 * hourMs ? { ...row, airCelsius: 6 } : row,
    );
    const found = ofEnamel(asked(nights, { sheet: [{ ...enamelSheet, recoatOpens: { min: 24 * 60 } }, lacquerSheet] }));
    expect(found.answer).toBe("yes");
    expect(found.cold).toEqual({ fromAt: monday8 + 15 * hourMs, lowCelsius: 6 });
  });

  test("is no for lacquer beside a flame however good the air is, and stays yes for water-borne enamel", () => {
    const flame = { ...room, hasOpenFlame: true };
    const found = coatNow(shop(airOf(20, 45)), flame, monday8);
    const lacquerFound = found.find(({ name }) => name === "Lacquer") as CoatNow;
    expect(lacquerFound).toMatchObject({ answer: "no", failing: [], isFlameNear: true });
    expect(lacquerFound).not.toHaveProperty("untilAt");
    expect(linesOf(lacquerFound, monday8, zone)).toEqual([
      "A flame or pilot light burns in here and can light its vapour: put it out first.",
    ]);
    expect(ofEnamel(found)).toMatchObject({ answer: "yes", untilAt: monday8 + 10 * dayMs });
  });

  test("is not asked of a van", () => {
    expect(coatNow(shop(airOf(20, 45)), aRoom({ id: van, uses: ["away"] }), monday8)).toEqual([]);
  });
});

test("a window is told by its days where it crosses midnight", () => {
  const told = (fromAt: number, toAt: number) => windowWords({ fromAt, toAt, needsWarmPiece: false }, monday8, zone);
  expect(told(monday8, monday8 + 4 * hourMs)).toBe("now, until 12:00");
  expect(told(monday8 + 24 * hourMs, monday8 + 28 * hourMs)).toBe("Tue 08:00 to 12:00");
  expect(told(monday8 + 24 * hourMs, monday8 + 48 * hourMs)).toBe("Tue 08:00 to Wed 08:00");
});
