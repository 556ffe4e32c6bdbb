import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { genericSheet } from "~/core/coating/generic-sheets";
import { families } from "~/core/shop/entities/products";
import { disagreeing, draftOf, fieldsOfDraft, missingFigures, type SheetFields } from "~/ui/shelf/sheet-draft";
import { fieldsOf } from "~/ui/shelf/sheet-fields";
import { aSheet } from "../../core/support/shop";

const { id: _id, productId: _productId, version: _version, origin: _origin, ...fromCan } = aSheet();
const family = "water-borne-paint";
const withFigure = (path: string, value: number, from: SheetFields = fromCan) => {
  const draft = draftOf(from, family);
  return fieldsOfDraft({ ...draft, figures: { ...draft.figures, [path]: value } }, from, family);
};

describe("a sheet that is opened and written again", () => {
  test.each(families.filter((one) => genericSheet(one) !== undefined))("%s comes out as it went in", (one) => {
    const { origin: _, ...start } = genericSheet(one) as NonNullable<ReturnType<typeof genericSheet>>;
    expect(fieldsOfDraft(draftOf(start, one), start, one)).toEqual(start);
  });

  test("keeps to the minute what the form shows in hours or days, as long as nobody touches it", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500_000 }), fc.integer({ min: 1, max: 500_000 }), (recoat, cure) => {
        const from = { ...fromCan, recoatOpens: { min: recoat }, fullCure: { min: cure } };
        expect(fieldsOfDraft(draftOf(from, family), from, family)).toEqual(from);
      }),
    );
  });

  test("every figure that is written comes back in the sheet's own unit", () => {
    for (const { path, times, hasShortEnd } of fieldsOf(family)) {
      if (path.includes(".") || path.startsWith("thinParts")) continue;
      const value = withFigure(path, 7)[path as keyof SheetFields];
      expect([path, value]).toEqual([path, hasShortEnd ? { min: 7 * times } : 7 * times]);
    }
  });
});

describe("what is written in the form", () => {
  test("hours with a part become minutes", () => {
    expect(withFigure("recoatOpens", 0.75).recoatOpens).toEqual({ min: 45 });
    expect(withFigure("fullCure", 21).fullCure).toEqual({ min: 30_240 });
  });

  test("a short end stands beside the safe time", () => {
    expect(withFigure("handle.typicalMin", 12).handle).toEqual({ min: 1440, typicalMin: 720 });
  });

  test("an emptied figure is left out of the sheet", () => {
    expect(withFigure("tackFree", Number.NaN)).not.toHaveProperty("tackFree");
    expect(withFigure("humidityLimitPercent", Number.NaN)).not.toHaveProperty("humidityLimitPercent");
    expect(withFigure("wrap.snug-paper", Number.NaN).wrap).toEqual(fromCan.wrap);
  });

  test("a stack and a wrap are lines; what the form does not show of them stays", () => {
    const from: SheetFields = { ...fromCan, wrap: [{ wrap: "foil", time: "never" }] };
    expect(withFigure("wrap.snug-paper", 48, from).wrap).toEqual([
      { wrap: "snug-paper", time: { min: 2880 } },
      { wrap: "foil", time: "never" },
    ]);
    expect(withFigure("stackWith.paper", 24).stackWith).toEqual([{ material: "paper", time: { min: 1440 } }]);
  });

  test("never is a box, and taking it away asks for a time again", () => {
    const draft = draftOf(fromCan, family);
    expect(draft.nevers).toEqual(["wrap.plastic"]);
    const never = { ...draft, nevers: ["pressTogether", "wrap.plastic"] };
    expect(fieldsOfDraft(never, fromCan, family).pressTogether).toBe("never");
    const figures = { ...draft.figures, "wrap.plastic": 720 };
    expect(fieldsOfDraft({ ...draft, figures, nevers: [] }, fromCan, family).wrap).toEqual([
      { wrap: "plastic", time: { min: 43_200 } },
    ]);
  });

  test("parts of a mix are only parts when both are written", () => {
    const draft = draftOf(fromCan, family);
    const both = { ...draft.figures, "thinParts.product": 3, "thinParts.thinner": 1 };
    expect(fieldsOfDraft({ ...draft, figures: both }, fromCan, family).thinParts).toEqual({ product: 3, thinner: 1 });
    const one = { ...draft.figures, "thinParts.product": 3 };
    expect(fieldsOfDraft({ ...draft, figures: one }, fromCan, family)).not.toHaveProperty("thinParts");
  });

  test("the air is the least that a sheet says", () => {
    const draft = draftOf(fromCan, family);
    expect(missingFigures(draft)).toEqual([]);
    expect(missingFigures({ ...draft, figures: { ...draft.figures, minimumCelsius: Number.NaN } })).toEqual([
      "minimumCelsius",
    ]);
  });

  test("two figures that disagree are found before anything is sent", () => {
    expect(disagreeing(fromCan)).toBeUndefined();
    expect(disagreeing(withFigure("recoatOpens", 30))).toEqual({
      kind: "sheet-out-of-order",
      fields: ["recoatOpens", "handle"],
      minutes: [1800, 1440],
    });
  });
});

test("only a glue is asked how it holds a joint, and it is not asked for stacks", () => {
  const paths = (of: "glue" | "lacquer") => fieldsOf(of).map(({ path }) => path);
  expect(paths("glue")).toContain("chalkCelsius");
  expect(paths("glue")[0]).toBe("openTimeMin");
  expect(paths("glue")).not.toContain("stackWith.paper");
  expect(paths("glue")).not.toContain("recoatOpens");
  expect(paths("lacquer")).not.toContain("clampMin");
  expect(paths("lacquer")).toContain("stackWith.paper");
});
