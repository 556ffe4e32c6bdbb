import { describe, expect, test } from "vitest";
import type { Piece } from "~/core/shop/tables";
import { outlookOf } from "~/ui/floor/outlook";
import { safeView } from "~/ui/safe/safe-view";
import { coat, surface, w1 } from "../../core/cure/week";
import {
  at,
  bookcase,
  chairs,
  chest,
  dresser,
  faces,
  finisher,
  handTest,
  nightstands,
  now,
  table,
  theShop,
  wardrobe,
  wednesday,
  zone,
} from "../floor/wednesday";

type More = Parameters<typeof wednesday>[0];
const safe = (piece: Piece, more: More = {}, when = now) =>
  safeView(outlookOf(wednesday(more), piece, theShop, when), when, zone);

describe("in front of the rack on Wednesday at 14:40", () => {
  test("the dresser may be carried, its drawers stay out, and the four cells say the rest", () => {
    const found = safe(dresser);
    expect(found).toMatchObject({ span: "now", order: "Carry it. Leave the drawers out." });
    expect(found.cells?.map(({ gate, form, answer }) => [gate, form, answer])).toEqual([
      ["touch", "yes", "yes"],
      ["handle", "yes", "yes"],
      ["press together", "when", "Sun 07:20"],
      ["wrap", "yes", "loose only"],
    ]);
    expect(found.why).toMatch(/^Holds: .*coat 1\. The loft was cold for 5 h 30 last night\.$/);
  });

  // instants as in tests/core/cure/demo-week.test.ts
  test.each([
    { piece: nightstands, span: "today", act: "Handle", time: "17:05" },
    { piece: table, span: "tomorrow", act: "Scuff, recoat", time: "Thu 08:30" },
  ])("$piece.number is for $span: $act $time", ({ piece, span, act, time }) => {
    expect(safe(piece)).toMatchObject({ span, when: { act, time, isBarred: false } });
  });

  test("a piece that may be gripped says when its next coat may go on", () => {
    const found = safe(bookcase);
    expect(found.order).toBe("Carry it. Nothing on it, nothing against it.");
    expect(found.why).toContain("Recoat, W2: Sat 13:05.");
  });

  test("a coat that may go on now stands under now, though nobody may grip the piece yet", () => {
    const seat = { ...surface("Seat", chairs.id), squareDecimetres: 90 };
    // four hours of the sheet: 1.5 h at 14 °C and from 09:00 on at 18 °C are earned before 14:40; its 24 h are not
    const first = coat(seat, w1, at("10-28 07:00 EDT"));
    const next: typeof first = { ...coat(seat, w1, now, { position: 2 }), state: "planned", applied: undefined };
    const found = safe({ ...chairs, stage: "finish" }, { surface: [seat], coat: [first, next] });
    expect(found).toMatchObject({ span: "now", when: { act: "Recoat, W1", time: "now" } });
    expect(found.order).toBeUndefined();
  });

  test("a wet piece says hands off until it may be gripped", () => {
    const found = safe(wardrobe);
    expect(found.when).toMatchObject({ glyph: "wet", act: "Wet. Hands off" });
    expect(found.carry).toBeUndefined();
    expect(found.order).toBeUndefined();
  });

  test("old paint with lead is not a matter of waiting, and carrying it is not forbidden", () => {
    expect(safe(chest)).toMatchObject({
      span: "never",
      when: { act: "No dry sanding", time: "Decide", isBarred: true },
      why: "Lead in layer two. It may be carried.",
    });
  });

  test("a bare piece is carried without further ado", () => {
    expect(safe(chairs)).toMatchObject({ span: "now", order: "Carry them. No film lies on them." });
    expect(safe(chairs).cells).toBeUndefined();
  });

  test("a failed thumb takes the time away, though the clock would open at 17:05", () => {
    const failed = handTest({
      pieceId: nightstands.id,
      subject: { of: "surface", surfaceId: faces.id },
      kind: "thumb-twist",
      at: at("10-28 14:00 EDT"),
      by: finisher.id,
      result: "fail",
    });
    const found = safe(nightstands, { test: [failed] });
    expect(found.span).toBe("never");
    expect(found.when?.isBarred).toBe(true);
    expect(found.why).toContain("thumb twist failed");
  });

  test("lacquer that may be gripped is never laid face to face", () => {
    const cells = safe(nightstands, {}, at("10-28 17:10 EDT")).cells;
    expect(cells?.[2]).toMatchObject({ gate: "press together", form: "not", answer: "not for this" });
  });
});
