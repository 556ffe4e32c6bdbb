/**
 * How much water wood holds: in the long run as much as its air makes it, and in between whatever a scale says. Real wood
 * differs by species and history; a tenth of a percent is for showing which way it goes.
 */
import { accept, type Result, refuse } from "../result";
import { type OutsideRange, outsideRange } from "./range";

/** Table 4-2 covers 30 to 270 °F. The equation itself is defined from dry air to full air. */
const tableCelsius = { label: "air temperature", unit: "°C", min: -1.1, max: 132.2 };
const anyHumidity = { label: "relative humidity", unit: "% RH", min: 0, max: 100 };
/** Table 4-2 ends here: above, pores fill and no figure holds. */
const highestHumidityPercent = 95;

export type WoodMoistureRefusal = OutsideRange | { kind: "near-fibre-saturation"; humidityPercent: number };

/** Hailwood and Horrobin's form with two hydrates. */
const equation = (celsius: number, humidityPercent: number) => {
  const squared = celsius * celsius;
  const weight = 349 + 1.29 * celsius + 0.0135 * squared;
  const k = 0.805 + 0.000736 * celsius - 0.00000273 * squared;
  const k1 = 6.27 - 0.00938 * celsius - 0.000303 * squared;
  const k2 = 1.91 + 0.0407 * celsius - 0.000293 * squared;
  const kh = (k * humidityPercent) / 100;
  const hydrates = k1 * kh + 2 * k1 * k2 * kh * kh;
  return (1800 / weight) * (kh / (1 - kh) + hydrates / (1 + k1 * kh + k1 * k2 * kh * kh));
};

/**
 * The moisture content that wood comes to in this air, if it lies in it for long.
 *
 * @param airCelsius °C, −1.1…132.2, as Table 4-2
 * @param humidityPercent % RH, 0…95; above, wood is near fibre saturation and there is no figure
 * @returns % of the dry weight, midway between wetting and drying
 * @source Wood Handbook (FPL-GTR-282, 2021), eq. 4-5, Celsius set
 * @example woodEquilibriumPercent(20, 65).value // 11.996
 */
export const woodEquilibriumPercent = (
  airCelsius: number,
  humidityPercent: number,
): Result<number, WoodMoistureRefusal> => {
  const outside = outsideRange(airCelsius, tableCelsius) ?? outsideRange(humidityPercent, anyHumidity);
  if (outside) return refuse(outside);
  if (humidityPercent > highestHumidityPercent) return refuse({ kind: "near-fibre-saturation", humidityPercent });
  return accept(equation(airCelsius, humidityPercent));
};

/**
 * The air that keeps wood at a moisture content: the inverse of the equation, by halving.
 *
 * @param airCelsius °C, −1.1…132.2
 * @param moisturePercent % of the dry weight, 0 to what 95 % RH makes of it
 * @returns % RH, 0…95
 * @source Wood Handbook (FPL-GTR-282, 2021), eq. 4-5, Celsius set
 */
export const humidityPercentForWood = (airCelsius: number, moisturePercent: number): Result<number, OutsideRange> => {
  const outside = outsideRange(airCelsius, tableCelsius);
  if (outside) return refuse(outside);
  const max = equation(airCelsius, highestHumidityPercent);
  const tooWet = outsideRange(moisturePercent, { label: "wood moisture", unit: "%", min: 0, max });
  if (tooWet) return refuse(tooWet);
  let [low, high] = [0, highestHumidityPercent];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (equation(airCelsius, middle) < moisturePercent) low = middle;
    else high = middle;
  }
  return accept(high);
};

/**
 * Moisture content from two weighings, as the wood trade means it: water over dry wood. Green wood has over 100 %.
 *
 * @param wetGrams g as found
 * @param ovenDryGrams g after drying at 103 °C until it loses no more
 * @returns % of the dry weight
 * @source Wood Handbook (FPL-GTR-282, 2021), eq. 4-2; EN 13183-1
 * @example moisturePercentByWeight(1150, 1000) // 15.0
 */
export const moisturePercentByWeight = (wetGrams: number, ovenDryGrams: number) =>
  (100 * (wetGrams - ovenDryGrams)) / ovenDryGrams;

/**
 * The same water over the wet weight, as pulp and firewood are sold by, put on the wood trade's basis.
 *
 * @param wetBasisPercent % of the wet weight, 0…below 100
 * @returns % of the dry weight
 * @source algebra of the two definitions
 * @example dryBasisPercent(50) // 100.0
 */
export const dryBasisPercent = (wetBasisPercent: number) => (100 * wetBasisPercent) / (100 - wetBasisPercent);

/**
 * @param moisturePercent % of the dry weight
 * @returns % of the wet weight
 * @source algebra of the two definitions
 * @example wetBasisPercent(100) // 50.0
 */
export const wetBasisPercent = (moisturePercent: number) => (100 * moisturePercent) / (100 + moisturePercent);

/**
 * How much wider (or, below zero, narrower) a board gets across the grain. Holds between about 6 and 14 %, and well enough
 * a little beyond.
 *
 * @param widthMillimetres mm across the grain
 * @param coefficientPerPercent dimensional change per % of moisture: Wood Handbook, table 13-5, by species and cut
 * @param fromPercent, toPercent moisture content, % of the dry weight
 * @returns mm
 * @source Wood Handbook (FPL-GTR-282, 2021), ch. 13, change in dimension by the coefficient
 * @example acrossGrainMillimetres(100, 0.0035, 8, 12) // 1.4
 */
export const acrossGrainMillimetres = (
  widthMillimetres: number,
  coefficientPerPercent: number,
  fromPercent: number,
  toPercent: number,
) => widthMillimetres * coefficientPerPercent * (toPercent - fromPercent);
