import { describe, expect, test } from "vitest";
import { unthinned } from "~/core/coating/thinning";
import { minuteMs } from "~/core/units";
import {
  dryWords,
  mistWords,
  potLifeWords,
  poured,
  shelfWords,
  strainerWords,
  workedLines,
} from "~/ui/mixing/batch-words";
import { cupWords } from "~/ui/mixing/cup-loads-drawn";
import { type GunSetup, usualGun } from "~/ui/mixing/gun-setup";
import { coatsWords, gunWords } from "~/ui/mixing/mixing-head";
import { mixingShown } from "~/ui/mixing/mixing-view";
import { plannedCoats } from "~/ui/mixing/planned-coats";
import { chosenPot, potChoices } from "~/ui/mixing/pot-choices";
import {
  aCoat,
  aPiece,
  aProduct,
  aReading,
  aSheet,
  aStay,
  aSurface,
  dresser,
  fern,
  id,
  loft,
  monday8,
  paint,
  paintSheet,
  type Rows,
  shopWith,
  top,
} from "../../core/support/shop";

const zone = "America/New_York";
const [nightstands, faces] = [id(501), id(502)];
/** Solvent lacquer of 28 % solids: 89 µm wet leave 25 µm. */
const lacquer = aSheet({ volumeSolidsPercent: 28, wetFilmMicrometres: 89 });

const shop = (rows: Rows = {}, sheet = lacquer) =>
  shopWith({
    piece: [aPiece({ id: nightstands, number: "K-208", name: "Pair of nightstands", stage: "finish" })],
    surface: [aSurface({ id: faces, pieceId: nightstands, name: "all faces", squareDecimetres: 290 })],
    product: [aProduct({ name: "Clear lacquer", family: "lacquer" })],
    sheet: [sheet],
    roomStay: [aStay({ pieceId: nightstands })],
    coat: [
      aCoat({ id: id(121), pieceId: nightstands, surfaceId: faces }),
      aCoat({ id: id(122), pieceId: nightstands, surfaceId: faces, position: 2 }),
    ],
    reading: [aReading({ id: id(601), airCelsius: 33 })],
    ...rows,
  });

const shownOf = (facts: ReturnType<typeof shop>, gun: Partial<GunSetup> = {}, thinning = unthinned) => {
  const coats = plannedCoats(facts);
  const [shown] = mixingShown(
    facts,
    { coats, gun: { ...usualGun, ...gun }, choiceBySheetId: { [paintSheet]: { thinning } }, roomId: loft },
    monday8,
    zone,
  );
  if (!shown) throw new Error("nothing to mix");
  return shown;
};

