/**
 * Woods whose colour comes up through water-borne paint, by the words people write for them. Water dissolves what is in the
 * wood and the drying film draws it up, so more paint never hides it. Source: common practice; tannin of oak, mahogany,
 * cherry, walnut, redwood and cedar is what every guide names.
 */
export const bleedingWoods = ["oak", "mahogany", "cherry", "walnut", "redwood", "cedar"] as const;

/** Their knots weep resin, often weeks later. Source: common practice. */
export const knottyWoods = ["pine", "spruce", "fir"] as const;

const words = (text: string) => text.toLowerCase().split(/[^\p{L}]+/u);

export type WoodRisk = "tannin" | "knots" | "red-stain";

/**
 * Why a wood may bleed, from what somebody wrote about it.
 *
 * @example woodRisk("quarter-sawn oak") // "tannin"
 */
export const woodRisk = (wood: string | undefined): WoodRisk | undefined => {
  if (wood === undefined) return undefined;
  const said = words(wood);
  if (bleedingWoods.some((name) => said.includes(name))) return "tannin";
  if (said.some((word) => word.startsWith("knot")) || knottyWoods.some((name) => said.includes(name))) return "knots";
  return said.includes("red") || said.includes("reddish") ? "red-stain" : undefined;
};
