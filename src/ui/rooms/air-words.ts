/** What fails in the air, in words: found and needed. */
import type { HourFault } from "~/core/climate/forecast-fit";
import type { Acclimatising, MeasuredThing, MissedLimit } from "~/core/climate/limits";
import { celsius } from "../format";

export const thingWords: Record<MeasuredThing, string> = { air: "air", surface: "piece", product: "product" };

/** "Piece 9 °C, needs 10 °C or more" */
export function limitWords({ limit, of = "air", found, needed, unit }: MissedLimit): string {
  const thing = thingWords[of].replace(/^./, (letter) => letter.toUpperCase());
  switch (limit) {
    case "minimum":
      return `${thing} ${found} ${unit}, needs ${needed} ${unit} or more`;
    case "maximum":
      return `${thing} ${found} ${unit}, needs ${needed} ${unit} or less`;
    case "humidity":
      return `Humidity ${found} %, needs ${needed} % or less`;
    default:
      return `Piece ${found} ${unit} over the dew point, needs ${needed} ${unit}`;
  }
}

/** "The piece is at 9 °C: let it come to 10 °C, better 17 °C" */
export const acclimatisingWords = ({ what, foundCelsius, atLeastCelsius, betterCelsius }: Acclimatising): string => {
  const up = (value: number) => celsius(Math.ceil(value * 10 - 1e-6) / 10);
  const better = betterCelsius > atLeastCelsius ? `, better ${up(betterCelsius)}` : "";
  return `The ${thingWords[what]} is at ${celsius(Math.floor(foundCelsius * 10 + 1e-6) / 10)}: let it come to ${up(atLeastCelsius)}${better}.`;
};

const faultWords: Record<HourFault["why"], (fault: HourFault) => string> = {
  "no-whole-hour": () => "does not start on a whole hour",
  "out-of-order": () => "comes before the hour above it",
  twice: () => "is there twice",
  "over-already": () => "is over already",
  "too-far-ahead": () => "is more than ten days ahead",
  "cannot-be": (fault) => `says ${fault.found} ${fault.unit}; possible is ${fault.min} to ${fault.max}`,
  "finer-than-a-tenth": (fault) => `says ${fault.found} ${fault.unit}; a tenth is fine enough`,
  "low-above-likely": (fault) => `has its lowest, ${fault.found} °C, above what is likely, ${fault.max} °C`,
  "high-below-likely": (fault) => `has its highest, ${fault.found} % RH, below what is likely, ${fault.min} %`,
};

export const hourFaultWords = (fault: HourFault): string => faultWords[fault.why](fault);