describe("the sheet of two nightstands, two coats of lacquer of 25 µm dry over 2.9 m²", () => {
  // by hand: 2 × 2.9 m² × 25 µm = 145 mL dry; / 0.28 = 518 mL wet; / 0.55 = 0.94 L
  test("says 0.94 L, how it comes about, and its loads of the cup", () => {
    const shown = shownOf(shop());
    expect(shown.mix.millilitres / 1000).toBeCloseTo(0.94, 2);
    expect(workedLines(shown)).toEqual([
      { words: "5.8 m² × 89 µm wet", result: "516 ml" },
      { words: "55 % stays on the piece", result: "939 ml" },
    ]);
    expect(cupWords(shown.mix.cups, 600)).toBe("1 full cup of 600 ml and one of 339 ml");
    expect(dryWords(shown)).toBe("25 µm");
    expect(strainerWords(shown)).toBe("Fine cone, 150 µm");
    expect(shown.turns).toMatchObject([{ tag: "K-208", faces: ["all faces, 2 coats"], squareMetres: 5.8 }]);
    expect(shown.cautions.map(({ id: caution }) => caution)).toEqual(
      expect.arrayContaining(["solvent-vapour", "flame-near-vapour"]),
    );
  });

  test("says how much of it goes past the piece, where the sheet tells how heavy it is", () => {
    // by hand: 0.9385 L × 910 g/L × 45 % that never lands
    expect(mistWords(shownOf(shop({}, aSheet({ ...lacquer, densityGramsPerLitre: 910 }))))).toMatch(/^About 384 g /);
    expect(mistWords(shownOf(shop()))).toBeUndefined();
  });

  test("begins with the next coat alone, and with none of a piece that is still in repair", () => {
    const nextOf = (stage: "repair" | "prep" | "finish") =>
      plannedCoats(shop({ piece: [aPiece({ id: nightstands, stage })] })).filter(({ isNext }) => isNext);
    expect(nextOf("finish").map(({ coat }) => coat.position)).toEqual([1]);
    expect(nextOf("prep")).toHaveLength(1);
    expect(nextOf("repair")).toEqual([]);
    expect(coatsWords(nextOf("finish"))).toBe("1 coat on 1 piece, 2.9 m²");
  });

  test("pours base, hardener and thinner apart, and says that thinned film wants another coat", () => {
    const twoPart = aSheet({
      ...lacquer,
      hardenerPartsPerMille: 100,
      thinner: "lacquer thinner",
      thinLimitPercent: 20,
    });
    const shown = shownOf(shop({}, twoPart), {}, { by: "parts", paint: 3, thinner: 1 } as never);
    // by hand: 938.5 mL, three quarters of it product, a tenth of the base as much hardener
    expect(poured(shown).map(({ words, millilitres }) => [words, Math.round(millilitres)])).toEqual([
      ["Base", 640],
      ["Hardener", 64],
      ["Lacquer thinner", 235],
    ]);
    expect(dryWords(shown)).toBe("19 µm. Thinned like this, allow one more coat for every 3.");
    expect(shown.mix.overThinned).toMatchObject({ limitPercent: 20 });
  });

  test("takes the film of the generic type where nobody wrote one down, and says so", () => {
    const shown = shownOf(shop({}, aSheet()));
    // source: common practice, lacquer goes on at 100 µm wet; by hand 5.8 m² × 100 µm / 0.55
    expect(shown.isGeneric).toBe(true);
    expect(shown.mix.millilitres).toBeCloseTo(1054.5, 1);
    expect(shownOf(shop()).isGeneric).toBe(false);
  });

  test("names the faces whose film nobody can know, instead of a litre too little", () => {
    const facts = shop({ product: [aProduct({ family: "filler" })] }, aSheet());
    const shown = shownOf(facts);
    expect(shown.unknownFaces).toEqual(["all faces, 2 coats"]);
    expect(shown.mix.millilitres).toBe(0);
  });

  test("reckons a brush without a cup, a strainer and the gun's thinner", () => {
    const shown = shownOf(shop({}, aSheet({ ...lacquer, thinParts: { product: 3, thinner: 1 } })), { method: "brush" });
    expect(strainerWords(shown)).toBeUndefined();
    expect(gunWords({ ...usualGun, method: "brush", transferPercent: 90 })).toBe("Brush, 90 % stays on the piece");
    const coats = plannedCoats(shop());
    const gun: GunSetup = { ...usualGun, method: "brush" };
    const [unset] = mixingShown(shop(), { coats, gun, choiceBySheetId: {}, roomId: loft }, monday8, zone);
    expect(unset?.thinning).toEqual(unthinned);
  });
});

test("oil is reckoned by hand beside the gun, unless somebody sprays it", () => {
  const oil = shop({ product: [aProduct({ family: "oil-varnish" })] });
  expect(shownOf(oil)).toMatchObject({ isByHand: true, transferPercent: 90 });
  const sprayed = mixingShown(
    oil,
    { coats: plannedCoats(oil), gun: usualGun, choiceBySheetId: { [paintSheet]: { isByHand: false } }, roomId: loft },
    monday8,
    zone,
  );
  expect(sprayed[0]).toMatchObject({ isByHand: false, transferPercent: 55 });
});

describe("the pot life on the sheet", () => {
  // source: common practice, halves per 10 °C over the reference
  test("is shorter in a warm room, and the sheet's own where the room was never read", () => {
    const epoxy = aSheet({ ...lacquer, referenceCelsius: 23, potLifeMin: 30, inductionMin: 5 });
    expect(potLifeWords(shownOf(shop({}, epoxy)))).toBe("15 min at 33 °C. Let it stand 5 min first");
    expect(potLifeWords(shownOf(shop({ reading: [] }, epoxy)))).toBe(
      "30 min at 23 °C; the room was not read. Let it stand 5 min first",
    );
  });
});

