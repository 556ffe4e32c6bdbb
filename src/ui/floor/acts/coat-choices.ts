import type { Facts } from "~/core/shop/facts";
import type { Coat, Sheet } from "~/core/shop/tables";

export type PlannedCoat = { coat: Coat; surfaceName: string; productName: string };

const productNameOf = (facts: Facts, sheet: Sheet | undefined): string =>
  (sheet && facts.get("product", sheet.productId)?.name) ?? "a product";

/** The coat that goes on next, of each surface that has one planned. */
export function nextPlannedCoats(facts: Facts, pieceId: string): PlannedCoat[] {
  const coats = facts.where("coat", "pieceId", pieceId);
  return facts.where("surface", "pieceId", pieceId).flatMap((surface) => {
    const coat = coats
      .filter((other) => other.surfaceId === surface.id && other.state === "planned")
      .sort((one, other) => one.position - other.position)[0];
    if (!coat) return [];
    return [{ coat, surfaceName: surface.name, productName: productNameOf(facts, facts.get("sheet", coat.sheetId)) }];
  });
}

/** The newest sheet of every product that goes on as a coat, for one that nobody planned. */
export function coatProducts(facts: Facts): { sheetId: string; words: string }[] {
  const newest = new Map<string, Sheet>();
  for (const sheet of facts.all("sheet")) {
    const known = newest.get(sheet.productId);
    if (!known || known.version < sheet.version) newest.set(sheet.productId, sheet);
  }
  return facts
    .all("product")
    .filter(({ family, retiredAt }) => retiredAt === undefined && !["glue", "stripper", "thinner"].includes(family))
    .flatMap((product) => {
      const sheet = newest.get(product.id);
      return sheet ? [{ sheetId: sheet.id, words: product.name }] : [];
    })
    .sort((one, other) => one.words.localeCompare(other.words));
}
