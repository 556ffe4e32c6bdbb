/**
 * Local ejection chains: around a slot that was moved, or a piece that became late, a few coats are taken out and put back,
 * where they were if possible. A change is kept when tardiness, moved slots and handling, in this order, do not grow.
 */
import { Draft } from "./draft";
import { type SearchTaste, windowOf } from "./gaps";
import { Inserter } from "./insert";
import type { Plan, Room, Shift, Spot } from "./plan";
import type { Booth, Coat, Person } from "./problem";

/** Where a coat was; without room or shift when that stretch of the calendar has gone. */
export type OldPlace = { booth: Booth; person: Person; start: number; room: Room | null; shift: Shift | null };
/** So many changes in vain end the search. */
const patience = 50;

type Cost = { tardiness: number; moved: number; handling: number };

const compare = (one: Cost, other: Cost): number =>
  one.tardiness - other.tardiness || one.moved - other.moved || one.handling - other.handling;

export class RepairSearch {
  readonly #draft: Draft;
  readonly #inserter: Inserter;
  readonly #exact: Inserter;

  constructor(
    readonly plan: Plan,
    readonly old: ReadonlyMap<Coat, OldPlace>,
    readonly notBefore: ReadonlyMap<string, number>,
    readonly taste: SearchTaste,
  ) {
    this.#draft = new Draft(plan);
    this.#inserter = new Inserter(plan, this.#draft, taste);
    // only the old booth and the old hands will do
    const aversion: SearchTaste["aversion"] = (coat, room, person) => {
      const place = old.get(coat);
      return place?.booth === room.booth && place.person === person ? 0 : Number.POSITIVE_INFINITY;
    };
    this.#exact = new Inserter(plan, this.#draft, { ...taste, blink: 0, aversion });
  }

  get movedCount(): number {
    return this.plan.spots.reduce((sum, spot) => sum + (this.#isMoved(spot) ? 1 : 0), 0);
  }

  compare(other: RepairSearch): number {
    return compare(this.#cost(), other.#cost());
  }

  /** Puts a coat where it was; false when it cannot be there. */
  putBack(coat: Coat): boolean {
    const place = this.old.get(coat);
    if (!place?.room || !place.shift || place.start < (this.notBefore.get(coat.id) ?? 0)) return false;
    const window = windowOf(this.plan, coat);
    if (place.start < window.earliest || place.start > window.latest) return false;
    const { search } = this.#exact;
    if (!search.find(coat, { earliest: place.start, latest: place.start })) return false;
    this.#draft.place(this.plan.spotOf(coat), search.best.room as Room, search.best.shift as Shift, place.start);
    return true;
  }

  /** What was put back is no longer taken back by a failed attempt. */
  keep() {
    this.#draft.keep();
  }

  /** Puts a coat into the first gap, with what waits for it after it; as a last resort the whole piece anew. */
  insertSomehow(coat: Coat): boolean {
    if (this.plan.spotOf(coat).room || this.#insert(coat)) {
      this.#draft.keep();
      return true;
    }
    this.#draft.takeBack();
    const later = this.#waiting(coat);
    for (const coats of [later, coat.piece.coats]) {
      const taken = this.#takeOut(coats.flatMap((other) => this.plan.spotOf(other)));
      if (taken && this.#putAllBack([coat, ...taken], 0)) {
        this.#draft.keep();
        return true;
      }
      this.#draft.takeBack();
    }
    return false;
  }

  run(steps: number, isTimeUp: () => boolean) {
    let current = this.#cost();
    let still = 0;
    for (let step = 0; step < steps && still < patience && current.moved > 0 && !isTimeUp(); step++) {
      still++;
      const focus = this.#focus();
      if (!focus) return;
      const taken = this.#takeOut(this.#around(focus));
      const isPut = taken !== null && this.#putAllBack(taken, this.taste.random.fraction() < 0.7 ? 0.9 : 0.3);
      const cost = isPut ? this.#cost() : null;
      if (cost && compare(cost, current) <= 0) {
        if (compare(cost, current) < 0) still = 0;
        this.#draft.keep();
        current = cost;
      } else this.#draft.takeBack();
    }
  }

  #cost(): Cost {
    return { tardiness: this.plan.tardiness, moved: this.movedCount, handling: this.plan.handling };
  }

  #isMoved({ coat, room, shift, start }: Spot): boolean {
    const place = this.old.get(coat);
    return !place || place.start !== start || place.booth !== room?.booth || place.person !== shift?.person;
  }

  /** Coats of the piece that cannot begin before this one has. */
  #waiting(coat: Coat): Coat[] {
    const later: Coat[] = [];
    const queue = [coat];
    for (const one of queue)
      for (const { coat: other } of one.awaitedBy)
        if (!later.includes(other)) {
          later.push(other);
          queue.push(other);
        }
    return later;
  }

