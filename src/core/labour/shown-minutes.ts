/** The minutes that a number of seconds is shown as: half a minute goes up. */
export const shownTotal = (seconds: number): number => Math.floor((seconds + 30) / 60);

/**
 * Whole minutes for the cells of a table that add up to its shown total: every cell is shown at most a minute off,
 * and the minutes left over go to the cells with the most seconds past the minute (largest remainder). A cell of whole
 * minutes is always shown as it is.
 *
 * @param seconds of the cells, 0 or more
 * @param totalMin the total that stands below them, when another table has already shown it; the floor or the ceiling
 *   of the sum in minutes
 * @example shownMinutes([3151, 2345, 4104]) // [53, 39, 68]
 */
export function shownMinutes(
  seconds: readonly number[],
  totalMin: number = shownTotal(seconds.reduce((sum, cell) => sum + cell, 0)),
): number[] {
  const minutes = seconds.map((cell) => Math.floor(cell / 60));
  const left = totalMin - minutes.reduce((sum, cell) => sum + cell, 0);
  const order = seconds
    .map((cell, index) => ({ cell, index }))
    .filter(({ cell }) => cell % 60 !== 0)
    .sort((a, b) => (b.cell % 60) - (a.cell % 60) || b.cell - a.cell || a.index - b.index);
  if (left < 0 || left > order.length)
    throw new RangeError(`shownMinutes: ${totalMin} min is not the total of the cells`);
  for (const { index } of order.slice(0, left)) minutes[index] = (minutes[index] as number) + 1;
  return minutes;
}
