import type { Family, Mechanism, SheetTime, Solvent } from "../shop/entities/products";
import type { Sheet } from "../shop/tables";
import { finishTimesByFamily } from "../tables/finish-times";
import { type GlueKind, glueTimesByKind } from "../tables/glue-times";
import {
  type FilmFamily,
  type MaterialValues,
  materialByFamily,
  shelfLifeOf,
  type UsualSpan,
} from "../tables/material-values";

/** A sheet before it belongs to a product: what a shop starts from when it has no data sheet in hand. */
export type SheetStart = Omit<Sheet, "id" | "productId" | "version">;

/** What neither the times nor the can's contents say, by generic type. Source of every figure: common practice. */
type Nature = {
  mechanism: Mechanism;
  minimumCelsius: number;
  maximumCelsius: number;
  humidityLimitPercent?: number;
  dewSpreadCelsius: number;
  isOilBearing: Sheet["isOilBearing"];
  solvent?: Solvent;
  thinner?: string;
  thinLimitPercent?: number;
  inductionMin?: number;
  /** Laid on and wiped off again. */
  isWiped?: true;
};

/** Surface at least 3 °C above the dew point. Source: common practice of coating inspection (ISO 8502-4 guides to it). */
const usualSpread = 3;
/** Fast solvents chill the film below the air: 20 °F of spread against blush. Source: common practice of the spray trade. */
const fastSolventSpread = 11.1;

const waterBorne = {
  mechanism: "water-borne",
  minimumCelsius: 10,
  maximumCelsius: 32,
  humidityLimitPercent: 85,
  dewSpreadCelsius: usualSpread,
  isOilBearing: "no",
} as const;
/** As most makers allow unasked; a spray mix of three to one is more than that, and only where the can says so. */
const thinnedWithWater = { thinner: "water", thinLimitPercent: 10 } as const;
const oil = {
  mechanism: "oxidative",
  minimumCelsius: 10,
  maximumCelsius: 32,
  humidityLimitPercent: 85,
  dewSpreadCelsius: usualSpread,
  isOilBearing: "yes",
  solvent: "mineral-spirits",
} as const;
const thinnedWithSpirits = { thinner: "mineral spirits", thinLimitPercent: 10 } as const;
const fastSolvent = {
  mechanism: "solvent",
  minimumCelsius: 10,
  maximumCelsius: 32,
  dewSpreadCelsius: fastSolventSpread,
  isOilBearing: "no",
} as const;
const alcohol = { ...fastSolvent, solvent: "ethanol", thinner: "alcohol" } as const;

const natureByFamily: Record<FilmFamily, Nature> = {
  "water-borne-paint": { ...waterBorne, ...thinnedWithWater },
  "chalk-paint": { ...waterBorne, ...thinnedWithWater },
  // a powder is left to stand after mixing, so that the casein can swell: from memory
  "milk-paint": { ...waterBorne, thinner: "water", inductionMin: 15 },
  // many clear water-borne sheets stop at 70 to 80 % RH
  "water-borne-clear": { ...waterBorne, ...thinnedWithWater, humidityLimitPercent: 70 },
  "water-borne-blocker": { ...waterBorne, ...thinnedWithWater },
  "oil-varnish": { ...oil, ...thinnedWithSpirits },
  "alkyd-enamel": { ...oil, ...thinnedWithSpirits },
  shellac: { ...alcohol },
  "shellac-blocker": { ...alcohol, thinLimitPercent: 10 },
  lacquer: {
    ...fastSolvent,
    minimumCelsius: 15,
    solvent: "n-butyl-acetate",
    thinner: "lacquer thinner",
    thinLimitPercent: 15,
  },
  // whose hardener, and how much of it, only the can knows
  "two-component": {
    ...fastSolvent,
    mechanism: "reactive",
    minimumCelsius: 15,
    humidityLimitPercent: 85,
    dewSpreadCelsius: usualSpread,
    solvent: "n-butyl-acetate",
  },
  "drying-oil": { ...oil, isWiped: true },
  "oil-wax": { ...oil, isWiped: true },
  // some pastes hold drying oil: until the can says no, its rags count as oily
  wax: {
    ...fastSolvent,
    mechanism: "wax",
    dewSpreadCelsius: usualSpread,
    isOilBearing: "unknown",
    solvent: "mineral-spirits",
  },
  "oil-stain": { ...oil, isWiped: true },
  glue: { ...waterBorne, mechanism: "glue" },
  filler: { ...waterBorne, mechanism: "filler" },
  clay: { ...waterBorne, mechanism: "filler" },
};

