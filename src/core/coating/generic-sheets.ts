import type { Family, Mechanism, SheetTime } from "../shop/entities/products";
import type { Sheet } from "../shop/tables";
import { finishTimesByFamily } from "../tables/finish-times";

/** A sheet before it belongs to a product: what a shop starts from when it has no data sheet in hand. */
export type SheetStart = Omit<Sheet, "id" | "productId" | "version">;

/** What the times do not say, by generic type. Source of every figure: common practice; films by their usual default. */
type Nature = {
  mechanism: Mechanism;
  minimumCelsius: number;
  maximumCelsius: number;
  humidityLimitPercent?: number;
  dewSpreadCelsius: number;
  isOilBearing: Sheet["isOilBearing"];
  volumeSolidsPercent?: number;
  wetFilmMicrometres?: number;
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
const oil = {
  mechanism: "oxidative",
  minimumCelsius: 10,
  maximumCelsius: 32,
  humidityLimitPercent: 85,
  dewSpreadCelsius: usualSpread,
  isOilBearing: "yes",
} as const;
const fastSolvent = {
  mechanism: "solvent",
  minimumCelsius: 10,
  maximumCelsius: 32,
  dewSpreadCelsius: fastSolventSpread,
  isOilBearing: "no",
} as const;

const natureByFamily: Record<Exclude<Family, "stripper" | "thinner">, Nature> = {
  "water-borne-paint": { ...waterBorne, volumeSolidsPercent: 36, wetFilmMicrometres: 100 },
  "chalk-paint": { ...waterBorne, volumeSolidsPercent: 40, wetFilmMicrometres: 90 },
  "milk-paint": { ...waterBorne, volumeSolidsPercent: 25, wetFilmMicrometres: 100 },
  // many clear water-borne sheets stop at 70 to 80 % RH
  "water-borne-clear": { ...waterBorne, humidityLimitPercent: 70, volumeSolidsPercent: 30, wetFilmMicrometres: 100 },
  "water-borne-blocker": { ...waterBorne, volumeSolidsPercent: 38, wetFilmMicrometres: 100 },
  "oil-varnish": { ...oil, volumeSolidsPercent: 45, wetFilmMicrometres: 80 },
  "alkyd-enamel": { ...oil, volumeSolidsPercent: 50, wetFilmMicrometres: 90 },
  shellac: { ...fastSolvent, volumeSolidsPercent: 17, wetFilmMicrometres: 80 },
  "shellac-blocker": { ...fastSolvent, volumeSolidsPercent: 30, wetFilmMicrometres: 90 },
  lacquer: { ...fastSolvent, minimumCelsius: 15, volumeSolidsPercent: 18, wetFilmMicrometres: 100 },
  "two-component": {
    ...fastSolvent,
    mechanism: "reactive",
    minimumCelsius: 15,
    humidityLimitPercent: 85,
    dewSpreadCelsius: usualSpread,
    volumeSolidsPercent: 38,
    wetFilmMicrometres: 100,
  },
  "drying-oil": { ...oil, volumeSolidsPercent: 90, isWiped: true },
  "oil-wax": { ...oil, volumeSolidsPercent: 60, isWiped: true },
  // some pastes hold drying oil: until the can says no, its rags count as oily
  wax: { ...fastSolvent, mechanism: "wax", dewSpreadCelsius: usualSpread, isOilBearing: "unknown" },
  "oil-stain": { ...oil, volumeSolidsPercent: 30, isWiped: true },
  glue: { ...waterBorne, mechanism: "glue", volumeSolidsPercent: 45, wetFilmMicrometres: 175 },
  filler: { ...waterBorne, mechanism: "filler", volumeSolidsPercent: 65 },
  clay: { ...waterBorne, mechanism: "filler", volumeSolidsPercent: 65 },
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
 * the short end for the likely time. Nothing for strippers and thinners, which leave no film.
 *
 * @source common practice; see `tables/finish-times.ts`
 */
export const genericSheet = (family: Family): SheetStart | undefined => {
  if (family === "stripper" || family === "thinner") return undefined;
  const { isWiped, ...nature } = natureByFamily[family];
  const times = genericTimes(family);
  const closesHours = finishTimesByFamily[family].recoatClosesHours;
  // plain lacquer stays soft under pressure for good: paper between its faces always, and never plastic round it
  const isLacquer = family === "lacquer";
  return {
    ...nature,
    origin: "generic",
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
    scuffAlways: false,
    over: [],
  };
};
