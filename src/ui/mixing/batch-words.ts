/** What a product's part of the mixing sheet says, on the screen and on paper alike. */
import { oversprayGrams } from "~/core/safety/ventilation";
import { duration } from "../format";
import { familyWords, listed } from "../trade-words";
import { area, film, percent, volume } from "./amount-words";
import type { BatchShown } from "./mixing-view";

export type WorkedLine = { words: string; result: string };

/** How the millilitres come about, one step a line. */
export function workedLines({ batch, mix, transferPercent }: BatchShown): WorkedLine[] {
  const onPiece = batch.coats.every((coat) => coat.wetFilmMicrometres !== undefined);
  if (!mix.film || !onPiece)
    return [
      { words: `${area(batch.squareMetres)} at what the can says a litre covers`, result: volume(mix.millilitres) },
    ];
  return [
    {
      words: `${area(batch.squareMetres)} × ${film(mix.film.wet)} wet`,
      result: volume((mix.millilitres * transferPercent) / 100),
    },
    { words: `${percent(transferPercent)} stays on the piece`, result: volume(mix.millilitres) },
  ];
}

export type Poured = { words: string; millilitres: number };

/** What goes into the pot, in the order in which it is poured. */
export const poured = ({ mix, thinnerName, sheet }: BatchShown): Poured[] =>
  [
    { words: sheet.hardenerPartsPerMille === undefined ? "From the can" : "Base", millilitres: mix.baseMillilitres },
    { words: "Hardener", millilitres: mix.hardenerMillilitres },
    { words: capital(thinnerName), millilitres: mix.thinnerMillilitres },
  ].filter(({ millilitres }) => millilitres > 0);

const capital = (words: string) => `${words[0]?.toUpperCase() ?? ""}${words.slice(1)}`;

/** "27 µm. Thinned like this, allow one more coat for every 3." */
export function dryWords({ mix }: BatchShown): string | undefined {
  const { dry } = mix.film ?? {};
  if (!dry) return undefined;
  if (mix.coatsFactor < 1.05) return film(dry);
  // 3 to 1 lays three quarters of a film: a fourth coat makes up for what three lack
  const every = Math.max(1, Math.round(1 / (mix.coatsFactor - 1)));
  return `${film(dry)}. Thinned like this, allow one more coat for every ${every === 1 ? "one" : every}.`;
}

const gradeWords = { coarse: "coarse", medium: "medium", fine: "fine" } as const;

export function strainerWords({ strainer }: BatchShown): string | undefined {
  if (!strainer) return undefined;
  const cone = `${capital(gradeWords[strainer.grade])} cone, ${strainer.openingMicrometres} µm`;
  return strainer.passesNozzle
    ? cone
    : `${cone}: still wider than half of this nozzle. Take a finer strainer or a wider nozzle`;
}

export function potLifeWords({ potLife, sheet }: BatchShown): string | undefined {
  if (!potLife) return undefined;
  const minutes = duration(Math.floor(potLife.minutes) * 60);
  const where =
    potLife.celsius === undefined
      ? `at ${sheet.referenceCelsius} °C; the room was not read`
      : `at ${potLife.celsius} °C`;
  const stands = sheet.inductionMin === undefined ? "" : `. Let it stand ${duration(sheet.inductionMin * 60)} first`;
  return `${minutes} ${where}${stands}`;
}

/** "43 g go past the piece: …"; nothing by brush, or where the sheet names no density. */
export function mistWords({ isByHand, sheet, mix, transferPercent }: BatchShown): string | undefined {
  const { densityGramsPerLitre } = sheet;
  if (isByHand || densityGramsPerLitre === undefined) return undefined;
  const grams = oversprayGrams({ millilitres: mix.millilitres, densityGramsPerLitre, transferPercent });
  return `About ${Math.round(grams)} g go past the piece, for the filters to catch and nobody to breathe`;
}

/** Where the product's own sheet is silent. */
export const genericWords = ({ isGeneric, product }: BatchShown): string | undefined =>
  isGeneric
    ? `Not all of it is on the product’s sheet: taken as ${familyWords[product.family]} usually is. What the can says goes before it.`
    : undefined;

export type ShelfWords = { words: string; isShort: boolean };

export function shelfWords({ cans, shelf }: BatchShown): ShelfWords {
  if (shelf.neededMillilitres === 0) return { words: "Mixed already; nothing more from the cans.", isShort: false };
  const needed = volume(shelf.neededMillilitres);
  if (cans.length === 0) return { words: `No can written down; ${needed} needed.`, isShort: false };
  const usable = cans.filter(({ isPast }) => !isPast).length;
  const isShort = shelf.millilitres < shelf.neededMillilitres;
  const short = isShort ? `, ${volume(shelf.neededMillilitres - shelf.millilitres)} short` : "";
  const past = cans.filter(({ isPast }) => isPast).map(({ can }) => can.label);
  if (usable === 0)
    return { words: `${needed} needed; ${listed(past)} may be dead: put a drop on glass first.`, isShort: true };
  const left = `${volume(shelf.millilitres)} in ${usable} ${usable === 1 ? "can" : "cans"}`;
  return { words: `${left}, ${needed} needed${short}.`, isShort };
}
