import { describe, expect, test } from "vitest";
import type { Piece } from "~/core/shop/tables";
import { outlookOf } from "~/ui/floor/outlook";
import { stripView } from "~/ui/floor/strip-view";
import { stay, trippedLoft, weekReadings } from "../../core/cure/week";
import {
  at,
  bookcase,
  carcass,
  chairs,
  chest,
  dresser,
  faces,
  finisher,
  handTest,
  loft,
  nightstands,
  now,
  promised,
  sideboard,
  table,
  theShop,
  wardrobe,
  wednesday,
  zone,
} from "./wednesday";

type More = Parameters<typeof wednesday>[0];

const strip = (piece: Piece, more: More = {}, when = now) => {
  const facts = wednesday(more);
  return stripView(outlookOf(facts, piece, theShop, when), { zone, looking: [] });
};

describe("a strip's plate", () => {
  // worked out by hand from the sheets, the rooms and the rate law, as in tests/core/cure/demo-week.test.ts
  test.each([
    { piece: dresser, plate: { form: "waiting", action: "Press together", time: "Sun 07:20" } },
    { piece: nightstands, plate: { form: "soon", action: "Handle", time: "17:05" } },
    { piece: wardrobe, plate: { form: "soon", action: "Carry on a stand" } },
    { piece: table, plate: { form: "waiting", action: "Scuff, recoat", time: "Thu 08:30" } },
    { piece: bookcase, plate: { form: "waiting", action: "Recoat, W2", time: "Sat 13:05" } },
  ])("of $piece.number says $plate.action and when", ({ piece, plate }) => {
    expect(strip(piece).plate).toMatchObject(plate);
  });

  test("never offers a time for old paint with lead in it: people decide", () => {
    const { plate, stuck, run } = strip(chest);
    expect(plate).toEqual({ form: "barred", action: "No dry sanding", verb: "Decide" });
    expect(stuck).toBe("Lead in layer two");
    expect(run).toMatchObject({ glyph: "barred", state: "locked" });
  });

  test("says since when a coat may go on once the film below has opened", () => {
    expect(strip(table, { reading: [] }, at("10-28 12:00 EDT")).plate).toMatchObject({
      form: "open",
      action: "Scuff, recoat O2",
      since: "11:40",
    });
  });

  test("has no time after a failed test, and the strip names whose test it was", () => {
    const failed = handTest({
      pieceId: nightstands.id,
      subject: { of: "surface", surfaceId: faces.id },
      kind: "thumb-twist",
      at: at("10-28 14:00 EDT"),
      by: finisher.id,
      result: "fail",
    });
    const found = strip(nightstands, { test: [failed] });
    expect(found.plate).toEqual({ form: "barred", action: "Test again", verb: "By hand" });
    expect(found.stuck).toBe("F: thumb twist failed");
  });

  test("of a piece without a film says who has the work, or that it is free", () => {
    expect(strip(chairs).plate).toMatchObject({ form: "stands", action: "Repair", since: "Tue 19:00" });
    const lapsed = strip(chairs, {}, at("11-01 12:00 EST"));
    expect(lapsed.plate).toMatchObject({ form: "due", action: "Repair", time: "1 task free" });
  });

  test("of a listed piece without a film asks nothing of anybody", () => {
    expect(strip(sideboard).plate).toMatchObject({ form: "stands", action: "Listed" });
  });
});

describe("a strip's window", () => {
  test("says the state in a word, the product, the coat and the hours that counted", () => {
    const { run, film } = strip(dresser);
    expect(run).toMatchObject({ stage: "cure", glyph: "handle", state: "handle" });
    // 96 h are needed; 3.5 h at 19 °C, then the loft at 18 °C but for the night of the trip: 40.8 h by Wednesday 14:40
    expect(run.what).toBe("all surfaces, W1 coat 1 of 1 · 40.8 of 96 h earned");
    expect(film?.lost).toHaveLength(1);
    expect(film?.safe?.time).toBe("Sun 07:20");
  });

  test("of a fresh coat is wet, and the coat below it lies under its film", () => {
    const { run, film } = strip(wardrobe);
    expect(run).toMatchObject({ glyph: "wet", state: "wet" });
    expect(film).toMatchObject({ ripple: "wet", coatsBelow: 1 });
    expect(run.what).toContain(`${carcass.name.toLowerCase()}, W1 coat 2 of 2`);
  });

  test("puts now between laid and safe by the clock, not by the hours earned", () => {
    const { film } = strip(nightstands);
    // laid 11:00, safe 17:04:28; 14:40 is 220 of 364.5 minutes on
    expect(film?.now).toBeCloseTo(220 / 364.5, 2);
  });

  test("of a piece in repair names the work instead of a film", () => {
    const { run, film } = strip(chairs);
    expect(film).toBeUndefined();
    expect(run).toMatchObject({ state: "2 tasks", what: "Re-glue the seat rails · Tighten the backs" });
  });
});

describe("a strip's promise", () => {
  test("says how long it is in hand, or by how much it falls short of Friday 05:15, when hands may grip it", () => {
    const evening = at("10-28 18:10 EDT");
    const inLoft = stay(wardrobe.id, loft, at("10-28 18:00 EDT"));
    const given = (dueAt: number, isWholeDay: boolean) =>
      strip(
        wardrobe,
        {
          roomStay: [inLoft],
          reading: weekReadings(evening, trippedLoft),
          promise: [promised(wardrobe, "photos", dueAt, isWholeDay)],
        },
        evening,
      ).promise;
    expect(given(at("10-31 10:00 EDT"), false)).toEqual({ text: "Photos Sat 10:00 · a day in hand", atRisk: false });
    expect(given(at("10-30 00:00 EDT"), true)).toEqual({ text: "Photos Thu 29 Oct · 5 h 15 short", atRisk: true });
  });

  test("counts the coats that have still to go on instead of calling a date safe", () => {
    const found = strip(bookcase, { promise: [promised(bookcase, "delivery", at("11-12 00:00 EST"), true)] });
    expect(found.promise).toEqual({ text: "Delivery Wed 11 Nov · 2 coats to go on", atRisk: false });
  });

  test("is at risk once its hour has passed", () => {
    const found = strip(dresser, { promise: [promised(dresser, "outlet", at("10-28 12:40 EDT"))] });
    expect(found.promise).toEqual({ text: "Outlet 12:40 · 2 h over", atRisk: true });
  });
});

test("a strip shows who has it, who is at work and who looks, in words", () => {
  const running = {
    id: "00000000-0000-7000-8000-0000000f0001",
    memberId: finisher.id,
    startedAt: at("10-28 13:00 EDT"),
    restMin: 0,
    workKind: "bench" as const,
    subjects: [{ pieceId: chairs.id, stage: "repair" as const }],
    splitRule: "one" as const,
    source: "timer" as const,
    versions: [],
  };
  const facts = wednesday({ entry: [running] });
  const found = stripView(outlookOf(facts, chairs, theShop, now), { zone, looking: [finisher] });
  expect(found.who).toMatchObject({ letter: "F" });
  expect(found.where).toBe("Loft · F at work · F looking");
  expect(strip(dresser).where).toBe("Loft");
});
