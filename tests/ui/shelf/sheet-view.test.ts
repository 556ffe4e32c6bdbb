import { describe, expect, test } from "vitest";
import { genericSheet } from "~/core/coating/generic-sheets";
import type { Family } from "~/core/shop/entities/products";
import type { Sheet } from "~/core/shop/tables";
import { partsOf, rungsOf, timeWords, typicalFields } from "~/ui/shelf/sheet-view";
import { sheetFieldWords } from "~/ui/shelf/sheet-words";
import { aSheet, id, paint } from "../../core/support/shop";

const typicalOf = (family: Family, more: Partial<Sheet> = {}): Sheet => {
  const start = genericSheet(family);
  if (!start) throw new Error(`${family} leaves no film`);
  return { id: id(1), productId: paint, version: 1, ...start, ...more };
};
const rung = (sheet: Sheet, name: string, versions: Sheet[] = [sheet]) =>
  rungsOf(sheet, "water-borne-paint", typicalFields(versions, sheet)).find((one) => one.id === name);

describe("the ladder of times", () => {
  test("a typical sheet says so at every rung, with the short end beside the safe time", () => {
    const sheet = typicalOf("water-borne-paint");
    const rungs = rungsOf(sheet, "water-borne-paint", typicalFields([sheet], sheet));
    expect(rungs.map(({ words, time }) => `${words} ${time}`)).toEqual([
      "Dry to touch 1 h",
      "Tack-free 2 h",
      "Recoat from 4 h",
      "Handle 2 days",
      "Light use 2 days",
      "Press together 7 days",
      "Full cure 30 days",
    ]);
    expect(new Set(rungs.map(({ source }) => source))).toEqual(new Set(["typical"]));
    expect(rungs[2]?.often).toBe("often from 2 h");
  });

  test("a time that the can does not say is the usual one of its type, and is not passed off as the can's", () => {
    // in the air for which usual times are given
    const sheet = aSheet({ origin: "from-can", setToTouch: undefined, tackFree: undefined, referenceCelsius: 23 });
    expect(rung(sheet, "recoatOpens")).toMatchObject({ time: "4 h", source: "can" });
    expect(rung(sheet, "setToTouch")).toMatchObject({ time: "1 h", source: "typical" });
  });

  test("light use that the can leaves out is handling, as the gates have it", () => {
    const sheet = aSheet({ origin: "from-can", lightUse: undefined });
    expect(rung(sheet, "lightUse")).toMatchObject({ time: "24 h", source: "can" });
  });

  test("a glue has the rungs of its joint, and no coats, stacks or wraps", () => {
    const sheet = typicalOf("glue");
    const typical = typicalFields([sheet], sheet);
    expect(rungsOf(sheet, "glue", typical).map(({ words, time }) => `${words} ${time}`)).toEqual([
      "Open time 5 min",
      "In clamps 1 h",
      "Full strength 24 h",
    ]);
    expect(partsOf(sheet, "glue", typical).map(({ id }) => id)).not.toContain("window");
  });

  test("never stands on no height, and longer times stand higher", () => {
    const lacquer = typicalOf("lacquer");
    const rungs = rungsOf(lacquer, "lacquer", typicalFields([lacquer], lacquer));
    const pressed = rungs.find((one) => one.id === "pressTogether");
    expect([pressed?.time, pressed?.height]).toEqual(["never", undefined]);
    const heights = rungs.flatMap(({ height }) => height ?? []);
    expect(heights).toEqual([...heights].sort((one, other) => one - other));
    expect(Math.max(...heights)).toBeLessThanOrEqual(1);
  });
});

describe("which figures were read from a can", () => {
  const first = typicalOf("water-borne-paint");
  const second: Sheet = { ...first, id: id(2), version: 2, origin: "from-can", recoatOpens: { min: 360 } };
  const third: Sheet = { ...second, id: id(3), version: 3, handle: { min: 1000 } };

  test("an edit reads what it changes; what it leaves stays typical, over any number of versions", () => {
    const versions = [third, first, second];
    expect(typicalFields(versions, second).has("recoatOpens")).toBe(false);
    expect(typicalFields(versions, second).has("handle")).toBe(true);
    expect(typicalFields(versions, third).has("recoatOpens")).toBe(false);
    expect(typicalFields(versions, third).has("handle")).toBe(false);
    expect(typicalFields(versions, third).has("fullCure")).toBe(true);
  });

  test("going back to the typical figures makes them all typical again", () => {
    const again: Sheet = { ...first, id: id(4), version: 4 };
    expect(typicalFields([first, second, third, again], again).has("recoatOpens")).toBe(true);
  });

  test("a sheet that was typed from the can from the start has nothing typical", () => {
    const typed = aSheet({ origin: "from-can" });
    expect(typicalFields([typed], typed).size).toBe(0);
  });
});

describe("the parts of a sheet", () => {
  const words = (sheet: Sheet) =>
    partsOf(sheet, "water-borne-paint", new Set()).flatMap((part) =>
      part.lines.map((line) => `${line.words}: ${line.figure}`),
    );

  test("limits, film, mix and life stand with their units", () => {
    const sheet = aSheet({
      volumeSolidsPercent: 36,
      wetFilmMicrometres: 100,
      thinParts: { product: 3, thinner: 1 },
      thinLimitPercent: 33,
      hardenerPartsPerMille: 500,
      potLifeMin: 90,
      shelfOpenedDays: 180,
      chalkCelsius: 10,
    });
    expect(words(sheet)).toEqual(
      expect.arrayContaining([
        "Lowest temperature: 10 °C",
        "Surface above dew point: at least 3 °C",
        "Wrapped in plastic: never",
        "Volume solids: 36 %",
        "Wet film of a coat: 100 µm",
        "Mixed as: 3 parts to 1 of thinner",
        "Thinning limit: 33 % of the product",
        "Hardener: 50 parts to 100",
        "Pot life: 1 h 30",
        "Opened, keeps: 180 days",
        "Turns to chalk below: 10 °C",
      ]),
    );
  });

  test.each([
    [{ isNever: true }, "never"],
    [{ isNever: false }, "yes"],
    [{ isNever: false, waitMin: 4320, barrierFamily: "shellac" as const }, "after 3 days, or with shellac between"],
    [
      { isNever: false, rule: "B" as const, barrierFamily: "shellac" as const },
      "with a barrier between, with shellac between",
    ],
    [{ isNever: false, rule: "T" as const }, "after a test"],
  ])("a line over oil stain %o reads “%s”", (line, figure) => {
    expect(words(aSheet({ over: [{ underFamily: "oil-stain", ...line }] }))).toContain(`oil stain: ${figure}`);
  });
});

test.each([
  [45, "45 min"],
  [90, "1 h 30"],
  [1440, "24 h"],
  [2160, "36 h"],
  [2880, "2 days"],
  [43_200, "30 days"],
])("%i minutes are read as %s", (minutes, words) => {
  expect(timeWords(minutes)).toBe(words);
});

test.each([
  ["recoatOpens", "Recoat from"],
  ["handle.typicalMin", "Handle, the short end"],
  ["handle.min", "Handle"],
  ["stackWith.felt", "Stacked with felt"],
  ["wrap.plastic", "Wrapped in plastic"],
  ["chalkCelsius", "Turns to chalk below"],
])("%s is called %s", (path, words) => {
  expect(sheetFieldWords(path)).toBe(words);
});
