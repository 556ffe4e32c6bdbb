/**
 * Lead in paint by numbers. Two limits that answer two questions, and both are kept: whether old paint counts as
 * lead-based by housing rules, and whether a film is over what new paint on furniture may hold. Local rules may be
 * stricter.
 *
 * Sources: 15 USC 2681(9) and 24 CFR 35.86 (1.0 mg/cm² or 0.5 % by weight, "equal to or in excess of" in the second);
 * 16 CFR 1303 (0.009 % of the dry film since 14 August 2009).
 */
export const housingMilligramsPerSquareCentimetre = 1.0;
export const housingPartsPerMillion = 5000;
export const consumerPartsPerMillion = 90;

/** What a laboratory or an X-ray instrument reports: by weight of the dry film, or by area of the surface. */
export type LeadMeasured = { partsPerMillion: number } | { milligramsPerSquareCentimetre: number };

export type LeadFinding = {
  isHousingLeadBased: boolean;
  /** Unknown from an area figure alone: it says nothing about the weight of the film. */
  isOverConsumerLimit: boolean | undefined;
};

/** Percent by weight as parts per million. */
export const partsPerMillionOf = (percent: number): number => percent * 10_000;

export const leadFinding = (measured: LeadMeasured): LeadFinding =>
  "partsPerMillion" in measured
    ? {
        isHousingLeadBased: measured.partsPerMillion >= housingPartsPerMillion,
        isOverConsumerLimit: measured.partsPerMillion > consumerPartsPerMillion,
      }
    : {
        isHousingLeadBased: measured.milligramsPerSquareCentimetre >= housingMilligramsPerSquareCentimetre,
        isOverConsumerLimit: undefined,
      };

/** From this year on a country limits lead in all paint sold to consumers. Edited per shop: the local rule decides. */
const banYearByCountry: Readonly<Record<string, number>> = {
  // 16 CFR 1303: 0.06 % from 1978, 0.009 % from 14 August 2009
  US: 1978,
  // Surface Coating Materials Regulations, SOR/2005-109: 600 mg/kg in all consumer paint; before, interior paint alone
  CA: 2005,
};

/** No year of making clears old paint until the owner says from which year on paint in this country holds no lead. */
export const nobodySaidBanYear = 2100;

/** Paint put on before this year may hold lead. Where we know of no rule, all old paint may, and the owner is asked. */
export const leadBanYearOf = (country: string): number => banYearByCountry[country] ?? nobodySaidBanYear;
