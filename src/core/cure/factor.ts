/**
 * What hand tests have taught of a product in this shop: how much longer its films take here than the sheet's typical
 * time. The factor is one of a fixed grid; the sheet says beforehand how likely each is; every passed or failed test
 * weighs them again by how well each would have foretold it. Nothing is forgotten and no order matters.
 */
import type { Product, Sheet } from "../shop/tables";
import type { InstantMs } from "../units";

type Observation = NonNullable<Product["observations"]>[number];

/** Beyond these a test tells of something other than the product: a wrong can, a thermometer in the sun. */
export const factorBounds = { least: 0.5, most: 3 } as const;

/** Even around 1 on the scale of ratios, so that no tests mean exactly 1; the answer is held within the bounds. */
const gridPoints = 61;
const logGrid = Array.from({ length: gridPoints }, (_, index) => Math.log(3) * ((2 * index) / (gridPoints - 1) - 1));

/** Two hands judge one film alike within about this (log scale). From memory: thumb and nail tests agree to 15 %. */
const handNoise = 0.15;
/** One test in fifty is a slip: the wrong surface, the wrong button. It may sway the factor, never fix it. */
const slipShare = 0.02;
/** A ratio below this tells no more than this one. */
const leastRatio = 0.05;

/** The sheet's long end is taken as what one film in ten outlasts: 1.2816 standard deviations above its middle. */
const oneInTen = 1.2816;
/** Where a sheet states no range, and how narrow or wide any sheet is believed to be (log scale). */
const spreads = { silent: 0.25, least: 0.15, most: 0.5 } as const;

/**
 * The share of a normal distribution below `z` standard deviations.
 *
 * @source Abramowitz and Stegun, Handbook of Mathematical Functions, 26.2.17 (error below 7.5e-8)
 * @example normalShareBelow(1) // 0.841345
 */
export const normalShareBelow = (z: number): number => {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const series = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const above = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * series;
  return z >= 0 ? 1 - above : above;
};

/** How far apart a sheet's typical and safe figures lie: what is believed of a film before anybody has tested one. */
const priorSpread = (sheet: Sheet | undefined): number => {
  const { setToTouch, tackFree, recoatOpens, handle, lightUse, pressTogether, fullCure } = sheet ?? {};
  const ranges = [setToTouch, tackFree, recoatOpens, handle, lightUse, pressTogether, fullCure].flatMap((time) =>
    typeof time === "object" && time.typicalMin !== undefined && time.typicalMin > 0 && time.typicalMin < time.min
      ? [Math.log(time.min / time.typicalMin)]
      : [],
  );
  if (ranges.length === 0) return spreads.silent;
  const mean = ranges.reduce((sum, range) => sum + range, 0) / ranges.length;
  return Math.min(spreads.most, Math.max(spreads.least, mean / oneInTen));
};

/** How likely the answer of a test was, had the factor been `exp(logFactor)`. */
const likelihood = ({ result, ratio }: Observation, logFactor: number): number => {
  const share = normalShareBelow((Math.log(Math.max(ratio, leastRatio)) - logFactor) / handNoise);
  const passes = slipShare / 2 + (1 - slipShare) * share;
  return result === "pass" ? passes : 1 - passes;
};

const held = (logFactor: number) => Math.min(factorBounds.most, Math.max(factorBounds.least, Math.exp(logFactor)));

/** The grid point below which a share of the weight lies, straight between the points. */
const logQuantile = (weights: readonly number[], share: number): number => {
  let below = 0;
  for (const [index, weight] of weights.entries()) {
    if (below + weight >= share) {
      const step = (logGrid[1] as number) - (logGrid[0] as number);
      return (logGrid[index] as number) + step * ((share - below) / weight - 0.5);
    }
    below += weight;
  }
  return logGrid.at(-1) as number;
};

export type ShopFactor = {
  /** What the tests say; 1 without any. */
  factor: number;
  /** Four in five sure that it lies between these. */
  leastFactor: number;
  mostFactor: number;
  tests: number;
  /** Switched off, it is still learnt and shown, but nothing goes by it. */
  isOn: boolean;
};

const weighed = (observations: readonly Observation[], spread: number): Omit<ShopFactor, "isOn"> => {
  // the sums are rounded the same way on every device, whatever the order of arrival
  const inOrder = observations.toSorted((one, other) => one.at - other.at || (one.testId < other.testId ? -1 : 1));
  const logWeights = logGrid.map((logFactor) =>
    inOrder.reduce((sum, seen) => sum + Math.log(likelihood(seen, logFactor)), -((logFactor / spread) ** 2) / 2),
  );
  const highest = Math.max(...logWeights);
  const raw = logWeights.map((weight) => Math.exp(weight - highest));
  const total = raw.reduce((sum, weight) => sum + weight, 0);
  const weights = raw.map((weight) => weight / total);
  const mean = weights.reduce((sum, weight, index) => sum + weight * (logGrid[index] as number), 0);
  return {
    factor: inOrder.length === 0 ? 1 : held(mean),
    leastFactor: held(logQuantile(weights, 0.1)),
    mostFactor: held(logQuantile(weights, 0.9)),
    tests: inOrder.length,
  };
};

/** A product's row is replaced when anything of it changes, so what was weighed for a row stays true for it. */
const weighedByProduct = new WeakMap<Product, Map<string, Omit<ShopFactor, "isOn">>>();

/**
 * How much longer this product's films take in this shop than the sheet's typical time, with the tests made by `at`.
 *
 * @param sheet whose typical and safe figures are the prior: wide apart, a few tests teach much
 * @returns factors 0.5…3; a failed test never lowers, a passed one never raises it
 * @source probit response with a discrete prior, its posterior by summing; the bounds are the shop's own rule
 */
export const factorAt = (product: Product, sheet: Sheet | undefined, at: InstantMs): ShopFactor => {
  const known = (product.observations ?? []).filter((seen) => seen.at <= at);
  const spread = priorSpread(sheet);
  const byQuestion = weighedByProduct.get(product) ?? new Map<string, Omit<ShopFactor, "isOn">>();
  weighedByProduct.set(product, byQuestion);
  // the tests known at an instant are the earliest of the row's, so their number says which they are
  const question = `${known.length} ${spread}`;
  const found = byQuestion.get(question) ?? weighed(known, spread);
  byQuestion.set(question, found);
  return { ...found, isOn: product.isFactorOn !== false };
};

/** The factor by which estimates go: 1 where nothing was learnt or the shop has switched it off. */
export const countingFactor = (product: Product | undefined, sheet: Sheet, at: InstantMs): number => {
  if (!product?.observations || product.observations.length === 0 || product.isFactorOn === false) return 1;
  return factorAt(product, sheet, at).factor;
};

/**
 * A sheet's minutes as this shop's films take them. The likely track goes by the factor both ways; the safe one only where
 * it slows, so that no number of good tests opens a gate before the sheet.
 *
 * @param time minutes at the sheet's reference: `min` the safe figure, `typicalMin` the usual one
 */
export const factoredTime = (
  time: { min: number; typicalMin?: number },
  factor: number,
): { safeMin: number; likelyMin: number } => {
  const likelyMin = (time.typicalMin ?? time.min) * factor;
  return { safeMin: Math.max(time.min, likelyMin), likelyMin };
};
