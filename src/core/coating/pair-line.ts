import type { Family } from "../shop/entities/products";
import type { Sheet } from "../shop/tables";
import { type PairRule, pairRule } from "../tables/over-under";

/** What decides about one product over another, and who says so. */
export type PairLine = {
  rule: PairRule;
  /** The can's own wait, minutes at its reference; reached, it stands in for the barrier. */
  waitMin?: number;
  barrierFamily?: Family;
  /** Said by the product's own sheet rather than by the trade's table. */
  isOwn: boolean;
};

/**
 * The rule for laying a product over a family: its own sheet's line if there is one, else the trade's table. Within one
 * family the recoat window alone decides. A line without a letter says N when it is never, B when it names a barrier, and
 * otherwise yes, after its wait.
 */
export const pairLine = (over: Pick<Sheet, "over">, underFamily: Family, overFamily: Family): PairLine => {
  const own = over.over.find((line) => line.underFamily === underFamily);
  if (!own) return { rule: pairRule(underFamily, overFamily) ?? "Y", isOwn: false };
  const { waitMin, barrierFamily } = own;
  const rule = own.isNever ? "N" : (own.rule ?? (barrierFamily === undefined ? "Y" : "B"));
  return {
    rule,
    isOwn: true,
    ...(waitMin !== undefined && { waitMin }),
    ...(barrierFamily !== undefined && { barrierFamily }),
  };
};

/** Dewaxed shellac first: it holds to most films and most films hold to it. Common practice. */
const barriers = ["shellac", "shellac-blocker"] as const;

const goesOver = (under: Family, over: Family) => {
  const rule = pairRule(under, over) ?? "Y";
  return rule === "Y" || rule === "S" || rule === "D";
};

/**
 * The coat that can lie between two that do not go on each other: it must hold to the lower and carry the upper.
 *
 * @returns nothing where no barrier helps, as under what must sink into wood, or over wax
 */
export const barrierBetween = (underFamily: Family, overFamily: Family): Family | undefined =>
  barriers.find((barrier) => goesOver(underFamily, barrier) && goesOver(barrier, overFamily));