  /** A moved slot, or now and then one of a late piece. */
  #focus(): Spot | null {
    const { random } = this.taste;
    const moved = this.plan.spots.filter((spot) => !spot.isPinned && this.#isMoved(spot));
    const late =
      random.fraction() < 0.3
        ? this.plan.spots.filter((spot) => !spot.isPinned && this.plan.stayOf(spot.coat.piece).tardiness > 0)
        : [];
    const from = late.length ? late : moved;
    return from[random.below(from.length)] ?? null;
  }

  /** The focus, often with its piece's later coats or other moved ones, and some neighbours of the place it came from or has. */
  #around(focus: Spot): Spot[] {
    const { random } = this.taste;
    const chosen = new Set<Spot>([focus]);
    if (random.fraction() < 0.7) for (const coat of this.#waiting(focus.coat)) chosen.add(this.plan.spotOf(coat));
    if (random.fraction() < 0.5) for (const spot of this.plan.spots) if (this.#isMoved(spot)) chosen.add(spot);
    const place = this.old.get(focus.coat);
    const rooms = [focus.room, place?.room].filter((room) => room != null);
    const count = random.below(4);
    const at = random.fraction() < 0.5 ? focus.start : (place?.start ?? focus.start);
    const near = rooms
      .flatMap(({ spots }) => spots)
      .sort((one, other) => Math.abs(one.start - at) - Math.abs(other.start - at));
    for (const spot of near.slice(0, 8)) if (chosen.size < 24 && random.fraction() < count / 8) chosen.add(spot);
    return [...chosen];
  }

  #takeOut(spots: Spot[]): Coat[] | null {
    const queue = spots.filter(({ room, isPinned }) => room && !isPinned);
    const chosen = new Set(queue);
    for (const spot of queue) {
      const { spots: sequence } = spot.room as Room;
      const after = sequence[sequence.indexOf(spot) + 1];
      this.#draft.remove(spot);
      if (!after || chosen.has(after) || this.plan.isSound(after)) continue;
      if (after.isPinned) return null;
      chosen.add(after);
      queue.push(after);
    }
    return queue.map(({ coat }) => coat);
  }

  /** Coats by old start with some unrest, each where it was with a probability, else at the cheapest gap. */
  #putAllBack(coats: Coat[], loyalty: number): boolean {
    const { random } = this.taste;
    const unrest = random.fraction() < 0.5 ? 0 : 60;
    const keys = new Map(coats.map((coat) => [coat, (this.old.get(coat)?.start ?? 0) + unrest * random.fraction()]));
    const left = [...keys.keys()].sort((one, other) => (keys.get(one) as number) - (keys.get(other) as number));
    while (left.length) {
      const at = left.findIndex((coat) => coat.waitsFor.every(({ coat: earlier }) => this.plan.spotOf(earlier).room));
      if (at < 0) return false;
      const [coat] = left.splice(at, 1) as [Coat];
      if (random.fraction() < loyalty && this.putBack(coat)) continue;
      if (!this.#insert(coat)) return false;
    }
    return true;
  }

  #insert(coat: Coat): boolean {
    return this.#inserter.insert(coat, this.notBefore.get(coat.id) ?? 0);
  }
}
