/** What is left in a can: its last count, or what it was filled with, less what was taken since. */
import type { Can, Coat, Mix, Sheet, Surface } from "../shop/tables";
import type { InstantMs } from "../units";
import { mixMillilitres, transferByMethod } from "./spreading";

export type CanLeft = {
  /** Never below 0. */
  millilitres: number;
  /** Taken by coats and mixes since the count. */
  takenMillilitres: number;
  /** More was taken than was there: somebody should look into the can. */
  asksForCount: boolean;
};

type Uses = {
  coats: readonly Coat[];
  mixes: readonly Mix[];
  surfaceById: (id: string) => Surface | undefined;
  sheetById: (id: string) => Sheet | undefined;
};

/** What a mix took out of its cans: all that is in the pot but hardener and thinner. */
export const takenByMix = (mix: Mix): number =>
  Math.max(0, mix.millilitres - (mix.hardenerMillilitres ?? 0) - (mix.thinnerMillilitres ?? 0));

/**
 * What a coat straight from the can took: its film over its surface with what missed the piece, as an HVLP gun misses it; a
 * coat that is wiped off again by what its sheet says a litre does. 0 where nobody knows a film.
 *
 * @returns mL
 */
export const takenByCoat = (coat: Coat, sheet: Sheet | undefined, surface: Surface | undefined): number => {
  if (!coat.applied || !surface) return 0;
  const squareMetres = surface.squareDecimetres / 100;
  const film = coat.applied.wetFilmMicrometres ?? coat.plannedWetFilmMicrometres ?? sheet?.wetFilmMicrometres;
  const spread = sheet?.spreadSquareMetresPerLitre;
  if (film === undefined) return spread === undefined ? 0 : (squareMetres * 1000) / spread;
  const method = sheet?.wipeFromMin === undefined ? "hvlp" : "brush";
  const transferPercent = transferByMethod[method].usual;
  return mixMillilitres({ squareMetres, wetFilmMicrometres: film, transferPercent, coats: 1 });
};

/** Several cans of one mix or coat are taken to have given alike. */
const shareOf = (canId: string, canIds: readonly string[] | undefined) =>
  canIds?.includes(canId) ? 1 / canIds.length : 0;

/** A coat out of a mix took its share of the mix, which has left the can already. */
export const canLeft = (can: Can, uses: Uses, at: InstantMs): CanLeft => {
  const counted = can.counted && can.counted.at <= at ? can.counted : undefined;
  const fromAt = counted?.at ?? Number.NEGATIVE_INFINITY;
  const isSince = (usedAt: InstantMs) => usedAt > fromAt && usedAt <= at;
  let taken = 0;
  for (const mix of uses.mixes) if (isSince(mix.mixedAt)) taken += takenByMix(mix) * shareOf(can.id, mix.canIds);
  for (const coat of uses.coats) {
    if (!coat.applied || coat.applied.mixId !== undefined || !isSince(coat.applied.endedAt)) continue;
    const share = shareOf(can.id, coat.applied.canIds);
    if (share > 0) taken += share * takenByCoat(coat, uses.sheetById(coat.sheetId), uses.surfaceById(coat.surfaceId));
  }
  const start = counted?.millilitres ?? can.filledMillilitres;
  return {
    millilitres: Math.max(0, start - taken),
    takenMillilitres: taken,
    // half a millilitre is what rounding makes of a mix
    asksForCount: taken > start + 0.5,
  };
};
