import { expect, test } from "vitest";
import { aboutLines, sizeWords } from "~/ui/piece/about-view";
import { aPiece, dresser, fern, id, monday8, shopWith } from "../../core/support/shop";

const lineOf = (piece: ReturnType<typeof aPiece>, name: string, facts = shopWith({ piece: [piece] })) =>
  aboutLines(facts, piece, monday8).find((line) => line.name === name);

test("a size is said in centimetres, and an unmeasured side as unknown", () => {
  expect(sizeWords(aPiece({ widthMillimetres: 1325, depthMillimetres: 460 }))).toBe("132.5 × 46 × ? cm");
  expect(sizeWords(aPiece())).toBeUndefined();
});

test("old paint of unknown age is a caution that names what is not to be done", () => {
  const line = lineOf(aPiece({ isPainted: "unknown" }), "Lead");
  expect(line).toMatchObject({ isCaution: true });
  expect(line?.words).toContain("No dry sanding");
});

test("paint from after the ban is none, and an unpainted piece neither", () => {
  // the usual shop stands in the United States: 1978, 16 CFR 1303
  expect(lineOf(aPiece({ isPainted: "yes", madeYear: 1984 }), "Lead")?.isCaution).toBe(false);
  expect(lineOf(aPiece({ isPainted: "yes", madeYear: 1977 }), "Lead")?.isCaution).toBe(true);
  expect(lineOf(aPiece({ isPainted: "no" }), "Lead")?.isCaution).toBe(false);
});

test("a swab that found lead in one layer speaks for the whole piece", () => {
  const piece = aPiece({ isPainted: "yes" });
  const swab = {
    id: id(501),
    pieceId: dresser,
    subject: { of: "paint-layer" as const, layer: "second" },
    kind: "lead-swab" as const,
    at: monday8 - 1000,
    by: fern,
    result: "fail" as const,
  };
  expect(lineOf(piece, "Lead", shopWith({ piece: [piece], test: [swab] }))?.words).toMatch(/^Lead found/);
});
