/**
 * Why a week cannot be planned: the smallest conflict that can be proved, with what would resolve it. Every answer here is
 * a proof; where none is found the week may still be impossible, and nothing is claimed.
 */
import { overfull } from "./infeasible-capacity";
import { lockConflict } from "./infeasible-locks";
import { inOrder } from "./order";
import type { Coat, SlotProblem } from "./problem";
import { openStarts, possibleStarts } from "./starts";

export type InfeasibleCode =
  | "COAT_TOO_LONG"
  | "NO_QUALIFIED_PERSON"
  | "WINDOW_CLOSED"
  | "RACK_TOO_SMALL"
  | "VOC_OVER_LIMIT"
  | "MASKING_CYCLE"
  | "LOCK_CONFLICT"
  | "CAPACITY";
/** `ids` names coats, or pieces where the rack is too small. */
export type Infeasible = { code: InfeasibleCode; ids: string[]; why: string };

const idsOf = (coats: { id: string }[]): string[] => coats.map(({ id }) => id);

function maskingCycle({ coats }: SlotProblem): Infeasible | null {
  const ordered = new Set(inOrder(coats));
  let circle = coats.filter((coat) => !ordered.has(coat));
  if (!circle.length) return null;
  // coats that only wait for the circle are not part of it
  for (let size = 0; size !== circle.length; ) {
    size = circle.length;
    circle = circle.filter((coat) => coat.awaitedBy.some(({ coat: later }) => circle.includes(later)));
  }
  const piece = circle[0]?.piece;
  const own = circle.filter((coat) => coat.piece === piece);
  const why = `The masking of ${piece?.id} goes round in a circle: each of these coats waits for another of them. Take one line out of it.`;
  return { code: "MASKING_CYCLE", ids: idsOf(own), why };
}

function nobody(problem: SlotProblem): Infeasible | null {
  const without = problem.coats.filter(({ skill }) => skill && !problem.people.some(({ skills }) => skills.has(skill)));
  const [first] = without;
  if (first) {
    const same = without.filter(({ skill }) => skill === first.skill);
    const why = `Nobody has the skill "${first.skill}". Give it to a person, or choose another product.`;
    return { code: "NO_QUALIFIED_PERSON", ids: idsOf(same), why };
  }
  const idle = problem.coats.filter(
    ({ people, lock }) => !lock?.person && people.every(({ shifts }) => !shifts.length),
  );
  if (!idle.length) return null;
  const why = "Whoever may spray this has no working time at all in this plan. Add hours, or a second person.";
  return { code: "NO_QUALIFIED_PERSON", ids: idsOf(idle), why };
}

function tooLarge(problem: SlotProblem): Infeasible | null {
  const piece = problem.pieces.find(({ rackArea }) => rackArea > problem.rackCapacity);
  if (piece) {
    const why = `It needs ${piece.rackArea} of the rack, which holds ${problem.rackCapacity}. Take it apart, or dry it elsewhere.`;
    return { code: "RACK_TOO_SMALL", ids: [piece.id], why };
  }
  const coat = problem.coats.find(({ voc }) => voc > problem.dailyVoc);
  if (!coat) return null;
  const why = `This coat alone gives off ${coat.voc} g of solvent; a day's limit is ${problem.dailyVoc} g. Split the coat, or choose a product with less solvent.`;
  return { code: "VOC_OVER_LIMIT", ids: [coat.id], why };
}

