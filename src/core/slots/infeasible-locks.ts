/** Locks that contradict a rule, or each other. */
import type { Infeasible } from "./infeasible";
import { type Coat, changeoverOf, type SlotProblem, type Span } from "./problem";

const conflict = (ids: string[], why: string): Infeasible => ({
  code: "LOCK_CONFLICT",
  ids,
  why: `${why} Move a lock.`,
});
const holds = (spans: Span[], from: number, to: number): boolean =>
  spans.some((span) => span.from <= from && to <= span.to);

/** A lock that its own coat cannot keep. */
function brokenAlone({ horizon }: SlotProblem, coat: Coat): Infeasible | null {
  const { id, lock, booths, people, skill, piece } = coat;
  if (!booths.length) return conflict([id], `It is locked in ${lock?.booth?.id}, where it may not be sprayed.`);
  if (!people.length) return conflict([id], `It is locked with ${lock?.person?.id}, who lacks the skill "${skill}".`);
  const start = lock?.start;
  if (start === undefined) return null;
  if (start < piece.ready)
    return conflict([id], `It is locked at ${start}, before the piece is ready (${piece.ready}).`);
  if (start + coat.length > horizon) return conflict([id], `It is locked at ${start}, past the end of the plan.`);
  if (!booths.some(({ openings }) => holds(openings, start, start + coat.length)))
    return conflict([id], `It is locked at ${start}, when no booth for it is open long enough.`);
  if (!people.some(({ shifts }) => holds(shifts, start, start + coat.work)))
    return conflict([id], `It is locked at ${start}, when nobody who may spray it is there.`);
  return null;
}

type Fixed = { coat: Coat; start: number; end: number; free: number };

function brokenPair(problem: SlotProblem, shortest: number, one: Fixed, other: Fixed): Infeasible | null {
  const [earlier, later] = one.start <= other.start ? [one, other] : [other, one];
  const ids = [one.coat.id, other.coat.id];
  const isSamePiece = one.coat.piece === other.coat.piece;
  if (isSamePiece && later.start < earlier.free) return conflict(ids, "Two coats of one piece are locked at once.");
  const [booth, otherBooth] = [one.coat.lock?.booth, other.coat.lock?.booth];
  if (booth && booth === otherBooth) {
    if (later.start < earlier.free) return conflict(ids, `Two locked slots overlap in booth ${booth.id}.`);
    const setup = changeoverOf(problem, earlier.coat.product, later.coat.product);
    const gap = later.start - earlier.free;
    const isOneOpening = holds(booth.openings, earlier.start, later.free);
    // something sprayed between them could only make it longer, unless it is shorter than the change-over
    if (isOneOpening && gap < setup && gap < shortest)
      return conflict(ids, `Between them the gun needs ${setup} grains of cleaning; the locks leave ${gap}.`);
  }
  const [person, otherPerson] = [one.coat.lock?.person, other.coat.lock?.person];
  if (person && person === otherPerson && later.start < earlier.end)
    return conflict(ids, `Two locked slots claim ${person.id} at once.`);
  for (const [before, after] of [
    [one, other],
    [other, one],
  ] as const) {
    const wait = after.coat.waitsFor.find(({ coat }) => coat === before.coat);
    if (!wait) continue;
    if (after.start - before.end < wait.lag) return conflict(ids, `The locks leave less than the lag of ${wait.lag}.`);
    const { isHard, maxLag, previous } = after.coat;
    if (previous === before.coat && isHard && after.start - before.end > maxLag)
      return conflict(ids, `The locks lie further apart than the recoat window of ${maxLag}.`);
  }
  return null;
}

export function lockConflict(problem: SlotProblem): Infeasible | null {
  const locked = problem.coats.filter(({ lock }) => lock);
  for (const coat of locked) {
    const broken = brokenAlone(problem, coat);
    if (broken) return broken;
  }
  const fixed = locked.flatMap((coat): Fixed[] => {
    const start = coat.lock?.start;
    return start === undefined ? [] : [{ coat, start, end: start + coat.work, free: start + coat.length }];
  });
  fixed.sort((one, other) => one.start - other.start);
  const shortest = problem.coats.reduce((least, { length }) => Math.min(least, length), Number.POSITIVE_INFINITY);
  for (const [index, one] of fixed.entries())
    for (const other of fixed.slice(index + 1)) {
      const broken = brokenPair(problem, shortest, one, other);
      if (broken) return broken;
    }
  for (const day of new Set(fixed.map(({ start }) => Math.floor(start / problem.dayLength)))) {
    const coats = fixed.filter(({ start, coat }) => Math.floor(start / problem.dayLength) === day && coat.voc > 0);
    const grams = coats.reduce((sum, { coat }) => sum + coat.voc, 0);
    if (grams <= problem.dailyVoc) continue;
    const ids = coats.map(({ coat }) => coat.id);
    return conflict(ids, `Locked on one day they give off ${grams} g of solvent; the limit is ${problem.dailyVoc} g.`);
  }
  return null;
}
