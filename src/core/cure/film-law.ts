/** The tables of a data sheet's law on each of its clocks, made once for all sheets that harden alike. */
import { fastClock, slowClock } from "./rate";
import { type CureReference, type RateLaw, rateLaw, rateLawKey } from "./rate-laws";
import { type RateTable, rateTable } from "./rate-table";

export type FilmLaw = {
  law: RateLaw;
  slow: RateTable;
  /** As slow, but warmth may count for more than the sheet's minutes, as far as the shop allows. */
  likely: RateTable;
  /** Only made where a sheet has a latest time. */
  fast: () => RateTable;
};

/** More sheets than a shop has in use; past it, the oldest tables are made again when they are next asked for. */
const mostLaws = 200;
const lawByKey = new Map<string, FilmLaw>();
const lawByReference = new WeakMap<CureReference, { likelyCap: number; filmLaw: FilmLaw }>();

const made = (reference: CureReference, likelyCap: number): FilmLaw => {
  const law = rateLaw(reference);
  const slow = rateTable(law, slowClock);
  let fast: RateTable | undefined;
  return {
    law,
    slow,
    likely: likelyCap === 1 ? slow : rateTable(law, { kind: "slow", cap: likelyCap }),
    fast: () => {
      fast ??= rateTable(law, fastClock);
      return fast;
    },
  };
};

/**
 * @param likelyCap how many minutes a minute of warmth may count on the likely track, 1…2
 */
export const filmLaw = (reference: CureReference, likelyCap: number): FilmLaw => {
  const known = lawByReference.get(reference);
  if (known?.likelyCap === likelyCap) return known.filmLaw;
  const key = `${rateLawKey(reference)} ${likelyCap}`;
  const found = lawByKey.get(key) ?? made(reference, likelyCap);
  if (!lawByKey.has(key) && lawByKey.size >= mostLaws) lawByKey.delete(lawByKey.keys().next().value as string);
  lawByKey.set(key, found);
  lawByReference.set(reference, { likelyCap, filmLaw: found });
  return found;
};
