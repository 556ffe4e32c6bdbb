/** One product of a spray session as it is mixed: what goes into the pot, into the gun, and what of it stays dry. */
import { type CupLoads, cupLoads } from "./cup-loads";
import { dryFilmMicrometres } from "./film-thickness";
import type { SprayBatch } from "./spray-session";
import { splitMix, type Thinning, thinnerShare } from "./thinning";
import { splitProduct } from "./two-part";
import { volatileThinned } from "./volatile";

/** What of a data sheet a mix rests on. */
export type MixedProduct = {
  volumeSolidsPercent?: number;
  hardenerPartsPerMille?: number;
  thinLimitPercent?: number;
  vocGramsPerLitre?: number;
};

export type MixToMake = {
  millilitres: number;
  baseMillilitres: number;
  /** 0 for a product of one part. */
  hardenerMillilitres: number;
  thinnerMillilitres: number;
  cups: CupLoads;
  /** The thinnest and the thickest wet film of its coats, and what is left of them dry, µm. */
  film?: { wet: [number, number]; dry?: [number, number] };
  /**
   * Coats of this mix for each coat of the product unthinned, for the same dry film: 1.33 for 3 to 1. Source: common
   * practice, allow one more thin coat.
   */
  coatsFactor: number;
  /** More thinner than the sheet allows. */
  overThinned?: { percent: number; limitPercent: number };
  /** Volatile grams in a litre as sprayed; only where the sheet says what the product has. */
  volatileGramsPerLitre?: number;
};

/**
 * Takes a batch apart into base, hardener and thinner, and into cups.
 *
 * Thinner keeps the wet film and takes from the dry one: the gun lays as thick as the piece will hold.
 *
 * @param thinnerGramsPerLitre volatile grams in a litre of the thinner, 0 for water
 * @param cupMillilitres of the gun, above 0
 */
export const mixToMake = (
  batch: Pick<SprayBatch, "coats" | "millilitres">,
  product: MixedProduct,
  how: { thinning: Thinning; thinnerGramsPerLitre: number; cupMillilitres: number },
): MixToMake => {
  const share = thinnerShare(how.thinning);
  const { paintMillilitres, thinnerMillilitres } = splitMix(batch.millilitres, how.thinning);
  const { baseMillilitres, hardenerMillilitres } = splitProduct(paintMillilitres, product.hardenerPartsPerMille ?? 0);
  const films = batch.coats.flatMap((coat) => coat.wetFilmMicrometres ?? []);
  const wet: [number, number] = [Math.min(...films), Math.max(...films)];
  const { volumeSolidsPercent: solids, thinLimitPercent, vocGramsPerLitre } = product;
  const dry = solids === undefined ? undefined : wet.map((film) => dryFilmMicrometres(film, solids, share));
  const isOver = thinLimitPercent !== undefined && 100 * share > thinLimitPercent + 1e-9;
  return {
    millilitres: batch.millilitres,
    baseMillilitres,
    hardenerMillilitres,
    thinnerMillilitres,
    cups: cupLoads(batch.millilitres, how.cupMillilitres),
    ...(films.length > 0 && { film: { wet, ...(dry && { dry: dry as [number, number] }) } }),
    coatsFactor: 1 + share,
    ...(isOver && { overThinned: { percent: 100 * share, limitPercent: thinLimitPercent } }),
    ...(vocGramsPerLitre !== undefined && {
      volatileGramsPerLitre: volatileThinned(vocGramsPerLitre, share, how.thinnerGramsPerLitre),
    }),
  };
};
