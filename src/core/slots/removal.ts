/** Which coats to take out together: those that could use each other's places. */
import type { Plan, Room, Spot } from "./plan";
import type { Piece } from "./problem";
import type { Random } from "./random";

/** Adds all coats of a piece that may be moved. */
function addPiece(plan: Plan, piece: Piece, chosen: Set<Spot>) {
  for (const coat of piece.coats) {
    const spot = plan.spotOf(coat);
    if (spot.room && !spot.isPinned) chosen.add(spot);
  }
}

function seedPiece(plan: Plan, random: Random): Piece {
  const { pieces } = plan.problem;
  let piece = pieces[random.below(pieces.length)] as Piece;
  // every other time a late piece, when one is met within a few draws
  if (random.fraction() < 0.5)
    for (let draw = 0; draw < 6 && plan.stayOf(piece).tardiness === 0; draw++)
      piece = pieces[random.below(pieces.length)] as Piece;
  return piece;
}

/** A few pieces whose stays in the booths lie near each other in time. */
export function relatedPieces(plan: Plan, random: Random, most: number): Set<Spot> {
  const { pieces, dayLength } = plan.problem;
  const seed = seedPiece(plan, random);
  const count = 2 + Math.min(random.below(most - 1), random.below(most - 1));
  const stay = plan.stayOf(seed);
  // beside it where it lies now, or in its way between its readiness and there
  const isInWay = random.fraction() < 0.5;
  const reach = random.fraction() < 0.5 ? dayLength / 2 : dayLength * 2;
  const [from, to] = isInWay ? [seed.ready, stay.to] : [stay.from - reach, stay.to + reach];
  const isNear = (piece: Piece) => {
    const other = plan.stayOf(piece);
    return piece !== seed && other.from < to && from < other.to;
  };
  const near = pieces.filter(isNear);
  const chosen = new Set<Spot>();
  addPiece(plan, seed, chosen);
  for (let taken = 1; taken < count && near.length; taken++) {
    const at = random.below(near.length);
    addPiece(plan, near[at] as Piece, chosen);
    near[at] = near[near.length - 1] as Piece;
    near.pop();
  }
  return chosen;
}

/** The coats of a stretch of time, in one booth or in all of them. */
export function coatsInStretch(plan: Plan, random: Random, most: number): Set<Spot> {
  const chosen = new Set<Spot>();
  const seed = plan.spots[random.below(plan.spots.length)] as Spot;
  if (!seed.room) return chosen;
  const isOneBooth = random.fraction() < 0.6;
  const count = 2 + random.below(most);
  const rooms = isOneBooth ? [seed.room] : plan.rooms.flatMap((list) => list.filter((room) => meets(room, seed)));
  const near = rooms.flatMap((room) => room.spots).filter((spot) => !spot.isPinned);
  near.sort((one, other) => Math.abs(one.start - seed.start) - Math.abs(other.start - seed.start));
  for (const spot of near.slice(0, count)) chosen.add(spot);
  return chosen;
}

const meets = (room: Room, spot: Spot): boolean => room.from < spot.free && spot.start < room.to;
