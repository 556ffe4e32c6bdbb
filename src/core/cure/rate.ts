import type { Mechanism } from "../shop/entities/products";
import type { Sheet } from "../shop/tables";
import { minuteMs } from "../units";

/** The part of a data sheet that says how fast its film hardens. */
export type CureReference = Pick<
  Sheet,
  "mechanism" | "referenceCelsius" | "referenceHumidityPercent" | "minimumCelsius"
>;

export type Air = { celsius: number; humidityPercent: number };

/** How many minutes at the sheet's reference one minute in this air (°C, % RH) is worth. */
type RateLaw = (celsius: number, humidityPercent: number, reference: CureReference) => number;

/**
 * Twice as fast for every 10 °C. An estimate that may only delay: source of the factor 2 per 10 °C is ASTM F1980 (where
 * it is the customary value for ageing tests); that it suits films is common practice, not a maker's promise.
 */
const doublesPerTenDegrees: RateLaw = (celsius, _humidityPercent, { referenceCelsius }) =>
  2 ** ((celsius - referenceCelsius) / 10);

const rateLawByMechanism: Record<Mechanism, RateLaw> = {
  "water-borne": doublesPerTenDegrees,
  solvent: doublesPerTenDegrees,
  oxidative: doublesPerTenDegrees,
  reactive: doublesPerTenDegrees,
  wax: doublesPerTenDegrees,
  glue: doublesPerTenDegrees,
  filler: doublesPerTenDegrees,
};

const uncapped: RateLaw = (celsius, humidityPercent, reference) =>
  rateLawByMechanism[reference.mechanism](celsius, humidityPercent, reference);
const slow: RateLaw = (celsius, humidityPercent, reference) =>
  celsius < reference.minimumCelsius ? 0 : Math.min(1, uncapped(celsius, humidityPercent, reference));
const fast: RateLaw = (celsius, humidityPercent, reference) =>
  Math.max(1, uncapped(celsius, humidityPercent, reference));

/**
 * What one minute in this air counts on the film's slow clock: never more than a minute, and nothing below the lowest
 * temperature on the sheet, where a film does not form.
 *
 * @returns 0…1
 * @example cureRate({ celsius: 15, humidityPercent: 50 }, { mechanism: "oxidative", referenceCelsius: 25, referenceHumidityPercent: 50, minimumCelsius: 10 }) // 0.5
 */
export const cureRate = ({ celsius, humidityPercent }: Air, reference: CureReference) =>
  slow(celsius, humidityPercent, reference);

/** What one minute counts on the fast clock, against which "not after" is measured: never less than a minute. */
export const fastRate = ({ celsius, humidityPercent }: Air, reference: CureReference) =>
  fast(celsius, humidityPercent, reference);

export type AirLine = { fromAt: number; toAt: number; from: Air; to: Air };

const between = (from: Air, to: Air, share: number): Air => ({
  celsius: from.celsius + share * (to.celsius - from.celsius),
  humidityPercent: from.humidityPercent + share * (to.humidityPercent - from.humidityPercent),
});

/** Gauss and Legendre's four points on 0…1: exact to rounding on a stretch as short and mild as those below. */
const nodes = [
  { share: 0.0694318442029737, weight: 0.1739274225687269 },
  { share: 0.3300094782075719, weight: 0.3260725774312731 },
  { share: 0.6699905217924281, weight: 0.3260725774312731 },
  { share: 0.9305681557970263, weight: 0.1739274225687269 },
] as const;

const longestPieceMs = 10 * minuteMs;
const widestPieceCelsius = 2;
const widestPiecePercent = 10;

/** Where, as a share of the line, the rate passes one minute a minute: there both clocks have a corner. */
const capCrossing = ({ from, to }: AirLine, reference: CureReference): number[] => {
  const isAbove = (share: number) => {
    const { celsius, humidityPercent } = between(from, to, share);
    return uncapped(celsius, humidityPercent, reference) > 1;
  };
  const startsAbove = isAbove(0);
  if (startsAbove === isAbove(1)) return [];
  let [low, high] = [0, 1];
  for (let step = 0; step < 50; step += 1) {
    const middle = (low + high) / 2;
    if (isAbove(middle) === startsAbove) low = middle;
    else high = middle;
  }
  return [high];
};

const minimumCrossing = ({ from, to }: AirLine, reference: CureReference): number[] => {
  const share = (reference.minimumCelsius - from.celsius) / (to.celsius - from.celsius);
  return share > 0 && share < 1 ? [share] : [];
};

const pieceMinutes = (line: AirLine, reference: CureReference, rate: RateLaw) => {
  const shares = [0, ...minimumCrossing(line, reference), ...capCrossing(line, reference), 1];
  shares.sort((one, other) => one - other);
  const { from, to } = line;
  const [riseCelsius, risePercent] = [to.celsius - from.celsius, to.humidityPercent - from.humidityPercent];
  let sum = 0;
  for (let index = 1; index < shares.length; index += 1) {
    const start = shares[index - 1] as number;
    const width = (shares[index] as number) - start;
    for (const { share, weight } of nodes) {
      const along = start + share * width;
      sum +=
        width *
        weight *
        rate(from.celsius + along * riseCelsius, from.humidityPercent + along * risePercent, reference);
    }
  }
  return (sum * (line.toAt - line.fromAt)) / minuteMs;
};

/**
 * What a stretch of air, along which temperature and humidity run straight, is worth on one of the two clocks. Cut
 * anywhere, the parts add up to the whole.
 *
 * @returns minutes at the sheet's reference
 */
export const lineMinutes = (line: AirLine, reference: CureReference, clock: "slow" | "fast"): number => {
  const rate = clock === "slow" ? slow : fast;
  const { from, to } = line;
  const duration = line.toAt - line.fromAt;
  if (from.celsius === to.celsius && from.humidityPercent === to.humidityPercent)
    return (rate(from.celsius, from.humidityPercent, reference) * duration) / minuteMs;
  const pieces = Math.max(
    1,
    Math.ceil(duration / longestPieceMs),
    Math.ceil(Math.abs(to.celsius - from.celsius) / widestPieceCelsius),
    Math.ceil(Math.abs(to.humidityPercent - from.humidityPercent) / widestPiecePercent),
  );
  let sum = 0;
  for (let piece = 0; piece < pieces; piece += 1) {
    const [start, end] = [piece / pieces, (piece + 1) / pieces];
    const part = {
      fromAt: line.fromAt + start * duration,
      toAt: line.fromAt + end * duration,
      from: between(from, to, start),
      to: between(from, to, end),
    };
    sum += pieceMinutes(part, reference, rate);
  }
  return sum;
};
