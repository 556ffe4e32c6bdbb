import type { Facts } from "~/core/shop/facts";
import type { Coat, Piece, Product, Sheet, Surface } from "~/core/shop/tables";

/** A coat that somebody planned, with all that a mix needs to know of it. */
export type PlannedCoat = {
  coat: Coat;
  piece: Piece;
  surface: Surface;
  sheet: Sheet;
  product: Product;
  /** The next one of its surface, on a piece that is being prepared or finished: what one most likely mixes for. */
  isNext: boolean;
};

/** Glue, strippers and thinners are not mixed for a coat. */
const isLaidOn = (product: Product) => !["glue", "stripper", "thinner"].includes(product.family);

const ofPiece = (facts: Facts, piece: Piece): PlannedCoat[] => {
  const planned = facts
    .where("coat", "pieceId", piece.id)
    .filter((coat) => coat.state === "planned")
    .sort((one, other) => one.position - other.position);
  const isReady = piece.stage === "prep" || piece.stage === "finish";
  return facts.where("surface", "pieceId", piece.id).flatMap((surface) =>
    planned
      .filter((coat) => coat.surfaceId === surface.id)
      .flatMap((coat, index) => {
        const sheet = facts.get("sheet", coat.sheetId);
        const product = sheet && facts.get("product", sheet.productId);
        if (!product || !isLaidOn(product)) return [];
        return [{ coat, piece, surface, sheet, product, isNext: isReady && index === 0 }];
      }),
  );
};

/** Every planned coat of the pieces in the shop, by tag number, surface and position. */
export const plannedCoats = (facts: Facts): PlannedCoat[] =>
  facts
    .all("piece")
    .filter((piece) => piece.archivedAt === undefined)
    .sort((one, other) => one.number.localeCompare(other.number, "en", { numeric: true }))
    .flatMap((piece) => ofPiece(facts, piece));
