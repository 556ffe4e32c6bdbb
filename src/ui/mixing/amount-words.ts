/** Volumes, films and areas at the mixing bench, rounded once, here. */

/** "942 ml", "1.24 L"; what is small enough for a syringe keeps a tenth: "3.5 ml". */
export function volume(millilitres: number): string {
  if (millilitres >= 1000) return `${(millilitres / 1000).toFixed(2)} L`;
  if (millilitres >= 20 || millilitres === 0) return `${Math.round(millilitres)} ml`;
  return `${millilitres.toFixed(1)} ml`;
}

/** "25 µm", or "80 to 100 µm" where the coats differ. */
export function film([thinnest, thickest]: readonly [number, number]): string {
  const [from, to] = [Math.round(thinnest), Math.round(thickest)];
  return from === to ? `${from} µm` : `${from} to ${to} µm`;
}

/** "2.9 m²", "0.35 m²": a stool's seat is not rounded away. */
export const area = (squareMetres: number): string =>
  `${squareMetres >= 1 ? squareMetres.toFixed(1) : squareMetres.toFixed(2)} m²`;

export const percent = (value: number): string => `${Number(value.toFixed(1))} %`;
