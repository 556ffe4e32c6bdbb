/**
 * Solvents of finishes, with what a ventilation figure needs.
 *
 * Sources: cubic feet of vapour per gallon at 70 °F and lower explosive limit of 29 CFR 1910.94 Table G-11, from memory,
 * cross-checked with the volume of an ideal gas; newer lower limits and flash points of the AARST chart of explosive
 * limits (SGM-SF 2017); boiling points, molar masses and densities of the CRC Handbook of Chemistry and Physics, from
 * memory. Where two sources give a limit, the smaller counts, because it asks for more air.
 */
export type Solvent = {
  /** Cubic feet of vapour from one US gallon, at 70 °F. */
  vapourCubicFeetPerGallon: number;
  /** Lower explosive limit of Table G-11, percent by volume of air. */
  lowerLimitPercent: number;
  /** A lower one of newer lists, where there is one. */
  newerLowerLimitPercent?: number;
  /** Absent for mixtures of petroleum. */
  gramsPerMole?: number;
  gramsPerMillilitre: number;
  flashCelsius: number;
  boilingCelsius: number;
};

export const solventIds = [
  "acetone",
  "n-butyl-acetate",
  "n-butyl-alcohol",
  "ethyl-acetate",
  "ethanol",
  "methanol",
  "methyl-ethyl-ketone",
  "naphtha",
  "mineral-spirits",
  "n-propyl-alcohol",
  "isopropanol",
  "toluene",
  "turpentine",
  "xylene",
] as const;
export type SolventId = (typeof solventIds)[number];

const row = (
  [vapourCubicFeetPerGallon, lowerLimitPercent]: [number, number],
  [gramsPerMillilitre, flashCelsius, boilingCelsius]: [number, number, number],
  more: Pick<Solvent, "newerLowerLimitPercent" | "gramsPerMole"> = {},
): Solvent => ({
  vapourCubicFeetPerGallon,
  lowerLimitPercent,
  gramsPerMillilitre,
  flashCelsius,
  boilingCelsius,
  ...more,
});

export const solvents: Readonly<Record<SolventId, Solvent>> = {
  acetone: row([44.0, 2.6], [0.79, -17, 56], { gramsPerMole: 58.08, newerLowerLimitPercent: 2.5 }),
  "n-butyl-acetate": row([24.8, 1.7], [0.882, 22, 126], { gramsPerMole: 116.16, newerLowerLimitPercent: 1.2 }),
  "n-butyl-alcohol": row([35.2, 1.4], [0.81, 35, 118], { gramsPerMole: 74.12 }),
  "ethyl-acetate": row([32.8, 2.5], [0.902, -4, 77], { gramsPerMole: 88.11, newerLowerLimitPercent: 2.0 }),
  ethanol: row([55.2, 4.3], [0.789, 12.8, 78.3], { gramsPerMole: 46.07, newerLowerLimitPercent: 3.3 }),
  methanol: row([80.8, 7.3], [0.792, 11, 65], { gramsPerMole: 32.04, newerLowerLimitPercent: 6.0 }),
  "methyl-ethyl-ketone": row([36.0, 1.8], [0.805, -6, 80], { gramsPerMole: 72.11 }),
  naphtha: row([22.4, 0.9], [0.75, 10, 120]),
  "mineral-spirits": row([23.2, 1.0], [0.78, 38, 157], { newerLowerLimitPercent: 0.8 }),
  "n-propyl-alcohol": row([44.8, 2.1], [0.803, 22, 97], { gramsPerMole: 60.1 }),
  isopropanol: row([44.0, 2.0], [0.785, 12, 82], { gramsPerMole: 60.1 }),
  toluene: row([30.4, 1.4], [0.867, 4, 111], { gramsPerMole: 92.14, newerLowerLimitPercent: 1.1 }),
  turpentine: row([20.8, 0.8], [0.86, 35, 155], { gramsPerMole: 136.23 }),
  xylene: row([26.4, 1.0], [0.88, 27, 144], { gramsPerMole: 106.17 }),
};

/** The limit to reckon with: the smallest that is in print. */
export const smallestLimitPercent = ({ lowerLimitPercent, newerLowerLimitPercent }: Solvent): number =>
  Math.min(lowerLimitPercent, newerLowerLimitPercent ?? lowerLimitPercent);