/** Coats that no opening holds, or that no qualified person could spray in one. */
function alone(problem: SlotProblem): Infeasible | null {
  const open = openStarts(problem);
  for (const coat of problem.coats) {
    if (coat.lock) continue;
    const last = problem.horizon - coat.length;
    const holding = coat.booths.flatMap(({ openings }) =>
      openings.filter(({ from, to }) => Math.max(from, coat.earliest) <= Math.min(to - coat.length, last)),
    );
    if (!holding.length) {
      const booths = coat.booths.map(({ id }) => id).join(", ");
      const why = `It takes ${coat.length} grains with its flash-off; no opening of ${booths} holds that. Open longer, or use another booth.`;
      return { code: "COAT_TOO_LONG", ids: [coat.id], why };
    }
    const starts = open(coat);
    if (starts.some(({ from, to }) => to >= coat.earliest && from <= last)) continue;
    const why =
      "No qualified person is there for the whole coat while a booth for it is open. Move the hours together, or ask a second person.";
    return { code: "NO_QUALIFIED_PERSON", ids: [coat.id], why };
  }
  return null;
}

/** The same week with some rules of single coats left out. */
function relaxed(problem: SlotProblem, change: (coat: Coat) => Partial<Coat>): Set<string> {
  const copies = new Map<Coat, Coat>();
  const copyOf = (coat: Coat): Coat => {
    const known = copies.get(coat);
    if (known) return known;
    const copy: Coat = { ...coat, ...change(coat) };
    copies.set(coat, copy);
    copy.previous = coat.previous && copyOf(coat.previous);
    copy.waitsFor = coat.waitsFor.map(({ coat: earlier, lag }) => ({ coat: copyOf(earlier), lag }));
    return copy;
  };
  const coats = problem.coats.map(copyOf);
  for (const coat of coats)
    coat.awaitedBy = coat.awaitedBy.map(({ coat: later, lag }) => ({ coat: copyOf(later), lag }));
  const starts = possibleStarts({ ...problem, coats }, inOrder(coats));
  return new Set(coats.filter(({ index }) => !starts[index]?.length).map(({ id }) => id));
}

const withoutWindow = (): Partial<Coat> => ({ isHard: false });
const withoutLock =
  (problem: SlotProblem) =>
  (coat: Coat): Partial<Coat> => ({
    lock: null,
    booths: coat.lock?.booth ? problem.booths : coat.booths,
    people: coat.lock?.person
      ? problem.people.filter(({ skills }) => !coat.skill || skills.has(coat.skill))
      : coat.people,
  });

/** Coats without any possible start by calendars, lags, windows and locks together. */
function unreachable(problem: SlotProblem): Infeasible | null {
  const stuck = problem.coats.filter(({ starts }) => !starts.length);
  const [first] = stuck;
  if (!first) return null;
  const chain = stuck.filter(({ piece }) => piece === first.piece);
  const locked = first.piece.coats.filter(({ lock }) => lock);
  if (locked.length && !relaxed(problem, withoutLock(problem)).has(first.id)) {
    const why =
      "With these locks the other coats of the piece find no time: a lag, a window or the calendar is broken. Move a lock.";
    return { code: "LOCK_CONFLICT", ids: idsOf(locked), why };
  }
  if (!relaxed(problem, withoutWindow).has(first.id)) {
    const windows = chain.filter(({ isHard, maxLag }) => isHard && maxLag !== Number.POSITIVE_INFINITY);
    const alreadyAlone = windows.filter((window) =>
      relaxed(problem, (coat) => ({ isHard: coat.isHard && coat.id === window.id })).has(window.id),
    );
    const [shown] = alreadyAlone.length ? [alreadyAlone] : [windows];
    const why =
      "No start of the coat before leaves an open booth with a qualified person within its recoat window. Open longer, or lay a barrier coat between.";
    return { code: "WINDOW_CLOSED", ids: idsOf(shown as Coat[]), why };
  }
  const why = "One after another with their lags these coats do not end before the plan does. Plan further ahead.";
  return { code: "CAPACITY", ids: idsOf(chain), why };
}

/** A proved reason why no plan exists, or null when none was found. */
export function provedInfeasible(problem: SlotProblem): Infeasible | null {
  return (
    maskingCycle(problem) ??
    nobody(problem) ??
    tooLarge(problem) ??
    lockConflict(problem) ??
    alone(problem) ??
    unreachable(problem) ??
    overfull(problem)
  );
}
