/** Where the safe post stands on its film, in per cent of the width: a little wood stays bare beyond it. */
export const safePostPercent = 92;

/**
 * A moment's place on the film's width.
 *
 * @param at fraction of the way from laid (0) to safe (1); later moments run on to the right edge
 * @param endPercent where 1 stands, per cent of the width
 */
export const percentAlong = (at: number, endPercent: number) =>
  Math.round(Math.min(100, Math.max(0, at * endPercent)) * 100) / 100;

/** Two labels closer than this share of the film would touch on a 390 px phone (a label is up to 85 px, a film 358 px). */
const labelShare = 0.25;

/** The safe label hangs leftward from its post, so it needs room on its left. */
const safeLabelShare = 0.27;

/** Puts each post's label in the first row under the film where it touches no other; the safe label has row 0 at 1. */
export function labelRows(posts: { at: number }[], hasSafe: boolean): number[] {
  const taken: { at: number; row: number }[] = [];
  return posts.map(({ at }) => {
    let row = hasSafe && at > 1 - safeLabelShare ? 1 : 0;
    while (taken.some((other) => other.row === row && Math.abs(other.at - at) < labelShare)) row += 1;
    taken.push({ at, row });
    return row;
  });
}
