/** The order of the coats on one surface: what lies under what. */
import type { Coat } from "../shop/tables";

/** A coat that was struck never was; every other keeps its place, one that was sanded off again too. */
const isInOrder = (coat: Coat): boolean => coat.state !== "struck";

/**
 * The first two coats of a surface that cannot both be where they are: in the same place, or one that is still to come
 * below one that already lies.
 *
 * @param coats all coats of one surface, positions 1 at the wood and rising
 * @returns ids of the lower and the upper coat, or nothing when the order holds
 */
export function coatsOutOfOrder(coats: readonly Coat[]): [string, string] | undefined {
  const ordered = coats.filter(isInOrder).sort((lower, upper) => lower.position - upper.position);
  for (const [index, upper] of ordered.entries()) {
    const lower = ordered[index - 1];
    if (!lower) continue;
    const isSamePlace = lower.position === upper.position;
    const isBelowLaid = lower.state === "planned" && upper.state !== "planned";
    if (isSamePlace || isBelowLaid) return [lower.id, upper.id];
  }
  return undefined;
}
