/**
 * Mends a plan that people were told: tardiness first, then as few moved slots as can be, then handling. What is locked or
 * running stays where it is; every moved slot is shown with its before and after.
 */
import { accept, type Result, refuse } from "~/core/result";
import type { Objective } from "./check";
import { Draft } from "./draft";
import type { SearchTaste } from "./gaps";
import { Inserter } from "./insert";
import type { Slot } from "./instance";
import { inOrder } from "./order";
import { Plan, type Room, type Shift, type Spot } from "./plan";
import type { Coat, SlotProblem } from "./problem";
import { seededRandom } from "./random";
import { type OldPlace, RepairSearch } from "./repair-search";
import { firstStartFrom } from "./starts";

export type RepairQuestion = {
  /** The week as it is after the disruption. */
  problem: SlotProblem;
  /** The plan as it was told. */
  slots: readonly Slot[];
  /** Coats that cannot begin before a grain. */
  notBefore?: ReadonlyMap<string, number>;
  /** Coats that are done or being sprayed: they stay, whatever the clock says. */
  running?: ReadonlySet<string>;
  seed?: number;
  /** How many local changes to try. */
  steps?: number;
  isTimeUp?: () => boolean;
};
export type MovedSlot = { coat: string; before: Slot | null; after: Slot };
export type Repair = { slots: Slot[]; moved: MovedSlot[]; objective: Objective };
export type NoRepair = { kind: "slots-not-repaired"; ids: string[]; why: string };

const usualSteps = 160;

/** Puts what may not move into an empty plan; the coats that cannot stay there. */
function pinned(plan: Plan, old: Map<Coat, OldPlace>, running: ReadonlySet<string>): Coat[] {
  const lost: Coat[] = [];
  for (const coat of plan.problem.coats) {
    const place = old.get(coat);
    const isFixed = running.has(coat.id) || coat.lock?.start !== undefined;
    if (!isFixed || !place) continue;
    const spot = plan.spotOf(coat);
    if (place.room && place.shift) {
      plan.place(spot, place.room, place.shift, place.start);
      spot.isPinned = true;
    } else lost.push(coat);
  }
  return lost;
}

function oldPlaces(plan: Plan, slots: readonly Slot[]): Map<Coat, OldPlace> {
  const { coatById, boothById, personById } = plan.problem;
  const places = new Map<Coat, OldPlace>();
  for (const slot of slots) {
    const coat = coatById.get(slot.coat);
    const [booth, person] = [boothById.get(slot.booth), personById.get(slot.person)];
    if (!coat || !booth || !person) continue;
    const { start } = slot;
    const room = (plan.rooms[booth.index] as Room[]).find(({ from, to }) => from <= start && start + coat.length <= to);
    const shift = (plan.shifts[person.index] as Shift[]).find(
      ({ from, to }) => from <= start && start + coat.work <= to,
    );
    places.set(coat, { booth, person, start, room: room ?? null, shift: shift ?? null });
  }
  return places;
}

type Start = { plan: Plan; old: Map<Coat, OldPlace>; lost: Coat[] };

function begin(problem: SlotProblem, { slots, running = new Set() }: RepairQuestion): Start {
  const plan = new Plan(problem);
  const old = oldPlaces(plan, slots);
  return { plan, old, lost: pinned(plan, old, running) };
}

const byOldStart = (old: Map<Coat, OldPlace>, coats: Coat[]): Coat[] => {
  const rank = new Map(inOrder(coats).map((coat, index) => [coat, index]));
  const startOf = (coat: Coat) => old.get(coat)?.start ?? 0;
  return [...rank.keys()].sort(
    (one, other) => startOf(one) - startOf(other) || (rank.get(one) ?? 0) - (rank.get(other) ?? 0),
  );
};

/** Every coat stays where it was when it can; the others go to the first gaps, or those that slip go before all others. */
function keepingPlaces(
  { plan, old }: Start,
  question: RepairQuestion,
  taste: SearchTaste,
  slippedFirst: boolean,
): RepairSearch | null {
  const notBefore = question.notBefore ?? new Map<string, number>();
  const search = new RepairSearch(plan, old, notBefore, taste);
  const all = byOldStart(old, plan.problem.coats);
  if (slippedFirst) for (const coat of all) if (notBefore.has(coat.id) && !search.insertSomehow(coat)) return null;
  const movable = all.filter((coat) => !plan.spotOf(coat).room);
  const displaced = movable.filter((coat) => !search.putBack(coat));
  search.keep();
  for (const coat of displaced) if (!search.insertSomehow(coat)) return null;
  return search;
}

