/** Puts coats into a plan one by one; on a missed recoat window the coat before is delayed until both fit. */
import type { Draft } from "./draft";
import { GapSearch, type SearchTaste, windowOf } from "./gaps";
import type { Plan, Room, Shift } from "./plan";
import type { Coat } from "./problem";

const mostDelays = 6;
const mostDepth = 4;

export class Inserter {
  readonly search: GapSearch;

  constructor(
    readonly plan: Plan,
    readonly draft: Draft,
    readonly taste: SearchTaste,
  ) {
    this.search = new GapSearch(plan, taste);
  }

  /** Places a coat at the cheapest gap not before `floor`; false when there is none, with the draft half done. */
  insert(coat: Coat, floor = 0, depth = 0): boolean {
    const { best } = this.search;
    const { random, caprice } = this.taste;
    // the earliest place is not always the best: a later one may save sanding, or rack for somebody else
    const binding = !coat.isHard && caprice > 0 && random.fraction() < 0.5 ? "strict" : "hard";
    const wait = caprice > 0 && random.fraction() < caprice ? random.below(this.plan.problem.dayLength) : 0;
    for (let delays = 0; delays <= mostDelays; delays++) {
      const window = windowOf(this.plan, coat, binding);
      if (floor > window.earliest) window.earliest = floor;
      window.earliest = Math.min(window.earliest + wait, Math.max(window.earliest, window.latest));
      if (this.search.find(coat, window)) {
        this.draft.place(this.plan.spotOf(coat), best.room as Room, best.shift as Shift, best.start);
        return true;
      }
      if (depth >= mostDepth || !this.#delayPrevious(coat, floor, depth)) return false;
    }
    return false;
  }

  /** Moves the coat before so late that this coat's window reaches its first free place. */
  #delayPrevious(coat: Coat, floor: number, depth: number): boolean {
    const { previous } = coat;
    if (!previous || coat.maxLag === Number.POSITIVE_INFINITY) return false;
    const spot = this.plan.spotOf(previous);
    if (!spot.room || spot.isPinned) return false;
    const open = windowOf(this.plan, coat, "blind");
    if (floor > open.earliest) open.earliest = floor;
    if (!this.search.find(coat, open)) return false;
    const notBefore = Math.max(spot.start + 1, this.search.best.start - coat.maxLag - previous.work);
    const after = spot.room.spots[spot.room.spots.indexOf(spot) + 1];
    this.draft.remove(spot);
    if (after && !this.plan.isSound(after)) return false;
    return this.insert(previous, notBefore, depth + 1);
  }
}
