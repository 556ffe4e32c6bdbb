import { describe, expect, test } from "vitest";
import { pictureOf } from "~/core/shop/picture";
import type { Surface } from "~/core/shop/tables";
import { dayMs } from "~/core/units";
import { resultChoices, testChoices } from "~/ui/floor/acts/test-kinds";
import { measureFound } from "~/ui/floor/acts/test-measure";
import { patchProducts, subjectChoices } from "~/ui/floor/acts/test-subjects";
import { dryLines } from "~/ui/piece/dry-lines";
import { measuredWords, testedWords } from "~/ui/piece/test-words";
import { body, drawers, dresser, handTest, now, wednesday, zone } from "./wednesday";

const picture = (facts = wednesday()) => {
  const found = pictureOf(facts, dresser.id);
  if (!found) throw new Error("no dresser");
  return found;
};

describe("what a test can be made on", () => {
  test("is a face, two that touch, or bare wood, as its kind says", () => {
    const told = (kind: Parameters<typeof subjectChoices>[2]) =>
      subjectChoices(wednesday(), dresser.id, kind).map((choice) => choice.told.of);
    expect(told("thumb-twist")).toEqual(["surface", "surface"]);
    expect(told("paper-press")).toEqual(["pair", "surface", "surface"]);
    expect(told("moisture-meter")).toEqual(["washed", "washed"]);
    expect(told("pull-or-tap")).toEqual([]);
  });

  test("a joint is offered only where one was glued", () => {
    const kinds = (hasJoints: boolean) => testChoices(dresser, true, hasJoints).map(({ id }) => id);
    expect(kinds(false)).not.toContain("pull-or-tap");
    expect(kinds(true)).toContain("pull-or-tap");
  });

  test("a patch is of a product that shows a stain, not of the barrier under it", () => {
    expect(patchProducts(wednesday(), body.id).map(({ family }) => family)).not.toContain("shellac-blocker");
  });

  test("each result is said in the words of its test", () => {
    const words = (kind: Parameters<typeof resultChoices>[0], id: string) =>
      resultChoices(kind).find((choice) => choice.id === id)?.words;
    expect([words("pull-or-tap", "pass"), words("chalk-look", "fail"), words("bleed-patch", "fail")]).toEqual([
      "Sound",
      "White and powdery",
      "It bleeds through",
    ]);
  });
});

describe("a number read off a meter", () => {
  // the loft at 18 °C and 50 % RH: wood comes to 9.3 % (Wood Handbook, FPL-GTR-282, table 4-2, 15.6 to 21.1 °C: 9.2 to 9.3)
  test("is turned into dry or not before it is written down, with what the room makes of wood", () => {
    const found = (value: number) => measureFound(picture(), body, "moisture-meter", value, now);
    expect(found(10)).toMatchObject({ result: "pass" });
    expect(found(10).words).toContain("9.3 %");
    expect(found(12.5)).toMatchObject({ result: "fail" });
    expect(found(5).words).toContain("Below 6 %");
  });

  test("of a scale needs a second one", () => {
    expect(measureFound(picture(), body, "weight", 8400, now).result).toBe("pending");
  });
});

test("washed wood is listed with when it may be coated; other wood is not", () => {
  const wet: Surface = {
    ...body,
    id: "00000000-0000-7000-8000-0000000bbbbb",
    name: "Plinth",
    lastWaterAt: now - dayMs / 2,
  };
  const lines = dryLines(picture(wednesday({ surface: [wet] })), now, zone);
  expect(lines.map(({ words }) => words)).toEqual(["Plinth: dry from Thu 06:00"]);
});

test("a test is told with what was tested and the number that was read", () => {
  const about = (subject: Parameters<typeof handTest>[0]["subject"]) =>
    testedWords(wednesday(), handTest({ subject, kind: "paper-press", at: now, result: "pass" }));
  expect(about({ of: "pair", pairId: drawers.id })).toContain(" against ");
  expect(about({ of: "paint-layer", layer: "second" })).toBe("old paint, second");
  const weighed = handTest({
    subject: { of: "washed", surfaceId: body.id },
    kind: "weight",
    at: now,
    result: "pass",
    measured: { value: 8400, unit: "gram" },
  });
  expect(measuredWords(weighed)).toBe(", 8400 g");
});
