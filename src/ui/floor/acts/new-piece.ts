import { freeNumber } from "~/core/shop/intents/pieces";

/** The next free tag number, after the highest that the floor carries; K-1 on an empty one. */
export function nextNumber(numbers: readonly string[]): string {
  const collator = new Intl.Collator("en", { numeric: true });
  const highest = numbers
    .filter((number) => /\d$/u.test(number))
    .sort(collator.compare)
    .at(-1);
  return highest === undefined ? "K-1" : freeNumber(highest, new Set(numbers));
}

/** Areas are typed in m² and kept in whole dm², at least one. */
export const squareDecimetresOf = (squareMetres: number): number => Math.max(1, Math.round(squareMetres * 100));
