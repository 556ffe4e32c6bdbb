/** Where this browser thinks that it is: suggestions for a new shop, each of which can be changed. */

export type PlaceHere = { zone: string; country: string; currency: string };

/**
 * The currency of a country, for a suggestion only. Source: ISO 4217, from memory; the countries of the euro as of 2026.
 */
const currencyByCountry: Record<string, string> = {
  US: "USD",
  GB: "GBP",
  CA: "CAD",
  AU: "AUD",
  NZ: "NZD",
  CH: "CHF",
  SE: "SEK",
  NO: "NOK",
  DK: "DKK",
  PL: "PLN",
  CZ: "CZK",
  HU: "HUF",
  RO: "RON",
  JP: "JPY",
  IN: "INR",
  ZA: "ZAR",
  BR: "BRL",
  MX: "MXN",
};
const euroCountries = [
  "AT",
  "BE",
  "BG",
  "HR",
  "CY",
  "EE",
  "FI",
  "FR",
  "DE",
  "GR",
  "IE",
  "IT",
  "LV",
  "LT",
  "LU",
  "MT",
  "NL",
  "PT",
  "SK",
  "SI",
  "ES",
];

export const currencyOf = (country: string): string | undefined =>
  euroCountries.includes(country) ? "EUR" : currencyByCountry[country];

export function placeHere(language: string, zone: string): PlaceHere {
  const country = new Intl.Locale(language).maximize().region ?? "US";
  return { zone, country, currency: currencyOf(country) ?? "USD" };
}

/** Every zone that this browser knows, the given one among them. */
export function zonesWith(zone: string): string[] {
  const known = Intl.supportedValuesOf("timeZone");
  return known.includes(zone) ? known : [zone, ...known];
}

/** "US" is "United States"; nothing for letters that stand for no country. */
export function countryName(country: string): string | undefined {
  if (!/^[A-Z]{2}$/.test(country)) return undefined;
  const name = new Intl.DisplayNames(["en"], { type: "region", fallback: "none" }).of(country);
  return name === country ? undefined : name;
}

export const currencies = (): { id: string; words: string }[] => {
  const names = new Intl.DisplayNames(["en"], { type: "currency" });
  return Intl.supportedValuesOf("currency").map((id) => ({ id, words: `${id}, ${names.of(id)}` }));
};
