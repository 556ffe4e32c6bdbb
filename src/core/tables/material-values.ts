import type { Family } from "../shop/entities/products";

/** What leaves a film, or holds a joint. */
export type FilmFamily = Exclude<Family, "stripper" | "thinner">;

/** The usual span of a figure among data sheets: [low end, customary, high end]. */
export type UsualSpan = readonly [low: number, usual: number, high: number];

/**
 * What the can holds, by generic type, before any thinning. Source: common practice, the general run of data sheets, no
 * brand; the sheet of the product in hand outranks every figure here.
 */
export type MaterialValues = {
  volumeSolidsPercent?: UsualSpan;
  densityGramsPerLitre: UsualSpan;
  vocGramsPerLitre: UsualSpan;
  /** One coat; of what is wiped off again, what stays. */
  spreadSquareMetresPerLitre?: UsualSpan;
  wetFilmMicrometres?: UsualSpan;
  potLifeMin?: UsualSpan;
};

export const materialByFamily: Record<FilmFamily, MaterialValues> = {
  "water-borne-paint": {
    volumeSolidsPercent: [32, 36, 42],
    densityGramsPerLitre: [1150, 1250, 1350],
    vocGramsPerLitre: [0, 50, 100],
    spreadSquareMetresPerLitre: [8, 9, 11],
    wetFilmMicrometres: [80, 100, 125],
  },
  "chalk-paint": {
    volumeSolidsPercent: [35, 40, 45],
    densityGramsPerLitre: [1350, 1450, 1600],
    vocGramsPerLitre: [0, 20, 50],
    spreadSquareMetresPerLitre: [10, 11, 14],
    wetFilmMicrometres: [75, 90, 110],
  },
  // a powder: all of it as mixed with water
  "milk-paint": {
    volumeSolidsPercent: [20, 25, 35],
    densityGramsPerLitre: [1200, 1300, 1400],
    vocGramsPerLitre: [0, 0, 0],
    spreadSquareMetresPerLitre: [8, 9, 12],
    wetFilmMicrometres: [75, 100, 125],
    potLifeMin: [4 * 60, 8 * 60, 24 * 60],
  },
  "water-borne-clear": {
    volumeSolidsPercent: [25, 30, 35],
    densityGramsPerLitre: [1020, 1040, 1060],
    vocGramsPerLitre: [50, 200, 275],
    spreadSquareMetresPerLitre: [9, 10, 12],
    wetFilmMicrometres: [75, 100, 125],
  },
  "water-borne-blocker": {
    volumeSolidsPercent: [35, 38, 45],
    densityGramsPerLitre: [1250, 1300, 1400],
    vocGramsPerLitre: [0, 50, 100],
    spreadSquareMetresPerLitre: [8, 9, 11],
    wetFilmMicrometres: [80, 100, 125],
  },
  "oil-varnish": {
    volumeSolidsPercent: [40, 45, 55],
    densityGramsPerLitre: [880, 910, 950],
    vocGramsPerLitre: [275, 350, 450],
    spreadSquareMetresPerLitre: [10, 12, 14],
    wetFilmMicrometres: [60, 80, 100],
  },
  "alkyd-enamel": {
    volumeSolidsPercent: [45, 50, 60],
    densityGramsPerLitre: [1050, 1200, 1300],
    vocGramsPerLitre: [250, 380, 450],
    spreadSquareMetresPerLitre: [10, 11, 14],
    wetFilmMicrometres: [70, 90, 100],
  },
  // a two-pound cut: 240 g of flakes to a litre of alcohol
  shellac: {
    volumeSolidsPercent: [15, 17, 20],
    densityGramsPerLitre: [840, 870, 900],
    vocGramsPerLitre: [600, 650, 730],
    spreadSquareMetresPerLitre: [10, 12, 15],
    wetFilmMicrometres: [60, 80, 90],
  },
  "shellac-blocker": {
    volumeSolidsPercent: [28, 30, 35],
    densityGramsPerLitre: [1150, 1200, 1300],
    vocGramsPerLitre: [500, 550, 550],
    spreadSquareMetresPerLitre: [9, 10, 12],
    wetFilmMicrometres: [75, 90, 100],
  },
  lacquer: {
    volumeSolidsPercent: [12, 18, 24],
    densityGramsPerLitre: [880, 920, 960],
    vocGramsPerLitre: [550, 650, 680],
    spreadSquareMetresPerLitre: [8, 9, 11],
    wetFilmMicrometres: [75, 100, 125],
  },
  "two-component": {
    volumeSolidsPercent: [28, 38, 50],
    densityGramsPerLitre: [950, 1050, 1250],
    vocGramsPerLitre: [150, 420, 550],
    spreadSquareMetresPerLitre: [8, 9, 11],
    wetFilmMicrometres: [75, 100, 125],
    potLifeMin: [90, 120, 8 * 60],
  },
  "drying-oil": {
    volumeSolidsPercent: [60, 90, 100],
    densityGramsPerLitre: [900, 930, 950],
    vocGramsPerLitre: [0, 150, 400],
    spreadSquareMetresPerLitre: [15, 18, 25],
  },
  "oil-wax": {
    volumeSolidsPercent: [50, 60, 90],
    densityGramsPerLitre: [880, 920, 970],
    vocGramsPerLitre: [0, 400, 500],
    spreadSquareMetresPerLitre: [20, 24, 35],
  },
  wax: {
    densityGramsPerLitre: [800, 880, 950],
    vocGramsPerLitre: [0, 400, 650],
    spreadSquareMetresPerLitre: [20, 25, 40],
  },
  "oil-stain": {
    volumeSolidsPercent: [20, 30, 40],
    densityGramsPerLitre: [850, 920, 1000],
    vocGramsPerLitre: [250, 450, 550],
    spreadSquareMetresPerLitre: [10, 12, 15],
  },
  // 150 to 200 g on a square metre of joint
  glue: {
    volumeSolidsPercent: [40, 45, 50],
    densityGramsPerLitre: [1050, 1080, 1120],
    vocGramsPerLitre: [0, 10, 20],
    spreadSquareMetresPerLitre: [5, 6, 7],
    wetFilmMicrometres: [150, 175, 200],
  },
  filler: {
    volumeSolidsPercent: [60, 65, 75],
    densityGramsPerLitre: [1500, 1700, 1900],
    vocGramsPerLitre: [0, 20, 50],
  },
  clay: {
    volumeSolidsPercent: [60, 65, 75],
    densityGramsPerLitre: [1600, 1750, 1900],
    vocGramsPerLitre: [0, 0, 0],
  },
};

/** Days in the can before it is to be tried on glass. */
export type ShelfLife = { shelfUnopenedDays: number; shelfOpenedDays: number };

const keepsWell: ShelfLife = { shelfUnopenedDays: 730, shelfOpenedDays: 365 };
/** Dissolved shellac turns to esters that stay soft; hardeners and casein spoil on damp air. */
const keepsBadly: ShelfLife = { shelfUnopenedDays: 365, shelfOpenedDays: 180 };

/**
 * How long a can is trusted without a drop on glass. Shellac once dissolved: 6 to 12 months, common practice; the others
 * from memory, on the short side of what labels say.
 */
export const shelfLifeOf = (family: FilmFamily): ShelfLife =>
  family === "shellac" || family === "milk-paint" || family === "two-component" ? keepsBadly : keepsWell;
