/** A whole spray session: the coats of many pieces, put together by product, so that each product is mixed once. */
import { mixMillilitres } from "./spreading";

/** One coat that is meant to go on one surface. */
export type CoatToLay = {
  coatId: string;
  pieceId: string;
  sheetId: string;
  squareDecimetres: number;
  /** As the gauge would read it, of the mix as it is laid; absent where the sheet says how far a litre goes instead. */
  wetFilmMicrometres?: number;
  /** m² of one litre of product, for what is wiped or brushed out until it is gone. */
  spreadSquareMetresPerLitre?: number;
};

/** What one piece takes of one product, in its turn. */
export type PieceTurn = { pieceId: string; coatIds: string[]; squareMetres: number; millilitres: number };

export type SprayBatch = {
  sheetId: string;
  coats: CoatToLay[];
  turns: PieceTurn[];
  /** Each surface as often as it is coated. */
  squareMetres: number;
  /** The mix to have ready, thinner and all, with what misses the piece. */
  millilitres: number;
  /** Coats for which neither a film nor a spreading rate is known: they are not in the millilitres. */
  unknownCoatIds: string[];
};

/** mL of mix for one coat; nothing where neither film nor spread is known. */
const coatMillilitres = (coat: CoatToLay, transferPercent: number): number | undefined => {
  const squareMetres = coat.squareDecimetres / 100;
  if (coat.wetFilmMicrometres !== undefined)
    return mixMillilitres({ squareMetres, wetFilmMicrometres: coat.wetFilmMicrometres, transferPercent, coats: 1 });
  // a spreading rate on a can is what people got from it: its loss is in it already
  if (coat.spreadSquareMetresPerLitre !== undefined) return (squareMetres * 1000) / coat.spreadSquareMetresPerLitre;
  return undefined;
};

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

/** By a key, in the order in which the keys first come. */
const grouped = (coats: readonly CoatToLay[], key: "sheetId" | "pieceId"): [string, CoatToLay[]][] => {
  const groups = new Map<string, CoatToLay[]>();
  for (const coat of coats) groups.set(coat[key], [...(groups.get(coat[key]) ?? []), coat]);
  return [...groups];
};

const turnOf = (pieceId: string, coats: readonly CoatToLay[], transferPercent: number): PieceTurn => ({
  pieceId,
  coatIds: coats.map((coat) => coat.coatId),
  squareMetres: sum(coats.map((coat) => coat.squareDecimetres / 100)),
  millilitres: sum(coats.map((coat) => coatMillilitres(coat, transferPercent) ?? 0)),
});

/**
 * What to mix for a session: a batch per product, in the order in which the products first come, and in each batch the
 * pieces in their order.
 *
 * @param coats in the order in which the pieces shall be sprayed
 * @param transferPercentBySheet how much of each product stays on the piece, above 0…100
 * @source practical spreading rate, ISO 23811 with the loss of the method
 */
export const sprayBatches = (
  coats: readonly CoatToLay[],
  transferPercentBySheet: (sheetId: string) => number,
): SprayBatch[] =>
  grouped(coats, "sheetId").map(([sheetId, ofSheet]) => {
    const transferPercent = transferPercentBySheet(sheetId);
    const turns = grouped(ofSheet, "pieceId").map(([pieceId, ofPiece]) => turnOf(pieceId, ofPiece, transferPercent));
    return {
      sheetId,
      coats: ofSheet,
      turns,
      squareMetres: sum(turns.map((turn) => turn.squareMetres)),
      millilitres: sum(turns.map((turn) => turn.millilitres)),
      unknownCoatIds: ofSheet
        .filter((coat) => coatMillilitres(coat, transferPercent) === undefined)
        .map((coat) => coat.coatId),
    };
  });
