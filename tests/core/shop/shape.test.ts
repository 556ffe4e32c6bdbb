import { describe, expect, test } from "vitest";
import * as z from "zod/mini";
import { refusalOfShape } from "~/core/shop/shape";
import { text } from "~/core/text";
import { bounds, instant, instantBounds, type QuantityName, quantity, shopDay } from "~/core/units";
import {
  aPiece,
  dresser,
  envelopeOf,
  fern,
  hanna,
  id,
  loft,
  monday8,
  refusalOf,
  rule,
  shopWith,
} from "../support/shop";

const read = (air: Record<string, unknown>) =>
  rule(shopWith(), envelopeOf("record-reading", { readingId: id(701), roomId: loft, at: monday8, ...air }, hanna));
const fine = { airCelsius: 18, humidityPercent: 50 };

describe("an impossible number is refused with what was found and what is possible", () => {
  test.each([
    [{ airCelsius: -300 }, { field: "air temperature", found: -300, min: -40, max: 60, unit: "°C" }],
    [{ airCelsius: 60.1 }, { field: "air temperature", found: 60.1, min: -40, max: 60, unit: "°C" }],
    [{ humidityPercent: 140 }, { field: "relative humidity", found: 140, min: 1, max: 100, unit: "% RH" }],
    [{ humidityPercent: 0 }, { field: "relative humidity", found: 0, min: 1, max: 100, unit: "% RH" }],
    [{ surfaceCelsius: -41 }, { field: "surface temperature", found: -41, min: -40, max: 60, unit: "°C" }],
    // finer than a thermometer of the shop shows
    [{ airCelsius: 18.25 }, { field: "air temperature", found: 18.25, min: -40, max: 60, unit: "°C" }],
  ])("a reading of %j", (air, limits) => {
    expect(refusalOf(read({ ...fine, ...air }))).toEqual({ kind: "out-of-bounds", ...limits });
  });

  test("the ends of what is possible are possible", () => {
    for (const air of [{ airCelsius: -40 }, { airCelsius: 60 }, { humidityPercent: 1 }, { humidityPercent: 100 }]) {
      expect(read({ ...fine, ...air }).verdict).toBe("accepted");
    }
  });

  test("deep in a list, the field is named by its row", () => {
    const surfaces = [
      { surfaceId: id(102), name: "Top", squareDecimetres: 60 },
      { surfaceId: id(103), name: "Side", squareDecimetres: 10_001 },
    ];
    const piece = { pieceId: dresser, number: "K-210", boardId: id(2), name: "Chest", roomId: loft, surfaces };
    expect(refusalOf(rule(shopWith(), envelopeOf("add-piece", piece, fern)))).toEqual({
      kind: "out-of-bounds",
      field: "area",
      found: 10_001,
      min: 1,
      max: 10_000,
      unit: "dm²",
    });
  });
});

test.each(Object.keys(bounds) as QuantityName[])("%s is what its row says, in steps of its decimals", (name) => {
  const { min, max, decimals } = bounds[name];
  const step = decimals === 0 ? 1 : 0.1;
  const parses = (value: unknown) => quantity(name).safeParse(value).success;
  const tenths = (value: number) => Math.round(value * 10) / 10;
  expect([min, max, tenths(min + step)].every(parses)).toBe(true);
  expect([tenths(min - step), tenths(max + step), min + step / 2, Number.NaN, Infinity, `${min}`].some(parses)).toBe(
    false,
  );
});

test("an instant is a whole millisecond of this century or the next", () => {
  // source: 2000-01-01T00:00Z and 2200-01-01T00:00Z by the platform's own calendar
  const [min, max] = [Date.UTC(2000, 0, 1), Date.UTC(2200, 0, 1)];
  expect(instantBounds).toEqual({ min, max });
  const parses = (value: unknown) => instant.safeParse(value).success;
  expect([min, max, monday8].every(parses)).toBe(true);
  expect([min - 1, max + 1, monday8 + 0.5, Number.NaN, "2026-10-26"].some(parses)).toBe(false);
});

