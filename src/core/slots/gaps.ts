/** Where a coat can go while everything else stays: every gap of every opening, the cheapest place in each. */
import type { Plan, Room, Shift, Spot } from "./plan";
import { type Booth, type Coat, changeoverOf, type Person } from "./problem";
import type { Random } from "./random";
import { firstStartFrom } from "./starts";

/** When a coat may start, given the coats around it that have their places. */
export type Window = { earliest: number; latest: number };

export type SearchTaste = {
  /** Grains of waiting that one grain of change-over is worth. */
  handlingWeight: number;
  /** How often a gap is overlooked, so that the same question gets other answers; 0 for never. */
  blink: number;
  random: Random;
  /** Whether chance decides between booths that are equally good. */
  isFickle: boolean;
  /** How often a coat is put where no sanding is needed, or later than it could be; 0 for never. */
  caprice: number;
  /** Extra cost of a place, in grains; absent when all starts are alike. */
  aversion?: (coat: Coat, room: Room, person: Person, start: number) => number;
};

export type Place = { room: Room | null; shift: Shift | null; start: number; cost: number };

/** Which recoat windows bind: the hard ones, those that can be sanded too, or not the coat's own. */
export type Binding = "hard" | "strict" | "blind";

export function windowOf(plan: Plan, coat: Coat, binding: Binding = "hard"): Window {
  let earliest = coat.earliest;
  let latest = plan.problem.horizon - coat.length;
  for (const { coat: earlier, lag } of coat.waitsFor) {
    const spot = plan.spotOf(earlier);
    if (spot.room && spot.end + lag > earliest) earliest = spot.end + lag;
  }
  for (const { coat: later, lag } of coat.awaitedBy) {
    const spot = plan.spotOf(later);
    if (spot.room && spot.start - lag - coat.work < latest) latest = spot.start - lag - coat.work;
  }
  const { previous, next } = coat;
  const isBound = binding === "strict" || (coat.isHard && binding === "hard");
  if (previous && isBound && coat.maxLag !== Number.POSITIVE_INFINITY) {
    const spot = plan.spotOf(previous);
    if (spot.room && spot.end + coat.maxLag < latest) latest = spot.end + coat.maxLag;
  }
  if (next?.isHard && next.maxLag !== Number.POSITIVE_INFINITY) {
    const spot = plan.spotOf(next);
    if (spot.room && spot.start - next.maxLag - coat.work > earliest) earliest = spot.start - next.maxLag - coat.work;
  }
  const start = coat.lock?.start;
  if (start !== undefined) {
    if (start < earliest || start > latest) return { earliest: 1, latest: 0 };
    return { earliest: start, latest: start };
  }
  return { earliest, latest };
}

