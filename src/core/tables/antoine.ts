/**
 * Vapour pressure of the solvents in finishes: log₁₀ P = A − B / (T + C), P in bar, T in kelvin, each within the range
 * to which its constants were fitted. Source: NIST Chemistry WebBook (SRD 69), Antoine parameters; isopropanol's there
 * start at 330 K, so a published °C-and-bar set stands in, from 275.7 K to the boiling point.
 */
export type Antoine = { a: number; b: number; c: number; lowestKelvin: number; highestKelvin: number };

export const antoineBySolvent = {
  ethanol: { a: 5.24677, b: 1598.673, c: -46.424, lowestKelvin: 292.77, highestKelvin: 366.63 },
  acetone: { a: 4.42448, b: 1312.253, c: -32.445, lowestKelvin: 259.16, highestKelvin: 507.6 },
  toluene: { a: 4.14157, b: 1377.578, c: -50.507, lowestKelvin: 273, highestKelvin: 323 },
  "o-xylene": { a: 4.93755, b: 1901.373, c: -26.268, lowestKelvin: 273, highestKelvin: 323 },
  isopropanol: { a: 5.24268, b: 1580.92, c: 219.61 - 273.15, lowestKelvin: 275.7, highestKelvin: 355.4 },
  water: { a: 4.6543, b: 1435.264, c: -64.848, lowestKelvin: 255.9, highestKelvin: 373 },
} as const satisfies Record<string, Antoine>;

export type AntoineSolvent = keyof typeof antoineBySolvent;
