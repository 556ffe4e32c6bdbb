import { describe, expect, test } from "vitest";
import { leadBanYearOf, leadFinding, nobodySaidBanYear, partsPerMillionOf } from "~/core/safety/lead-limits";

describe("lead by numbers", () => {
  // 15 USC 2681(9) and 24 CFR 35.86 for housing; 16 CFR 1303 for new paint on furniture
  test.each([
    [{ milligramsPerSquareCentimetre: 1.0 }, true, undefined],
    [{ milligramsPerSquareCentimetre: 0.9 }, false, undefined],
    [{ partsPerMillion: 5000 }, true, true],
    [{ partsPerMillion: 4999 }, false, true],
    [{ partsPerMillion: 600 }, false, true],
    [{ partsPerMillion: 91 }, false, true],
    [{ partsPerMillion: 90 }, false, false],
  ])(
    "%o: by housing rules %s, over what new paint may hold %s",
    (measured, isHousingLeadBased, isOverConsumerLimit) => {
      expect(leadFinding(measured)).toEqual({ isHousingLeadBased, isOverConsumerLimit });
    },
  );

  test("half a percent is 5000 parts in a million, and 0.009 % is 90", () => {
    expect([partsPerMillionOf(0.5), partsPerMillionOf(0.009)].map(Math.round)).toEqual([5000, 90]);
  });

  test("a country of which we know no rule clears nothing by its year", () => {
    // 16 CFR 1303 (1978); SOR/2005-109 (2005)
    expect([leadBanYearOf("US"), leadBanYearOf("CA")]).toEqual([1978, 2005]);
    expect(leadBanYearOf("NZ")).toBe(nobodySaidBanYear);
  });
});