/** Index of the first stretch that ends at `grain` or later. */
function firstEndingFrom(stretches: { to: number }[], grain: number): number {
  let [low, high] = [0, stretches.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((stretches[middle] as { to: number }).to < grain) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The search for one coat's place; kept between coats so that nothing is allocated on the way. */
export class GapSearch {
  readonly best: Place = { room: null, shift: null, start: 0, cost: Number.POSITIVE_INFINITY };
  #shift: Shift | null = null;
  /** How far the piece's stay could be lengthened, as known so far. */
  #rackClearFrom = 0;
  #rackClearTo = 0;
  #rackFullAt = Number.POSITIVE_INFINITY;

  constructor(
    readonly plan: Plan,
    readonly taste: SearchTaste,
  ) {}

  /** Finds the cheapest place in a window and leaves it in `best`; false when there is none. */
  find(coat: Coat, { earliest: begin, latest }: Window): boolean {
    const { best, plan, taste } = this;
    best.room = null;
    best.cost = Number.POSITIVE_INFINITY;
    const earliest = firstStartFrom(coat.starts, begin);
    if (earliest > latest) return false;
    this.#rackClearFrom = Number.POSITIVE_INFINITY;
    this.#rackClearTo = plan.stayOf(coat.piece).to;
    this.#rackFullAt = Number.POSITIVE_INFINITY;
    const mostSaved = taste.handlingWeight * (plan.problem.longestChangeover + 1);
    const { booths } = coat;
    // of equal booths not always the same one
    const turn = taste.isFickle && booths.length > 1 ? taste.random.below(booths.length) : 0;
    for (let index = 0; index < booths.length; index++) {
      const booth = booths[(index + turn) % booths.length] as Booth;
      const rooms = plan.rooms[booth.index] as Room[];
      for (let at = firstEndingFrom(rooms, earliest + coat.length); at < rooms.length; at++) {
        const room = rooms[at] as Room;
        if (room.from > latest || Math.max(room.from, earliest) - mostSaved >= best.cost) break;
        if (taste.blink > 0 && taste.random.fraction() < taste.blink) continue;
        this.#searchRoom(coat, room, earliest, latest);
      }
    }
    return best.room !== null;
  }

  #searchRoom(coat: Coat, room: Room, earliest: number, latest: number) {
    const { problem } = this.plan;
    const { handlingWeight, blink, random } = this.taste;
    const { spots } = room;
    for (let gap = 0; gap <= spots.length; gap++) {
      const after = spots[gap];
      if (after && after.start < earliest + coat.length) continue;
      const before = gap > 0 ? (spots[gap - 1] as Spot) : undefined;
      if (before && before.free > latest) break;
      const setup = changeoverOf(problem, before ? before.coat.product : null, coat.product);
      const setupAfter = after ? changeoverOf(problem, coat.product, after.coat.product) : 0;
      const from = Math.max(earliest, (before ? before.free : room.from) + setup);
      const to = Math.min(latest, (after ? after.start - setupAfter : room.to) - coat.length);
      if (from > to) continue;
      if (blink > 0 && random.fraction() < blink) continue;
      if (after && setupAfter > after.setup && !this.#hasTimeFor(after, setupAfter)) continue;
      const grains = setup + (after ? setupAfter - after.setup : 0);
      const extra = handlingWeight * grains;
      if (from + extra >= this.best.cost) continue;
      this.#searchGap(coat, room, from, to, setup, after, setupAfter, extra);
    }
  }

  /** Whether the person of a coat could begin its change-over earlier than now. */
  #hasTimeFor(spot: Spot, setup: number): boolean {
    const shift = spot.shift as Shift;
    const begins = spot.start - setup;
    if (begins < shift.from) return false;
    const earlier = shift.spots[shift.spots.indexOf(spot) - 1];
    return !earlier || earlier.end <= begins;
  }

  #searchGap(
    coat: Coat,
    room: Room,
    from: number,
    to: number,
    setup: number,
    after: Spot | undefined,
    setupAfter: number,
    extra: number,
  ) {
    const { best, taste } = this;
    for (const person of coat.people) {
      let start = from;
      for (;;) {
        const worked = this.#personFree(person, start, to, setup, coat.work, after, setupAfter);
        if (worked < 0) break;
        start = this.#otherwiseFree(coat, worked, to);
        if (start < 0 || start === worked) break;
      }
      if (start < 0 || start > to || this.#shift === null) continue;
      const averse = taste.aversion ? taste.aversion(coat, room, person, start) : 0;
      const cost = start + extra + averse + taste.handlingWeight * this.#sanding(coat, start);
      if (cost >= best.cost) continue;
      best.room = room;
      best.shift = this.#shift;
      best.start = start;
      best.cost = cost;
      if (start === from && !taste.aversion) return;
    }
  }

  /** The first start from `from` on at which the person is there and free for change-over and work; -1 without one. */
  #personFree(
    person: Person,
    from: number,
    to: number,
    setup: number,
    work: number,
    after: Spot | undefined,
    setupAfter: number,
  ): number {
    this.#shift = null;
    const shifts = this.plan.shifts[person.index] as Shift[];
    for (let at = firstEndingFrom(shifts, from + work); at < shifts.length; at++) {
      const shift = shifts[at] as Shift;
      let start = Math.max(from, shift.from + setup);
      if (start > to) return -1;
      const { spots } = shift;
      for (let index = 0; index < spots.length; index++) {
        const busy = spots[index] as Spot;
        if (busy.end <= start - setup) continue;
        if (start + work <= busy.start - (busy === after ? setupAfter : busy.setup)) break;
        start = busy.end + setup;
        if (start > to) return -1;
      }
      if (start + work <= shift.to) {
        this.#shift = shift;
        return start;
      }
    }
    return -1;
  }

  /** The first start from `start` on that the piece's other coats, the solvent limit and the rack allow; -1 without. */
  #otherwiseFree(coat: Coat, start: number, to: number): number {
    const { plan } = this;
    const { coats } = coat.piece;
    for (let index = 0; index < coats.length; index++) {
      const other = coats[index] as Coat;
      const spot = plan.spotOf(other);
      if (other === coat || !spot.room || spot.start >= start + coat.length || spot.free <= start) continue;
      start = spot.free;
      index = -1;
    }
    start = firstStartFrom(coat.starts, start);
    if (start > to) return -1;
    const { dailyVoc, dayLength } = plan.problem;
    if (dailyVoc !== Number.POSITIVE_INFINITY) {
      let day = Math.floor(start / dayLength);
      while ((plan.gramsByDay[day] ?? 0) + coat.voc > dailyVoc) {
        start = ++day * dayLength;
        if (start > to) return -1;
      }
    }
    return start > to ? -1 : this.#rackFree(coat, start, to);
  }

  #rackFree(coat: Coat, start: number, to: number): number {
    const { rack, problem } = this.plan;
    if (rack.length === 0) return start;
    const most = problem.rackCapacity - coat.piece.rackArea;
    const stay = this.plan.stayOf(coat.piece);
    const tail = coat.work + (coat.next ? 0 : coat.surface.handle);
    if (stay.placedCount === 0) {
      if (start < this.#rackClearFrom || start > this.#rackClearTo) {
        this.#rackClearFrom = start;
        this.#rackClearTo = start;
      }
      for (let grain = this.#rackClearTo; grain < start + tail; grain++) {
        if ((rack[grain] as number) > most) {
          start = grain + 1;
          if (start > to) return -1;
          this.#rackClearFrom = start;
        }
        this.#rackClearTo = grain + 1;
      }
      return start;
    }
    for (let grain = start; grain < stay.from; grain++)
      if ((rack[grain] as number) > most) return grain + 1 > to ? -1 : grain + 1;
    if (this.#rackFullAt < start + tail) return -1;
    while (this.#rackClearTo < start + tail) {
      if ((rack[this.#rackClearTo] as number) <= most) this.#rackClearTo++;
      else {
        this.#rackFullAt = this.#rackClearTo;
        return -1;
      }
    }
    return start;
  }

  #sanding(coat: Coat, start: number): number {
    const { plan } = this;
    const { previous, next } = coat;
    let grains = 0;
    if (previous && !coat.isHard) {
      const spot = plan.spotOf(previous);
      if (spot.room && start - spot.end > coat.maxLag) grains += coat.sandTime;
    }
    if (next && !next.isHard) {
      const spot = plan.spotOf(next);
      if (spot.room && spot.start - start - coat.work > next.maxLag) grains += next.sandTime;
    }
    return grains;
  }
}
