/** The first plan, at once: pieces in the order of their promises, each coat at its cheapest gap. */
import { Draft } from "./draft";
import { Inserter } from "./insert";
import { inOrder } from "./order";
import { Plan, type Room, type Shift } from "./plan";
import type { Coat, Piece, SlotProblem } from "./problem";
import { type Random, seededRandom, shuffle } from "./random";

/** The latest start of work that would still keep the promise, all else free. */
function latestStart({ surfaces, due }: Piece): number {
  const spans = surfaces.map(({ coats, cure }) => coats.reduce((sum, { work, minLag }) => sum + work + minLag, cure));
  return due - Math.max(...spans);
}

/** Pieces by promise; a heavy promise counts as a day or two nearer. */
export function byPromise(problem: SlotProblem): Piece[] {
  const urgency = (piece: Piece) => latestStart(piece) - (problem.dayLength * Math.min(piece.weight, 9)) / 4;
  const urgencies = new Map(problem.pieces.map((piece) => [piece, urgency(piece)]));
  return [...problem.pieces].sort((one, other) => (urgencies.get(one) as number) - (urgencies.get(other) as number));
}

/** Coats whose lock leaves nothing open go in first and stay; false when two of them cannot both be. */
export function placePinned(plan: Plan): boolean {
  for (const coat of plan.problem.coats) {
    const { lock } = coat;
    if (lock?.start === undefined || coat.booths.length !== 1 || coat.people.length !== 1) continue;
    const { start } = lock;
    const spot = plan.spotOf(coat);
    const room = (plan.rooms[(coat.booths[0] as { index: number }).index] as Room[]).find(
      ({ from, to }) => from <= start && start + coat.length <= to,
    );
    const shift = (plan.shifts[(coat.people[0] as { index: number }).index] as Shift[]).find(
      ({ from, to }) => from <= start && start + coat.work <= to,
    );
    if (!room || !shift) return false;
    plan.place(spot, room, shift, start);
    spot.isPinned = true;
  }
  return plan.spots.every((spot) => !spot.isPinned || plan.isSound(spot));
}

function insertPiece(inserter: Inserter, piece: Piece, order: Coat[]): boolean {
  const { plan, draft } = inserter;
  const coats = order.filter((coat) => coat.piece === piece && !plan.spotOf(coat).room);
  const { horizon, dayLength } = plan.problem;
  // a piece that finds the rack full or its windows shut on the way begins later, half a day at a time
  for (let floor = 0; floor < horizon; floor = Math.max(floor, piece.ready) + Math.ceil(dayLength / 2)) {
    if (coats.every((coat) => inserter.insert(coat, floor))) {
      draft.keep();
      return true;
    }
    draft.takeBack();
  }
  return false;
}

/** One attempt with the pieces in a given order; the piece that found no place, or null when all did. */
function attempt(inserter: Inserter, pieces: Piece[]): Piece | null {
  for (const piece of pieces) if (!insertPiece(inserter, piece, inOrder(piece.coats))) return piece;
  return null;
}

/**
 * A first plan that obeys every rule, or null when none was found within `attempts`, which proves nothing. `isTimeUp` is
 * asked between attempts.
 */
export function firstPlan(problem: SlotProblem, seed: number, attempts: number, isTimeUp = () => false): Plan | null {
  const random: Random = seededRandom(seed);
  let pieces = byPromise(problem);
  for (let round = 0; round < attempts && (round === 0 || !isTimeUp()); round++) {
    const plan = new Plan(problem);
    if (!placePinned(plan)) return null;
    const blink = round < 8 ? 0 : 0.1;
    const inserter = new Inserter(plan, new Draft(plan), {
      handlingWeight: round % 3 === 2 ? 0 : 2,
      blink,
      caprice: blink,
      isFickle: false,
      random,
    });
    const stuck = attempt(inserter, pieces);
    if (!stuck) return plan.isComplete() ? plan : null;
    // what found no place goes first the next time
    pieces = [stuck, ...(round % 4 === 3 ? shuffle([...pieces], random) : pieces).filter((piece) => piece !== stuck)];
  }
  return null;
}