/** The customary figures of the can, without their spans. */
const contentsOf = (family: FilmFamily) => {
  const spans = Object.entries(materialByFamily[family]) as [keyof MaterialValues, UsualSpan][];
  return Object.fromEntries(spans.map(([field, [, usual]]) => [field, usual])) as Partial<
    Record<keyof MaterialValues, number>
  >;
};

const timeOfMinutes = ([typical, safe]: readonly [number, number], toMinutes: number): SheetTime => {
  const min = Math.round(safe * toMinutes);
  const typicalMin = Math.round(typical * toMinutes);
  return typicalMin < min ? { min, typicalMin } : { min };
};

/** The generic times of a family as a sheet writes them, all at 23 °C and 50 % RH. */
export const genericTimes = (family: Family) => {
  const times = finishTimesByFamily[family];
  const [setToTouch, recoatOpens] = [timeOfMinutes(times.touchHours, 60), timeOfMinutes(times.recoatHours, 60)];
  return {
    setToTouch,
    // common practice, from memory: paper no longer sticks at about twice set-to-touch, and by the recoat time at latest
    tackFree: { min: Math.min(2 * setToTouch.min, recoatOpens.min) },
    recoatOpens,
    handle: timeOfMinutes(times.handleHours, 60),
    lightUse: timeOfMinutes(times.handleHours, 60),
    pressTogether: timeOfMinutes(times.stackHours, 60),
    fullCure: timeOfMinutes(times.fullCureDays, 24 * 60),
  };
};

/** 23 °C, 50 % RH. Source: ISO 3270, standard atmosphere for testing paints. */
export const genericReference = { celsius: 23, humidityPercent: 50 } as const;

/**
 * The sheet from which a shop starts for a product of this generic type: the long end of each usual range for the gates,
 * the short end for the likely time. It counts the air by the law of its own mechanism. Nothing for strippers and thinners,
 * which leave no film. A glue is the white one until its kind is said: that one turns to chalk in the mildest cold.
 *
 * @source common practice; see `tables/finish-times.ts`, `tables/material-values.ts` and `tables/glue-times.ts`
 */
export const genericSheet = (family: Family, glueKind: GlueKind = "white-glue"): SheetStart | undefined => {
  if (family === "stripper" || family === "thinner") return undefined;
  const { isWiped, ...nature } = natureByFamily[family];
  const times = genericTimes(family);
  const closesHours = finishTimesByFamily[family].recoatClosesHours;
  // plain lacquer stays soft under pressure for good: paper between its faces always, and never plastic round it
  const isLacquer = family === "lacquer";
  return {
    ...nature,
    ...contentsOf(family),
    ...shelfLifeOf(family),
    origin: "generic",
    rateRule: "mechanism",
    referenceCelsius: genericReference.celsius,
    referenceHumidityPercent: genericReference.humidityPercent,
    ...times,
    ...(closesHours !== undefined && { recoatClosesMin: closesHours * 60 }),
    pressTogether: isLacquer ? "never" : times.pressTogether,
    stackWith: (["felt", "paper", "foam"] as const).flatMap((material) =>
      isLacquer && material === "felt" ? [] : [{ material, time: times.pressTogether }],
    ),
    wrap: isLacquer
      ? [
          { wrap: "snug-paper", time: times.pressTogether },
          { wrap: "plastic", time: "never" },
        ]
      : [{ wrap: "plastic", time: times.fullCure }],
    // common practice: what still stands wet after 15 to 20 minutes is wiped off, or it stays sticky
    ...(isWiped && { wipeFromMin: 15, wipeLatestMin: 20 }),
    ...(family === "glue" && glueTimesByKind[glueKind]),
    scuffAlways: false,
    over: [],
  };
};
