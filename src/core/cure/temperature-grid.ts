/** Readings carry a tenth of a degree, so the ends of nearly every stretch of air lie on this grid. */
import type { AirLine, Clock } from "./rate";

/** The bounds of what may be written down as an air temperature, in tenths of a degree. */
export const lowestTenth = -400;
const highestTenth = 600;
export const tenths = highestTenth - lowestTenth;
/** Stands for a temperature between two tenths. */
const offGrid = 65_535;
/** Stands for the temperature of a stretch that nobody knows. */
export const unknownAir = 65_534;

export const gridIndex = (celsius: number) => {
  const tenth = Math.round(celsius * 10);
  return tenth / 10 === celsius && tenth >= lowestTenth && tenth <= highestTenth ? tenth - lowestTenth : offGrid;
};
/** Divided last, so that it is the very number that was typed. */
export const gridCelsius = (index: number) => (index + lowestTenth) / 10;

/** Stretches of air in columns, with the temperatures of their ends as they lie on the grid. */
export type GridStretches = {
  start: Uint16Array;
  end: Uint16Array;
  minutes: Float64Array;
  startHumidityPercent: Float64Array;
  endHumidityPercent: Float64Array;
  /** For a stretch with an end between two tenths, which no table has. */
  lineAt: (index: number) => AirLine;
};

/** What a stretch that nobody knows counts by itself: on the fast clock it counts as it passes. */
export const unknownMinutes = (clock: Clock, { minutes }: GridStretches, index: number) =>
  clock.kind === "fast" ? (minutes[index] as number) : 0;
