import { describe, expect, test } from "vitest";
import { openByWord } from "~/core/cure/next-gate";
import { pictureOf } from "~/core/shop/picture";
import type { Word } from "~/core/shop/tables";
import { hourMs } from "~/core/units";
import { mayIView } from "~/ui/floor/may-i-view";
import { outlookOf } from "~/ui/floor/outlook";
import { stripView } from "~/ui/floor/strip-view";
import { untilChoices, wordChoices, wordLines } from "~/ui/piece/word-view";
import { safeView } from "~/ui/safe/safe-view";
import {
  body,
  drawers,
  dresser,
  finisher,
  handTest,
  nightstands,
  now,
  theShop,
  wednesday,
  zone,
} from "../floor/wednesday";

const picture = (facts: ReturnType<typeof wednesday>, pieceId: string) => {
  const found = pictureOf(facts, pieceId);
  if (!found) throw new Error("no such piece");
  return found;
};
const word = (more: Partial<Word> = {}): Word => ({
  id: "00000000-0000-7000-8000-0000000aaaaa",
  pieceId: dresser.id,
  action: "press-together",
  by: finisher.id,
  at: now - hourMs,
  untilAt: now + 20 * hourMs,
  why: "Felt pads lie between them",
  ...more,
});

describe("what a word may open", () => {
  test("is offered where only the clock holds it, with the clock's own time beside it", () => {
    const choices = wordChoices(picture(wednesday(), dresser.id), now, zone);
    expect(choices.map(({ words, detail }) => [words, detail])).toContainEqual(["Press together", "from Sun 07:20"]);
    expect(choices.some(({ told }) => told.action === "use" || told.action === "sand")).toBe(false);
  });

  test("is not offered where faces never lie on each other, or a hand has failed", () => {
    const lacquered = wordChoices(picture(wednesday(), nightstands.id), now, zone);
    expect(lacquered.map(({ told }) => told.action)).not.toContain("press-together");
    expect(lacquered.map(({ told }) => told.action)).toContain("move");
    const failed = handTest({
      pieceId: dresser.id,
      subject: { of: "pair", pairId: drawers.id },
      kind: "paper-press",
      at: now - hourMs,
      result: "fail",
    });
    const shut = wordChoices(picture(wednesday({ test: [failed] }), dresser.id), now, zone);
    expect(shut.map(({ told }) => told.action)).not.toContain("press-together");
    expect(shut.filter(({ detail }) => detail === "a test says no")).toEqual([]);
  });

  test("lasts three days at most, and says until when", () => {
    const choices = untilChoices(now, zone);
    expect(choices.map(({ id }) => Number(id))).toEqual([4, 12, 24, 48, 72]);
    expect(choices[0]?.detail).toBe("until 18:40");
  });
});

describe("an act that is open by somebody's word", () => {
  const facts = wednesday({ word: [word()] });
  const spoken = "by F’s word until Thu 10:40";

  test("says whose it is and until when, on the strip, in the list of acts, and at the rack", () => {
    const outlook = outlookOf(facts, dresser, theShop, now);
    expect(stripView(outlook, { zone, looking: [] }).plate).toMatchObject({
      form: "open",
      action: "Press together",
      detail: spoken,
    });
    expect(mayIView(picture(facts, dresser.id), now, zone)).toContainEqual(
      expect.objectContaining({ gate: "Press together", form: "open", by: spoken }),
    );
    const safe = safeView(outlook, now, zone);
    expect(safe.why).toContain(`Press together ${spoken}.`);
    expect(safe.cells).toContainEqual(expect.objectContaining({ gate: "press together", answer: "F’s word" }));
  });

  test("stands on the piece's sheet with why, until it is taken back", () => {
    expect(wordLines(picture(facts, dresser.id), now, zone)).toMatchObject([
      { words: "Press together by F’s word", detail: "until Thu 10:40 · Felt pads lie between them" },
    ]);
    const nail = { pieceId: dresser.id, subject: { of: "surface", surfaceId: body.id }, kind: "fingernail" } as const;
    const tests = [
      handTest({ ...nail, at: now - hourMs / 2, result: "fail" }),
      handTest({ ...nail, at: now - hourMs / 4, result: "pass" }),
    ];
    const [ended] = wordLines(picture(wednesday({ word: [word()], test: tests }), dresser.id), now, zone);
    expect(ended?.detail).toContain("ended by a failed test");
    const back = wednesday({ word: [word({ withdrawnAt: now - 1 })] });
    expect(wordLines(picture(back, dresser.id), now, zone)).toEqual([]);
    expect(openByWord(picture(back, dresser.id), now)).toEqual([]);
  });
});
