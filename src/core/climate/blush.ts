/**
 * Blush: a fast solvent cools its film by as much as 11 °C, and if that is below the dew point, water settles in it and it
 * turns milky. Sources disagree (65, 75 or 85 % RH; 15 or 20 °F above the dew point), so there are levels, not one line.
 */
import type { Family } from "../shop/entities/products";

export type BlushLevel = "none" | "caution" | "stop" | "hard-stop";

/** Published by finishers for shellac and lacquer: 65 % or 20 °F (11.1 °C); 75 % or 15 °F (8.3 °C); 85 % whatever else. */
const cautionFrom = { humidityPercent: 65, spreadCelsius: 11.1 };
const stopFrom = { humidityPercent: 75, spreadCelsius: 8.3 };
const hardStopPercent = 85;

/** Types that are carried by alcohol or lacquer thinner. Source: common practice. */
const fastFamilies: ReadonlySet<Family> = new Set<Family>(["shellac", "shellac-blocker", "lacquer"]);

export const isFastSolvent = (family: Family) => fastFamilies.has(family);

/**
 * How near a fast solvent finish is to turning milky. A level of this product's, between what finishers publish; at "stop"
 * a retarder may still do, at "hard-stop" nothing does.
 *
 * @param humidityPercent % RH of the air
 * @param spreadCelsius °C of the surface over the dew point
 * @source finishers' published rules for shellac and lacquer; the choice between them is common practice
 * @example blushLevel(50, 10.8) // "caution"
 */
export const blushLevel = (humidityPercent: number, spreadCelsius: number): BlushLevel => {
  const isPast = (line: typeof cautionFrom) =>
    humidityPercent >= line.humidityPercent || spreadCelsius < line.spreadCelsius;
  if (humidityPercent >= hardStopPercent) return "hard-stop";
  if (isPast(stopFrom)) return "stop";
  return isPast(cautionFrom) ? "caution" : "none";
};
