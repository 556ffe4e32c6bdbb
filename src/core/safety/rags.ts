import type { Can, Sheet } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";

/** How long wet rags may wait for their safe end. Choice of this product, on the short side of common practice. */
export const ragsWithinMin = 30;

/** What came out of a can without a label is unknown, whatever somebody took it for; and unknown counts as oil. */
export const oilOf = (
  sheet: Pick<Sheet, "isOilBearing">,
  cans: readonly Pick<Can, "isLabelled">[],
): Pick<Sheet, "isOilBearing"> =>
  sheet.isOilBearing === "no" && cans.some((can) => !can.isLabelled) ? { isOilBearing: "unknown" } : sheet;

/**
 * By when the rags of a coat must lie flat outdoors in one layer, or under water in a lidded metal can: half an hour after
 * the coat, and before the last person leaves. An unknown product counts as oil.
 *
 * @param lastOutAt when the last person leaves, if that is known
 * @returns nothing for a product whose rags do not heat by themselves
 * @source NFPA, oily rags: cloths with drying oil can ignite hours later without a spark
 */
export const ragsDueAt = (
  sheet: Pick<Sheet, "isOilBearing">,
  endedAt: InstantMs,
  lastOutAt?: InstantMs,
): InstantMs | undefined => {
  if (sheet.isOilBearing === "no") return undefined;
  const dueAt = endedAt + ragsWithinMin * minuteMs;
  return lastOutAt === undefined ? dueAt : Math.min(dueAt, lastOutAt);
};
