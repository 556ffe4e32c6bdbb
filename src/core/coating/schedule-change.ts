/** Changes to a finish schedule that are one act: what is struck, and what is planned in its place. */
import type { Coat } from "../shop/tables";

export type PlannedCoat = Pick<Coat, "position" | "sheetId" | "plannedWetFilmMicrometres" | "barrierWhy"> & {
  coatId: string;
};
export type ScheduleChange = { strike: string[]; add: PlannedCoat[] };

const isPlanned = (coat: Coat) => coat.state === "planned";

const again = (coat: Coat, coatId: string, position: number): PlannedCoat => ({
  coatId,
  position,
  sheetId: coat.sheetId,
  ...(coat.plannedWetFilmMicrometres !== undefined && { plannedWetFilmMicrometres: coat.plannedWetFilmMicrometres }),
  ...(coat.barrierWhy !== undefined && { barrierWhy: coat.barrierWhy }),
});

/**
 * Lays coats of a barrier below a planned coat: that one and all above it move up by as many places.
 *
 * @param coats all coats of one surface
 * @param newId makes the ids of the coats that are planned
 * @returns nothing when the coat is no longer planned
 */
export const withBarrier = (
  coats: readonly Coat[],
  belowCoatId: string,
  barrier: { sheetId: string; why: string; coats: number },
  newId: () => string,
): ScheduleChange | undefined => {
  const upper = coats.find((coat) => coat.id === belowCoatId && isPlanned(coat));
  if (!upper) return undefined;
  const moved = coats
    .filter((coat) => isPlanned(coat) && coat.position >= upper.position)
    .sort((one, other) => one.position - other.position);
  const barriers = Array.from(
    { length: barrier.coats },
    (_, index): PlannedCoat => ({
      coatId: newId(),
      position: upper.position + index,
      sheetId: barrier.sheetId,
      barrierWhy: barrier.why,
    }),
  );
  return {
    strike: moved.map(({ id }) => id),
    add: [...barriers, ...moved.map((coat) => again(coat, newId(), coat.position + barrier.coats))],
  };
};

/** Puts a planned coat on top of all others, as wax wants to be. */
export const asLast = (coats: readonly Coat[], coatId: string, newId: () => string): ScheduleChange | undefined => {
  const coat = coats.find((other) => other.id === coatId && isPlanned(other));
  const top = Math.max(0, ...coats.filter(({ state }) => state !== "struck").map(({ position }) => position));
  return coat && coat.position < top ? { strike: [coatId], add: [again(coat, newId(), top + 1)] } : undefined;
};
