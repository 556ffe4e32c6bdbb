/** Magnus form over water. Source: WMO-No. 8, annex 4.B (6.112 hPa; 17.62; 243.12 °C), for −45 to 60 °C. */
const magnus = { hectopascal: 6.112, factor: 17.62, celsius: 243.12 } as const;

/**
 * The water vapour pressure at which air of this temperature is full.
 *
 * @param celsius °C, −45…60
 * @returns hPa; up to 0.3 % below steam tables around 30 °C
 * @source WMO-No. 8, annex 4.B
 * @example saturationPressureHectopascal(20) // 23.326
 */
export const saturationPressureHectopascal = (celsius: number) =>
  magnus.hectopascal * Math.exp((magnus.factor * celsius) / (magnus.celsius + celsius));

/**
 * The temperature to which air must cool before moisture condenses on the piece.
 *
 * @param airCelsius °C, −45…60
 * @param humidityPercent % RH, 0…100
 * @returns °C, never above `airCelsius`; −∞ for air without any water, in which nothing condenses
 * @source WMO-No. 8, annex 4.B, solved for the temperature
 * @example dewPointCelsius(25, 60) // 16.693
 */
export const dewPointCelsius = (airCelsius: number, humidityPercent: number) => {
  if (humidityPercent >= 100) return airCelsius;
  if (humidityPercent <= 0) return Number.NEGATIVE_INFINITY;
  const logarithm = Math.log(humidityPercent / 100) + (magnus.factor * airCelsius) / (magnus.celsius + airCelsius);
  return (magnus.celsius * logarithm) / (magnus.factor - logarithm);
};

/**
 * How far the surface lies above the dew point of the air around it; below zero it is wet already.
 *
 * @param surfaceCelsius °C of the piece
 * @param airCelsius °C, −45…60
 * @param humidityPercent % RH, above 0…100
 * @returns a difference in °C
 * @example dewSpreadCelsius(19, 19, 48) // 11.3
 */
export const dewSpreadCelsius = (surfaceCelsius: number, airCelsius: number, humidityPercent: number) =>
  surfaceCelsius - dewPointCelsius(airCelsius, humidityPercent);

/**
 * The relative humidity of air whose dew point is known.
 *
 * @param airCelsius °C, −45…60
 * @param dewPoint °C, at most `airCelsius`
 * @returns % RH
 * @source WMO-No. 8, annex 4.B
 * @example humidityPercentFromDewPoint(20, 12) // 60.018
 */
export const humidityPercentFromDewPoint = (airCelsius: number, dewPoint: number) =>
  (100 * saturationPressureHectopascal(dewPoint)) / saturationPressureHectopascal(airCelsius);
