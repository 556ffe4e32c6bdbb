/** The figures of a data sheet in the shop's words, for its screen, its form and its refusals. */
import type { Sheet } from "~/core/shop/tables";
import { wrapWords } from "~/ui/trade-words";

const fieldWords: Partial<Record<keyof Sheet, string>> = {
  referenceCelsius: "air of its times",
  referenceHumidityPercent: "humidity of its times",
  minimumCelsius: "lowest temperature",
  maximumCelsius: "highest temperature",
  humidityLimitPercent: "highest humidity",
  dewSpreadCelsius: "surface above dew point",
  setToTouch: "dry to touch",
  tackFree: "tack-free",
  recoatOpens: "recoat from",
  recoatClosesMin: "recoat until",
  recoatReopensMin: "recoat again, scuffed, from",
  handle: "handle",
  lightUse: "light use",
  pressTogether: "press together",
  fullCure: "full cure",
  wipeFromMin: "wipe from",
  wipeLatestMin: "wiped at the latest",
  volumeSolidsPercent: "volume solids",
  wetFilmMicrometres: "wet film of a coat",
  spreadSquareMetresPerLitre: "spreading rate",
  densityGramsPerLitre: "density",
  vocGramsPerLitre: "volatile organic compounds",
  thinner: "thinner",
  thinLimitPercent: "thinning limit",
  thinParts: "mixed as",
  hardenerPartsPerMille: "hardener",
  inductionMin: "stand after mixing",
  potLifeMin: "pot life",
  openTimeMin: "open time",
  clampMin: "in clamps",
  fullStrengthMin: "full strength",
  chalkCelsius: "turns to chalk below",
  shelfUnopenedDays: "unopened, keeps",
  shelfOpenedDays: "opened, keeps",
  isOilBearing: "drying oil in it",
  scuffAlways: "scuff before every next coat",
  over: "over another finish",
};

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * A figure of the sheet by its path: `recoatOpens`, `stackWith.felt`, `handle.typicalMin`.
 *
 * @example sheetFieldWords("handle.typicalMin") // "Handle, the short end"
 */
export const sheetFieldWords = (path: string): string => {
  const [field = "", part, leaf] = path.split(".");
  if (field === "stackWith") return `Stacked with ${part}${leaf === "typicalMin" ? ", the short end" : ""}`;
  if (field === "wrap") return `Wrapped in ${wrapWords[part as keyof typeof wrapWords] ?? part}`;
  const words = capital(fieldWords[field as keyof Sheet] ?? field);
  return part === "typicalMin" ? `${words}, the short end` : words;
};
