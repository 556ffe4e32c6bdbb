/**
 * Oil colour on Saturday, water-borne clear on Monday: the question that finishing forums are asked again and again. 72 h
 * under a water-borne film, or a barrier of shellac; common practice. Sheets are for 25 °C, the shop is at 20 °C.
 */
import { expect, test } from "vitest";
import { recoatFilmGate } from "~/core/cure/gate";
import type { LaidCoat } from "~/core/cure/picture";
import { hourMs } from "~/core/units";
import { at, coat, everyTenMinutes, loft, made, o1, pictureOf, piece, stay, surface, w2 } from "./week";

const stainedAt = at("10-24 12:00 EDT");
const twoDaysLater = stainedAt + 48 * hourMs;
/** Its own can allows it over an oil colour that has dried to recoat; the trade's table alone would wait for full cure. */
const shellac = made("shellac", {
  mechanism: "solvent",
  minimumCelsius: 10,
  recoatOpens: { min: 60 },
  over: [{ underFamily: "oil-stain", isNever: false }],
});

const stained = (barrierAt?: number) => {
  const ours = piece();
  const top = surface("top", ours.id);
  const barrier = barrierAt === undefined ? [] : [coat(top, shellac, barrierAt, { position: 2 }) as LaidCoat];
  const sheets = [o1, w2, shellac];
  return {
    top,
    picture: {
      ...pictureOf(
        {
          piece: ours,
          surfaces: [top],
          coats: [coat(top, o1, stainedAt) as LaidCoat, ...barrier],
          stays: [stay(ours.id, loft, stainedAt - hourMs)],
        },
        everyTenMinutes(loft, stainedAt - 7 * 24 * hourMs, twoDaysLater + 2 * hourMs, () => 20),
      ),
      sheetById: new Map(sheets.map(({ sheet }) => [sheet.id, sheet])),
      productById: new Map(sheets.map(({ product }) => [product.id, product])),
    },
  };
};

test("after 48 h at 20 °C an oil colour has 33.9 of the 72 h that a water-borne clear wants, and needs 53.8 h more", () => {
  const { top, picture } = stained();
  const clear = { action: "recoat", surfaceId: top.id, sheetId: w2.sheet.id } as const;
  const found = recoatFilmGate(picture, clear, twoDaysLater);
  // by hand, twice as slow for 10 °C: 48 h · 2^(−0.5) = 33.94 h; (72 h − 33.94 h) / 2^(−0.5) = 53.82 h
  expect(found).toMatchObject({ state: "shut", neededMin: 72 * 60 });
  expect((found.safeCreditMin ?? 0) / 60).toBeCloseTo(33.94, 1);
  expect(((found.safeAt ?? 0) - twoDaysLater) / hourMs).toBeCloseTo(53.82, 1);
  expect(found.needs).toContainEqual({
    kind: "not-over-that",
    overFamily: "water-borne-clear",
    underFamily: "oil-stain",
    rule: "B",
    waitMin: 72 * 60,
    barrierFamily: "shellac",
  });
});

test("a barrier of shellac goes on that oil colour at once, and the clear on the shellac 1 h 25 min later", () => {
  const { top, picture } = stained();
  const barrier = { action: "recoat", surfaceId: top.id, sheetId: shellac.sheet.id } as const;
  expect(recoatFilmGate(picture, barrier, twoDaysLater).state).toBe("open");
  const sealed = stained(twoDaysLater);
  const clear = { action: "recoat", surfaceId: sealed.top.id, sheetId: w2.sheet.id, scuffedBefore: true } as const;
  // by hand: an hour at 25 °C is 60 / 2^(−0.5) = 84.85 min at 20 °C
  const afterMin = (minutes: number) => recoatFilmGate(sealed.picture, clear, twoDaysLater + minutes * 60_000).state;
  expect([afterMin(84), afterMin(85)]).toEqual(["shut", "open"]);
});
