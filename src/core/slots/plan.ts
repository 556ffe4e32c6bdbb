/**
 * A plan in the making: which coats have a place, kept so that one coat can be taken out and put elsewhere in
 * microseconds. What is placed obeys every rule, at all times; who places a coat has made sure of it.
 */
import type { Objective } from "./check";
import type { Slot } from "./instance";
import { type Booth, type Coat, changeoverOf, type Person, type Piece, type SlotProblem } from "./problem";

/** One opening of a booth with the coats in it, in their order. */
export type Room = { index: number; booth: Booth; from: number; to: number; spots: Spot[] };
/** One stretch of a person's working time with the coats in it, in their order. */
export type Shift = { person: Person; from: number; to: number; spots: Spot[] };

/** Where a coat is; without a room it has no place. */
export type Spot = {
  coat: Coat;
  room: Room | null;
  shift: Shift | null;
  start: number;
  end: number;
  free: number;
  setup: number;
  isSanded: boolean;
  /** May not be moved: locked to the grain, or already running. */
  isPinned: boolean;
};

/** What a piece costs and holds while its coats are in place. */
export type Stay = { placedCount: number; from: number; to: number; tardiness: number; release: number };

export type PlanMemory = { rooms: (Room | null)[]; shifts: (Shift | null)[]; starts: number[] };

/** Puts a spot where its start says; nearly always near the end of the list. */
function insertByStart(spots: Spot[], spot: Spot) {
  let at = spots.length;
  while (at > 0 && (spots[at - 1] as Spot).start > spot.start) at--;
  spots.splice(at, 0, spot);
}

export class Plan {
  readonly rooms: Room[][];
  readonly shifts: Shift[][];
  readonly spots: Spot[];
  readonly stays: Stay[];
  readonly gramsByDay: Float64Array;
  /** Rack area in use per grain; empty when all pieces together fit. */
  readonly rack: Int32Array;
  handling = 0;
  tardiness = 0;
  placedCount = 0;

  constructor(readonly problem: SlotProblem) {
    let roomCount = 0;
    this.rooms = problem.booths.map((booth) =>
      booth.openings.map(({ from, to }) => ({ index: roomCount++, booth, from, to, spots: [] })),
    );
    this.shifts = problem.people.map((person) =>
      person.shifts.map(({ from, to }) => ({ person, from, to, spots: [] })),
    );
    this.spots = problem.coats.map((coat) => ({
      coat,
      room: null,
      shift: null,
      start: 0,
      end: 0,
      free: 0,
      setup: 0,
      isSanded: false,
      isPinned: false,
    }));
    this.stays = problem.pieces.map(() => ({ placedCount: 0, from: 0, to: 0, tardiness: 0, release: 0 }));
    this.gramsByDay = new Float64Array(Math.ceil(problem.horizon / problem.dayLength) + 1);
    const area = problem.pieces.reduce((sum, { rackArea }) => sum + rackArea, 0);
    const longest = problem.pieces
      .flatMap(({ surfaces }) => surfaces)
      .reduce((most, { handle }) => Math.max(most, handle), 0);
    this.rack = new Int32Array(area > problem.rackCapacity ? problem.horizon + longest + 1 : 0);
  }

  spotOf(coat: Coat): Spot {
    return this.spots[coat.index] as Spot;
  }

  stayOf(piece: Piece): Stay {
    return this.stays[piece.index] as Stay;
  }

  place(spot: Spot, room: Room, shift: Shift, start: number) {
    const { coat } = spot;
    spot.room = room;
    spot.shift = shift;
    spot.start = start;
    spot.end = start + coat.work;
    spot.free = start + coat.length;
    insertByStart(room.spots, spot);
    insertByStart(shift.spots, spot);
    this.#renewSetup(spot);
    this.#renewSetup(this.#after(spot));
    this.#renewSanding(spot);
    if (coat.next) this.#renewSanding(this.spotOf(coat.next));
    const day = Math.floor(start / this.problem.dayLength);
    this.gramsByDay[day] = (this.gramsByDay[day] as number) + coat.voc;
    this.placedCount++;
    const stay = this.stayOf(coat.piece);
    const to = coat.next ? spot.end : spot.end + coat.surface.handle;
    if (stay.placedCount++ === 0) this.#holdRack(coat.piece, start, to);
    else this.#holdRack(coat.piece, Math.min(stay.from, start), Math.max(stay.to, to));
    if (stay.placedCount === coat.piece.coats.length) this.#settle(coat.piece, stay);
  }

