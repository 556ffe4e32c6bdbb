/** The words that logger files put over their columns, from memory, in the languages of the people who read them. */

export type Measured = "temperature" | "humidity" | "other";
export type TemperatureUnit = "celsius" | "fahrenheit";

/** Lower case, without accents. Up to two letters stand alone, three begin a word, more may stand inside one. */
const stems: Record<Measured, string[]> = {
  // what looks like one of the two but is not: dew point, pressure, battery, limits
  other: [
    "dew",
    "taupunkt",
    "rosee",
    "rocio",
    "rugiada",
    "orvalho",
    "dauwpunt",
    "daggpunkt",
    "kastepiste",
    "rosny",
    "press",
    "druck",
    "batt",
    "volt",
    "co2",
    "vpd",
    "absol",
    "lux",
    "wet",
    "alarm",
    "soil",
  ],
  temperature: [
    "temp",
    "celsius",
    "fahrenheit",
    "lampotila",
    "teplot",
    "homerseklet",
    "hitastig",
    "t",
    "темп",
    "温",
    "온도",
  ],
  humidity: [
    "hum",
    "rh",
    "rf",
    "hr",
    "feucht",
    "vocht",
    "fukt",
    "fugt",
    "kosteus",
    "wilg",
    "vlhk",
    "umid",
    "higro",
    "hygro",
    "paratart",
    "влаж",
    "湿",
    "습도",
  ],
};

const fits = (word: string, stem: string): boolean => {
  const isOtherScript = !/^[a-z\d]/.test(stem);
  if (stem.length > 3 || isOtherScript) return word.includes(stem);
  return stem.length === 3 ? word.startsWith(stem) : word === stem;
};

/** Accents off, letters small, cut at whatever is no letter or digit. */
export const wordsOf = (header: string): string[] =>
  header
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/r\.?\s?h\.?(?![a-z])/g, "rh ")
    .split(/[^\p{L}\d]+/u)
    .filter((word) => word !== "");

/** What a header says its column measures; nothing when it says neither. */
export function measuredBy(header: string): Measured | undefined {
  const words = wordsOf(header);
  const holds = (sort: Measured) => words.some((word) => stems[sort].some((stem) => fits(word, stem)));
  if (holds("other")) return "other";
  if (holds("humidity")) return "humidity";
  if (holds("temperature") || unitIn(header) !== undefined) return "temperature";
  return header.includes("%") ? "humidity" : undefined;
}

/** The unit of temperature that a header or a cell names, alone or after the degree sign. */
export function unitIn(text: string): TemperatureUnit | undefined {
  const words = wordsOf(text.replace(/(\d)\s*°?\s*([CF])$/i, "$1 $2"));
  const isCelsius = words.some((word) => /^(?:(?:deg|temp|t)?c|celsius)$/.test(word));
  const isFahrenheit = words.some((word) => /^(?:(?:deg|temp|t)?f|fahrenheit)$/.test(word));
  if (isCelsius === isFahrenheit) return undefined;
  return isCelsius ? "celsius" : "fahrenheit";
}

/** The offset of the clock that a header names, in minutes east of UTC: "Date Time, GMT-04:00". */
export function offsetIn(header: string): number | undefined {
  const parts = /\b(?:UTC|GMT)\b\s*(?:([+\-\u2212])\s*(\d{1,2})(?::?(\d{2}))?)?/i.exec(header);
  if (parts === null) return undefined;
  const minutes = Number(parts[2] ?? 0) * 60 + Number(parts[3] ?? 0);
  return parts[1] === undefined || parts[1] === "+" ? minutes : 0 - minutes;
}
