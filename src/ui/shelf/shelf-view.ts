/** The products on the shelf, by what they are for. */

import type { Family } from "~/core/shop/entities/products";
import type { Facts } from "~/core/shop/facts";
import type { Product, Sheet } from "~/core/shop/tables";
import { familyWords } from "~/ui/trade-words";

export const groups = [
  {
    id: "colour",
    words: "Paints and colour",
    families: ["water-borne-paint", "chalk-paint", "milk-paint", "alkyd-enamel", "oil-stain"],
  },
  {
    id: "clear",
    words: "Clear finishes",
    families: ["water-borne-clear", "oil-varnish", "shellac", "lacquer", "two-component"],
  },
  { id: "wiped", words: "Oils and waxes", families: ["drying-oil", "oil-wax", "wax"] },
  { id: "under", words: "Primers and barriers", families: ["shellac-blocker", "water-borne-blocker"] },
  { id: "bench", words: "Glue, filler, clay", families: ["glue", "filler", "clay"] },
  { id: "strip", words: "Strippers and thinners", families: ["stripper", "thinner"] },
] as const satisfies { id: string; words: string; families: readonly Family[] }[];

export type ShelfProduct = {
  product: Product;
  familyWords: string;
  /** The newest version; strippers and thinners have none. */
  sheet?: Sheet;
  /** "typical figures", "from the can, version 3". */
  sheetWords: string;
  /** "on 3 pieces", or nothing. */
  usedWords?: string;
};

/** All versions of a product's sheet, the newest first. */
export const versionsOf = (facts: Facts, productId: string): Sheet[] =>
  facts.where("sheet", "productId", productId).sort((one, other) => other.version - one.version);

const sheetWords = (sheet: Sheet | undefined): string => {
  if (!sheet) return "leaves no film";
  const source = sheet.origin === "generic" ? "typical figures" : "from the can";
  return sheet.version === 1 ? source : `${source}, version ${sheet.version}`;
};

export type Use = { pieceId: string; number: string; name: string; planned: number; laid: number };

/** The pieces that carry this product or are to, those not yet gone first by their number. */
export function usesOf(facts: Facts, productId: string): Use[] {
  const sheetIds = new Set(versionsOf(facts, productId).map(({ id }) => id));
  const byPiece = new Map<string, Use>();
  for (const coat of facts.all("coat")) {
    if (!sheetIds.has(coat.sheetId) || coat.state === "struck" || coat.state === "removed") continue;
    const piece = facts.get("piece", coat.pieceId);
    if (!piece || piece.archivedAt !== undefined) continue;
    const use = byPiece.get(piece.id) ?? {
      pieceId: piece.id,
      number: piece.number,
      name: piece.name,
      planned: 0,
      laid: 0,
    };
    if (coat.state === "planned") use.planned += 1;
    else use.laid += 1;
    byPiece.set(piece.id, use);
  }
  return [...byPiece.values()].sort((one, other) => one.number.localeCompare(other.number));
}

/** The shelf in its groups, products by name; what was retired stands apart. */
export function shelfView(facts: Facts): {
  groups: { words: string; products: ShelfProduct[] }[];
  retired: ShelfProduct[];
} {
  const shown = facts
    .all("product")
    .map((product): ShelfProduct => {
      const [sheet] = versionsOf(facts, product.id);
      const uses = usesOf(facts, product.id).length;
      return {
        product,
        familyWords: familyWords[product.family],
        ...(sheet && { sheet }),
        sheetWords: sheetWords(sheet),
        ...(uses > 0 && { usedWords: uses === 1 ? "on 1 piece" : `on ${uses} pieces` }),
      };
    })
    .sort((one, other) => one.product.name.localeCompare(other.product.name));
  const isRetired = ({ product }: ShelfProduct) => product.retiredAt !== undefined;
  return {
    groups: groups
      .map(({ words, families }) => ({
        words,
        products: shown.filter(
          (one) => !isRetired(one) && (families as readonly Family[]).includes(one.product.family),
        ),
      }))
      .filter(({ products }) => products.length > 0),
    retired: shown.filter(isRetired),
  };
}