const aCan = (row = {}) => ({
  id: id(701),
  productId: paint,
  label: "L-1",
  filledMillilitres: 1000,
  isLabelled: true,
  openedOn: "2026-10-20",
  ...row,
});

describe("the shelf against the need", () => {
  test("says how much is there, and how much is short", () => {
    expect(shelfWords(shownOf(shop()))).toEqual({ words: "No can written down; 939 ml needed.", isShort: false });
    expect(shelfWords(shownOf(shop({ can: [aCan()] }))).words).toBe("1.00 L in 1 can, 939 ml needed.");
    const counted = aCan({ counted: { at: monday8 - minuteMs, millilitres: 400 } });
    expect(shelfWords(shownOf(shop({ can: [counted] })))).toEqual({
      words: "400 ml in 1 can, 939 ml needed, 539 ml short.",
      isShort: true,
    });
  });

  test("asks the cans only for what is not mixed already", () => {
    const mixed = { id: id(801), sheetId: paintSheet, canIds: [], mixedAt: monday8 - minuteMs, by: fern, roomId: loft };
    const shown = (millilitres: number) =>
      shelfWords(shownOf(shop({ can: [aCan()], mix: [{ ...mixed, millilitres }] })));
    // by hand: 938.5 mL, of which 500 stand in the pot
    expect(shown(500).words).toBe("1.00 L in 1 can, 439 ml needed.");
    expect(shown(940).words).toBe("Mixed already; nothing more from the cans.");
  });

  test("does not count a can past its life, nor an empty one", () => {
    const old = aCan({ openedOn: "2016-10-28" });
    const sheet = aSheet({ ...lacquer, shelfOpenedDays: 365 });
    const shown = shownOf(shop({ can: [old, aCan({ id: id(702), emptiedAt: monday8 - minuteMs })] }, sheet));
    expect(shelfWords(shown)).toEqual({
      words: "939 ml needed; L-1 may be dead: put a drop on glass first.",
      isShort: true,
    });
    expect(shown.cans.map(({ lifeWords }) => lifeWords)).toEqual([
      "Past its life since Sat 28 Oct 2017: put a drop on glass first.",
    ]);
  });
});

describe("what a coat came out of", () => {
  const mix = (mixId: string, mixedAt: number) => ({
    id: mixId,
    sheetId: paintSheet,
    canIds: [],
    millilitres: 800,
    mixedAt,
    by: fern,
    roomId: loft,
  });
  const potAt = (mixes: ReturnType<typeof mix>[], picked?: string) =>
    chosenPot(
      potChoices(
        shop({ mix: mixes, can: [aCan()] }, aSheet({ ...lacquer, referenceCelsius: 33, potLifeMin: 30 })),
        paint,
        monday8,
        zone,
      ),
      picked,
    );

  test("is the only mix that still stands, unless somebody says otherwise", () => {
    const fresh = mix(id(801), monday8 - 20 * minuteMs);
    const setting = mix(id(802), monday8 - 31 * minuteMs);
    expect(potAt([fresh, setting])?.told).toEqual({ mixId: fresh.id });
    expect(potAt([fresh, setting], id(701))?.told).toEqual({ canIds: [id(701)] });
    expect(potAt([fresh, mix(id(803), monday8 - minuteMs)])?.told).toEqual({});
    expect(potAt([setting])?.told).toEqual({});
  });

  test("is never what belonged to another product that was chosen before", () => {
    expect(potAt([], id(799))?.told).toEqual({});
  });
});

test("pieces come in the order of their tags, with ten after nine", () => {
  const facts = shop({
    piece: [
      aPiece({ id: nightstands, number: "K-10", stage: "prep" }),
      aPiece({ id: dresser, number: "K-9", stage: "prep" }),
    ],
    surface: [aSurface({ id: faces, pieceId: nightstands }), aSurface({ id: top })],
    coat: [
      aCoat({ id: id(121), pieceId: nightstands, surfaceId: faces }),
      aCoat({ id: id(122), pieceId: dresser, surfaceId: top }),
    ],
  });
  expect(shownOf(facts).turns.map(({ tag }) => tag)).toEqual(["K-9", "K-10"]);
});
