import type { Surface } from "../shop/tables";
import { dryFilmMicrometres } from "./film-thickness";
import type { Layer } from "./schedule-findings";
import { practicalSpread, spreadSquareMetresPerLitre } from "./spreading";

/** What a coat adds to the film, µm dry; nothing where its sheet does not say enough, or it is wiped off again. */
export const dryMicrometresOf = ({ sheet, wetFilmMicrometres, thinnedPercent = 0 }: Layer): number | undefined => {
  const wet = wetFilmMicrometres ?? sheet.wetFilmMicrometres;
  if (sheet.volumeSolidsPercent === undefined || wet === undefined || sheet.wipeFromMin !== undefined) return undefined;
  return dryFilmMicrometres(wet, sheet.volumeSolidsPercent, thinnedPercent / 100);
};

/**
 * Litres of product for one coat on an area.
 *
 * @param areaSquareMetres m²
 * @param transferPercent how much of what leaves the gun or brush stays on the piece; what is wiped on loses nothing
 * @returns litres as they come from the can; nothing where the sheet does not say enough
 * @source practical spreading rate: ISO 23811 with the loss of the method
 */
const litresOf = (layer: Layer, areaSquareMetres: number, transferPercent: number): number | undefined => {
  const dryMicrometres = dryMicrometresOf(layer);
  const { volumeSolidsPercent, spreadSquareMetresPerLitre: stated } = layer.sheet;
  if (dryMicrometres !== undefined && volumeSolidsPercent !== undefined)
    return (
      areaSquareMetres /
      practicalSpread(spreadSquareMetresPerLitre(volumeSolidsPercent, dryMicrometres), transferPercent)
    );
  return stated === undefined ? undefined : areaSquareMetres / stated;
};

export type ScheduleTotals = {
  /** Of all coats that lie or are to come. */
  dryMicrometres: number;
  /** Of the coats still to come. */
  litres: number;
  /** Coats whose sheets do not say enough for the film, and for the litres: the sums leave them out. */
  withoutFilm: string[];
  withoutLitres: string[];
};

/**
 * The film that a schedule builds up, and what is still to be used for it.
 *
 * @param transferPercent above 0…100, of the method by which the coats to come are laid
 */
export const scheduleTotals = (
  surface: Pick<Surface, "squareDecimetres">,
  layers: readonly Layer[],
  transferPercent: number,
): ScheduleTotals => {
  const toCome = layers.filter(({ isLaid }) => !isLaid);
  const litres = toCome.map((layer) => litresOf(layer, surface.squareDecimetres / 100, transferPercent));
  const films = layers.map(dryMicrometresOf);
  const sum = (figures: readonly (number | undefined)[]) =>
    figures.reduce<number>((total, figure) => total + (figure ?? 0), 0);
  const missing = (of: readonly Layer[], figures: readonly (number | undefined)[]) =>
    of.filter((_, index) => figures[index] === undefined).map(({ coatId }) => coatId);
  return {
    dryMicrometres: sum(films),
    litres: sum(litres),
    withoutFilm: missing(layers, films),
    withoutLitres: missing(toCome, litres),
  };
};
