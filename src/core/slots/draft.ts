/** Changes to a plan that can be taken back as one. */
import type { Plan, Room, Shift, Spot } from "./plan";

type Before = { spot: Spot; room: Room | null; shift: Shift | null; start: number };

export class Draft {
  #before: Before[] = [];
  #touched: Uint8Array;

  constructor(readonly plan: Plan) {
    this.#touched = new Uint8Array(plan.spots.length);
  }

  place(spot: Spot, room: Room, shift: Shift, start: number) {
    this.#remember(spot);
    this.plan.place(spot, room, shift, start);
  }

  remove(spot: Spot) {
    this.#remember(spot);
    this.plan.remove(spot);
  }

  /** The coats that this draft has moved, taken out or put in. */
  get touched(): Spot[] {
    return this.#before.map(({ spot }) => spot);
  }

  keep() {
    for (const { spot } of this.#before) this.#touched[spot.coat.index] = 0;
    this.#before.length = 0;
  }

  takeBack() {
    for (const { spot } of this.#before) if (spot.room) this.plan.remove(spot);
    for (const { spot, room, shift, start } of this.#before)
      if (room && shift) this.plan.place(spot, room, shift, start);
    this.keep();
  }

  #remember(spot: Spot) {
    if (this.#touched[spot.coat.index]) return;
    this.#touched[spot.coat.index] = 1;
    this.#before.push({ spot, room: spot.room, shift: spot.shift, start: spot.start });
  }
}