test("a day is one that the calendar has", () => {
  const parses = (value: string) => shopDay.safeParse(value).success;
  // 2000 was a leap year and 2100 will not be. Source: Gregorian calendar
  for (const day of ["2026-10-26", "2028-02-29", "2000-02-29", "2026-04-30"])
    expect([day, parses(day)]).toEqual([day, true]);
  for (const day of ["2026-02-29", "2100-02-29", "2026-04-31", "2026-13-01", "2026-00-10", "26-10-26", "2026-1-1"]) {
    expect([day, parses(day)]).toEqual([day, false]);
  }
});

describe("what a person writes", () => {
  const rename = (value: string) =>
    rule(
      shopWith({ piece: [aPiece()] }),
      envelopeOf("edit-piece", { pieceId: dresser, field: "name", was: "Tall dresser", value }, fern),
    );
  const parsed = (value: string, max = 120) => {
    const found = text(max).safeParse(value);
    return found.success ? found.data : undefined;
  };

  test.each(["Commode à tiroirs", "خزانة ذات أدراج", "שידת מגירות", "抽斗付き箪笥", "🪑🖌️ drying", "👩‍🔧's bench"])(
    "is kept in any script: %s",
    (name) => {
      expect(parsed(name)).toBe(name);
      expect(rename(name).verdict).toBe("accepted");
    },
  );

  test("is trimmed, and composed as one character where there is one", () => {
    expect(parsed("  Chest \n")).toBe("Chest");
    // e and a combining acute are U+00E9. Source: Unicode UAX 15
    expect(parsed("Cafe\u0301")).toBe("Caf\u00e9");
  });

  test("is counted in code points: 120 emoji fit a name of 120, one more does not", () => {
    expect(parsed("🪑".repeat(120))).toBe("🪑".repeat(120));
    expect(rename("🪑".repeat(120)).verdict).toBe("accepted");
    expect(refusalOf(rename("🪑".repeat(121)))).toEqual({ kind: "text-not-fit", field: "value", reason: "too-long" });
    expect(refusalOf(rename("x".repeat(1_000_000)))).toEqual({
      kind: "text-not-fit",
      field: "value",
      reason: "too-long",
    });
  });

  test("is something", () => {
    for (const nothing of ["", "   ", "\n\t"]) {
      expect(refusalOf(rename(nothing))).toEqual({ kind: "text-not-fit", field: "value", reason: "empty" });
    }
  });

  test.each([
    ["a null", "Chest\u0000"],
    ["a line break", "Chest\nof drawers"],
    ["an escape", "Chest\u001b[31m"],
    ["a delete", "Chest\u007fer"],
    ["a right-to-left override", "Chest \u202egnp.exe"],
    ["a right-to-left isolate", "\u2067Chest\u2069"],
    ["a left-to-right mark", "Chest\u200e of"],
    ["an Arabic letter mark", "Chest\u061c of"],
  ])("hides no %s", (_what, name) => {
    expect(refusalOf(rename(name))).toEqual({ kind: "text-not-fit", field: "value", reason: "hidden-character" });
  });
});

describe("a body that is not one", () => {
  test.each([
    [{ ...fine, airCelsius: "18" }, "airCelsius"],
    [{ airCelsius: 18 }, "humidityPercent"],
    [{ ...fine, roomId: "the loft" }, "roomId"],
    [{ ...fine, source: "import" }, "source"],
  ])("%j is refused by the field that is wrong", (air, field) => {
    expect(refusalOf(read(air))).toMatchObject({ kind: "malformed", field });
  });

  test("is refused as a body when it is nothing at all", () => {
    for (const body of [undefined, null, 7, "x"]) {
      expect(refusalOf(rule(shopWith(), envelopeOf("record-reading", body, hanna)))).toMatchObject({
        kind: "malformed",
        field: "body",
      });
    }
  });

  test("of several forms is judged by the form that it came closest to", () => {
    const either = z.union([z.object({ day: shopDay }), z.object({ at: z.object({ from: instant, to: instant }) })]);
    const body = { at: { from: monday8, to: "noon" } };
    const found = either.safeParse(body);
    if (found.success) throw new Error("the union took it");
    expect(refusalOfShape(found.error.issues as z.core.$ZodIssue[], body)).toMatchObject({
      kind: "malformed",
      field: "at.to",
    });
  });
});