  remove(spot: Spot) {
    const { coat } = spot;
    const room = spot.room as Room;
    const shift = spot.shift as Shift;
    const stay = this.stayOf(coat.piece);
    this.tardiness -= stay.tardiness;
    stay.tardiness = 0;
    stay.release = 0;
    stay.placedCount--;
    this.placedCount--;
    this.handling -= spot.setup;
    if (spot.isSanded) this.handling -= coat.sandTime;
    spot.isSanded = false;
    spot.setup = 0;
    const after = this.#after(spot);
    room.spots.splice(room.spots.indexOf(spot), 1);
    shift.spots.splice(shift.spots.indexOf(spot), 1);
    spot.room = null;
    spot.shift = null;
    this.#renewSetup(after);
    if (coat.next) this.#renewSanding(this.spotOf(coat.next));
    const day = Math.floor(spot.start / this.problem.dayLength);
    this.gramsByDay[day] = (this.gramsByDay[day] as number) - coat.voc;
    let [from, to] = [Number.POSITIVE_INFINITY, 0];
    for (const other of coat.piece.coats) {
      const own = this.spotOf(other);
      if (!own.room) continue;
      from = Math.min(from, own.start);
      to = Math.max(to, other.next ? own.end : own.end + other.surface.handle);
    }
    this.#holdRack(coat.piece, stay.placedCount ? from : 0, to);
  }

  /** Whether the change-over that a removal left to this coat finds its time, in the booth and with the person. */
  isSound(spot: Spot): boolean {
    const room = spot.room as Room;
    const shift = spot.shift as Shift;
    const begins = spot.start - spot.setup;
    const before = room.spots[room.spots.indexOf(spot) - 1];
    const earlier = shift.spots[shift.spots.indexOf(spot) - 1];
    return begins >= (before?.free ?? room.from) && begins >= shift.from && begins >= (earlier?.end ?? shift.from);
  }

  isComplete(): boolean {
    return this.placedCount === this.spots.length;
  }

  /** Mean of the pieces' releases: where the makespan stands still, it still tells which way is down. */
  meanRelease(): number {
    let sum = 0;
    for (const stay of this.stays) sum += stay.release;
    return sum / Math.max(1, this.stays.length);
  }

  objective(): Objective {
    let makespan = 0;
    for (const stay of this.stays) if (stay.release > makespan) makespan = stay.release;
    return { tardiness: this.tardiness, handling: this.handling, makespan };
  }

  /** Where every coat is now; cheap, for it is taken whenever a plan is the best so far. */
  memory(): PlanMemory {
    const { spots } = this;
    return {
      rooms: spots.map(({ room }) => room),
      shifts: spots.map(({ shift }) => shift),
      starts: spots.map(({ start }) => start),
    };
  }

  /** Puts every coat that may be moved where it was. */
  restore({ rooms, shifts, starts }: PlanMemory) {
    for (const spot of this.spots) if (spot.room && !spot.isPinned) this.remove(spot);
    for (const [index, spot] of this.spots.entries()) {
      const [room, shift] = [rooms[index], shifts[index]];
      if (room && shift && !spot.isPinned) this.place(spot, room, shift, starts[index] as number);
    }
  }

  slots({ rooms, shifts, starts }: PlanMemory = this.memory()): Slot[] {
    return this.problem.coats.flatMap((coat, index) => {
      const [room, shift] = [rooms[index], shifts[index]];
      return room && shift
        ? { coat: coat.id, booth: room.booth.id, person: shift.person.id, start: starts[index] as number }
        : [];
    });
  }

  #after({ room, start }: Spot): Spot | undefined {
    const spots = (room as Room).spots;
    let at = spots.length;
    while (at > 0 && (spots[at - 1] as Spot).start > start) at--;
    return spots[at];
  }

  #renewSetup(spot: Spot | undefined) {
    if (!spot) return;
    const { spots } = spot.room as Room;
    const before = spots[spots.indexOf(spot) - 1];
    const setup = changeoverOf(this.problem, before ? before.coat.product : null, spot.coat.product);
    this.handling += setup - spot.setup;
    spot.setup = setup;
  }

  #renewSanding(spot: Spot) {
    const { coat } = spot;
    const previous = coat.previous && this.spotOf(coat.previous);
    const isSanded = !!spot.room && !!previous?.room && !coat.isHard && spot.start - previous.end > coat.maxLag;
    if (isSanded !== spot.isSanded) this.handling += isSanded ? coat.sandTime : -coat.sandTime;
    spot.isSanded = isSanded;
  }

  #settle(piece: Piece, stay: Stay) {
    let release = 0;
    for (const { coats, cure } of piece.surfaces)
      release = Math.max(release, this.spotOf(coats[coats.length - 1] as Coat).end + cure);
    stay.release = release;
    stay.tardiness = piece.weight * Math.max(0, release - piece.due);
    this.tardiness += stay.tardiness;
  }

  #holdRack(piece: Piece, from: number, to: number) {
    const stay = this.stayOf(piece);
    if (this.rack.length) {
      if (from < stay.to && stay.from < to) {
        this.#fillRack(stay.from, from, -piece.rackArea);
        this.#fillRack(from, stay.from, piece.rackArea);
        this.#fillRack(to, stay.to, -piece.rackArea);
        this.#fillRack(stay.to, to, piece.rackArea);
      } else {
        this.#fillRack(stay.from, stay.to, -piece.rackArea);
        this.#fillRack(from, to, piece.rackArea);
      }
    }
    stay.from = from;
    stay.to = to;
  }

  #fillRack(from: number, to: number, area: number) {
    for (let grain = from; grain < to; grain++) this.rack[grain] = (this.rack[grain] as number) + area;
  }
}
