import { expect, test } from "vitest";
import { countryName, currencyOf, placeHere, zonesWith } from "~/ui/entrance/place-here";

test("a browser in American English is offered the United States and their dollar", () => {
  expect(placeHere("en-US", "America/New_York")).toEqual({ zone: "America/New_York", country: "US", currency: "USD" });
});

// source: Unicode CLDR likely subtags, de -> de-Latn-DE; Germany pays in euro (ISO 4217)
test("a language without a country stands for the country where most speak it", () => {
  expect(placeHere("de", "Europe/Berlin")).toMatchObject({ country: "DE", currency: "EUR" });
});

test("a zone that the browser keeps off its list can still be chosen", () => {
  expect(zonesWith("UTC")).toContain("UTC");
  expect(zonesWith("Europe/Paris").filter((zone) => zone === "Europe/Paris")).toHaveLength(1);
});

test("letters that stand for no country are not taken for one", () => {
  expect(countryName("US")).toBe("United States");
  expect(countryName("X")).toBeUndefined();
  expect(countryName("QQ")).toBeUndefined();
  expect(currencyOf("QQ")).toBeUndefined();
});
