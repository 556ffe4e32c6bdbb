import type { Family } from "../shop/entities/products";

/**
 * Drying times by generic type at 23 °C and 50 % RH, as the general run of data sheets gives them: [short end, long end
 * taken as the safe figure], in hours. Source: common practice, no brand; the long side of what independent pages say of
 * water-borne clears (touch 1–3 h, recoat 2–6 h, full cure 2–30 days). Reference air: ISO 3270. The data sheet of the
 * product in hand outranks every figure here.
 */
export type FinishTimes = {
  touchHours: readonly [number, number];
  recoatHours: readonly [number, number];
  /** Latest recoat without sanding; absent: none. */
  recoatClosesHours?: number;
  /** Handle and light use. */
  handleHours: readonly [number, number];
  /** Pressed together, stacked, snugly wrapped. */
  stackHours: readonly [number, number];
  fullCureDays: readonly [number, number];
};

const paint: FinishTimes = {
  touchHours: [0.5, 1],
  recoatHours: [2, 4],
  recoatClosesHours: 168,
  handleHours: [24, 48],
  stackHours: [120, 168],
  fullCureDays: [14, 30],
};
const mineralPaint: FinishTimes = {
  touchHours: [0.5, 1],
  recoatHours: [1, 4],
  handleHours: [12, 24],
  stackHours: [72, 168],
  fullCureDays: [21, 30],
};
const rinsedWood: FinishTimes = {
  touchHours: [1, 4],
  recoatHours: [12, 24],
  handleHours: [12, 24],
  stackHours: [24, 24],
  fullCureDays: [1, 2],
};

export const finishTimesByFamily: Record<Family, FinishTimes> = {
  "water-borne-paint": paint,
  "chalk-paint": mineralPaint,
  "milk-paint": { ...mineralPaint, fullCureDays: [14, 30] },
  "water-borne-clear": {
    touchHours: [0.5, 1],
    recoatHours: [2, 3],
    recoatClosesHours: 24,
    handleHours: [24, 48],
    stackHours: [120, 168],
    fullCureDays: [14, 21],
  },
  "water-borne-blocker": {
    touchHours: [0.5, 1],
    recoatHours: [1, 4],
    recoatClosesHours: 168,
    handleHours: [24, 24],
    stackHours: [72, 168],
    fullCureDays: [7, 14],
  },
  "oil-varnish": {
    touchHours: [4, 8],
    recoatHours: [8, 24],
    recoatClosesHours: 48,
    handleHours: [48, 72],
    stackHours: [168, 336],
    fullCureDays: [21, 30],
  },
  "alkyd-enamel": {
    touchHours: [4, 8],
    recoatHours: [16, 24],
    recoatClosesHours: 72,
    handleHours: [48, 72],
    stackHours: [168, 336],
    fullCureDays: [21, 30],
  },
  shellac: {
    touchHours: [0.15, 0.5],
    recoatHours: [0.5, 2],
    handleHours: [4, 24],
    stackHours: [48, 72],
    fullCureDays: [3, 7],
  },
  "shellac-blocker": {
    touchHours: [0.25, 0.5],
    recoatHours: [0.75, 1],
    handleHours: [4, 24],
    stackHours: [24, 72],
    fullCureDays: [1, 7],
  },
  lacquer: {
    touchHours: [0.1, 0.3],
    recoatHours: [0.5, 2],
    handleHours: [12, 24],
    stackHours: [48, 168],
    fullCureDays: [14, 30],
  },
  "two-component": {
    touchHours: [0.3, 1],
    recoatHours: [1, 4],
    recoatClosesHours: 12,
    handleHours: [12, 24],
    stackHours: [48, 72],
    fullCureDays: [7, 14],
  },
  "drying-oil": {
    touchHours: [8, 24],
    recoatHours: [24, 24],
    handleHours: [48, 72],
    stackHours: [168, 336],
    fullCureDays: [21, 30],
  },
  "oil-wax": {
    touchHours: [4, 12],
    recoatHours: [8, 24],
    handleHours: [24, 48],
    stackHours: [120, 168],
    fullCureDays: [7, 14],
  },
  wax: {
    touchHours: [0.25, 0.5],
    recoatHours: [4, 24],
    handleHours: [24, 24],
    stackHours: [72, 168],
    fullCureDays: [7, 30],
  },
  "oil-stain": {
    touchHours: [2, 8],
    recoatHours: [8, 24],
    handleHours: [24, 24],
    stackHours: [24, 72],
    fullCureDays: [3, 7],
  },
  glue: {
    touchHours: [0.25, 0.5],
    recoatHours: [0.5, 1],
    handleHours: [1, 4],
    stackHours: [24, 24],
    fullCureDays: [1, 2],
  },
  filler: {
    touchHours: [0.5, 1],
    recoatHours: [1, 4],
    handleHours: [4, 24],
    stackHours: [24, 24],
    fullCureDays: [1, 2],
  },
  clay: {
    touchHours: [6, 24],
    recoatHours: [24, 48],
    handleHours: [24, 48],
    stackHours: [48, 72],
    fullCureDays: [3, 7],
  },
  // what is left after a stripper or thinner is bare wood that was wetted
  stripper: rinsedWood,
  thinner: rinsedWood,
};
