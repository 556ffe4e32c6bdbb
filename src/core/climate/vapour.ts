/** The water that air holds, and how much more it would take. */
import { saturationPressureHectopascal } from "./dew-point";

const zeroCelsiusKelvin = 273.15;
/** Molar mass of water over the gas constant, for hectopascal, kelvin and grams. Source: ideal gas law, 18.015 g/mol. */
const gramsKelvinPerHectopascal = 216.679;

/**
 * The water in a cubic metre of air.
 *
 * @param airCelsius °C, −45…60
 * @param humidityPercent % RH, 0…100
 * @returns g/m³
 * @source ideal gas law over the Magnus form of WMO-No. 8, annex 4.B; under 0.3 % low in room air
 * @example absoluteHumidityGramsPerCubicMetre(20, 50) // 8.621
 */
export const absoluteHumidityGramsPerCubicMetre = (airCelsius: number, humidityPercent: number) =>
  (gramsKelvinPerHectopascal * saturationPressureHectopascal(airCelsius) * humidityPercent) /
  100 /
  (airCelsius + zeroCelsiusKelvin);

/**
 * What a wet surface has over the air around it: the pull by which water leaves it. Below zero it leaves the air instead,
 * and the surface gets wet.
 *
 * @param surfaceCelsius °C, −45…60
 * @param airCelsius °C, −45…60
 * @param humidityPercent % RH, 0…100
 * @returns kPa
 * @source definition of the vapour-pressure deficit, over WMO-No. 8, annex 4.B
 * @example surfaceDeficitKilopascal(18, 23, 50) // 0.6579
 */
export const surfaceDeficitKilopascal = (surfaceCelsius: number, airCelsius: number, humidityPercent: number) =>
  (saturationPressureHectopascal(surfaceCelsius) -
    (saturationPressureHectopascal(airCelsius) * humidityPercent) / 100) /
  10;

/**
 * How much more water the air would take: the deficit of a surface that is as warm as the air.
 *
 * @param airCelsius °C, −45…60
 * @param humidityPercent % RH, 0…100
 * @returns kPa, 0 in air that is full
 * @example vapourDeficitKilopascal(23, 50) // 1.4013
 */
export const vapourDeficitKilopascal = (airCelsius: number, humidityPercent: number) =>
  surfaceDeficitKilopascal(airCelsius, airCelsius, humidityPercent);