/** Every coat in its old order, booth and hands, pushed on until it fits: what a person with a ruler would do. */
function pushing({ plan, old }: Start, question: RepairQuestion, taste: SearchTaste): RepairSearch | null {
  const notBefore = question.notBefore ?? new Map<string, number>();
  const lastStart = new Map<object, number>();
  const pushTaste: SearchTaste = {
    ...taste,
    aversion: (coat, room, person, start) => {
      const place = old.get(coat);
      if (!place) return 0;
      const isOrdered = start > (lastStart.get(room.booth) ?? -1);
      return room.booth === place.booth && person === place.person && isOrdered ? 0 : Number.POSITIVE_INFINITY;
    },
  };
  const draft = new Draft(plan);
  const inserter = new Inserter(plan, draft, pushTaste);
  for (const coat of byOldStart(
    old,
    plan.problem.coats.filter((other) => !plan.spotOf(other).room),
  )) {
    const place = old.get(coat);
    const floor = Math.max(place?.start ?? 0, notBefore.get(coat.id) ?? 0);
    if (!inserter.insert(coat, floor)) return null;
    const spot = plan.spotOf(coat);
    lastStart.set((spot.room as Room).booth, spot.start);
  }
  draft.keep();
  return new RepairSearch(plan, old, notBefore, taste);
}

const slotOf = ({ coat, room, shift, start }: Spot): Slot => ({
  coat: coat.id,
  booth: (room as Room).booth.id,
  person: (shift as Shift).person.id,
  start,
});

/** A plan that obeys every rule again, or why none was found; `seed` and `steps` decide the answer. */
export function repair(question: RepairQuestion): Result<Repair, NoRepair> {
  const { problem, slots, seed = 1, steps = usualSteps, isTimeUp = () => false } = question;
  const first = begin(problem, question);
  if (first.lost.length) {
    const ids = first.lost.map(({ id }) => id);
    return refuse({
      kind: "slots-not-repaired",
      ids,
      why: "These are locked or running where they no longer can be. Unlock them, or mend the calendar.",
    });
  }
  const random = seededRandom(seed);
  const taste: SearchTaste = { handlingWeight: 1, blink: 0, caprice: 0, isFickle: false, random };
  const kept = keepingPlaces(first, question, taste, false);
  if (kept && kept.movedCount === 0) return accept(answer(kept.plan, slots));
  const starts = [
    kept,
    keepingPlaces(begin(problem, question), question, taste, true),
    pushing(begin(problem, question), question, taste),
  ].filter((search) => search !== null);
  const [best] = starts.sort((one, other) => one.compare(other));
  if (!best) return refuse(stuck(first, question));
  best.run(steps, isTimeUp);
  return accept(answer(best.plan, slots));
}

/** Why no repair was found: most often a coat that would miss its recoat window whatever else moves. */
function stuck({ plan, old }: Start, { notBefore = new Map() }: RepairQuestion): NoRepair {
  const missed = plan.problem.coats.filter((coat) => {
    const { previous, isHard, maxLag, starts } = coat;
    const place = previous && old.get(previous);
    if (!place || !isHard || !plan.spotOf(previous).isPinned) return false;
    return (
      firstStartFrom(starts, Math.max(coat.earliest, notBefore.get(coat.id) ?? 0)) >
      place.start + previous.work + maxLag
    );
  });
  const ids = missed.map(({ id }) => id);
  const why = missed.length
    ? "The coat before is on, and the recoat window closes before this one can begin. Sand or redo that coat, or open longer."
    : "No place was found for all coats that the change has moved. Plan the week anew, or open longer.";
  return { kind: "slots-not-repaired", ids, why };
}

function answer(plan: Plan, slots: readonly Slot[]): Repair {
  const before = new Map(slots.map((slot) => [slot.coat, slot]));
  const moved = plan.spots.flatMap((spot): MovedSlot[] => {
    const after = slotOf(spot);
    const old = before.get(after.coat) ?? null;
    const isSame = old?.booth === after.booth && old.person === after.person && old.start === after.start;
    return isSame ? [] : [{ coat: after.coat, before: old, after }];
  });
  return { slots: plan.slots(), moved, objective: plan.objective() };
}
