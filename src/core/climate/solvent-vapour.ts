import { accept, type Result, refuse } from "../result";
import { type Antoine, type AntoineSolvent, antoineBySolvent } from "../tables/antoine";
import { type OutsideRange, outsideRange } from "./range";

const zeroCelsiusKelvin = 273.15;
const kilopascalPerBar = 100;

/**
 * The pressure up to which a solvent fills the air above it: the higher, the faster it leaves a film and cools it.
 *
 * @param celsius °C within the range of the solvent's constants
 * @returns kPa
 * @source NIST Chemistry WebBook (SRD 69), Antoine parameters; see the table
 */
export const solventVapourKilopascal = (solvent: AntoineSolvent, celsius: number): Result<number, OutsideRange> => {
  const { a, b, c, lowestKelvin, highestKelvin }: Antoine = antoineBySolvent[solvent];
  const kelvin = celsius + zeroCelsiusKelvin;
  const outside = outsideRange(celsius, {
    label: "temperature",
    unit: "°C",
    min: lowestKelvin - zeroCelsiusKelvin,
    max: highestKelvin - zeroCelsiusKelvin,
  });
  return outside ? refuse(outside) : accept(kilopascalPerBar * 10 ** (a - b / (kelvin + c)));
};
