/**
 * Large-neighbourhood search: takes a few related pieces (or a stretch of coats) out of the plan, puts the coats back one by
 * one in a random interleaving, and anneals over the three levels weighed into one. The seed decides the whole path; time
 * only cuts it off, and the best plan so far is always at hand.
 */
import { compareObjectives, type Objective } from "./check";
import { Draft } from "./draft";
import type { SearchTaste } from "./gaps";
import { Inserter } from "./insert";
import type { Slot } from "./instance";
import type { Plan, PlanMemory, Spot } from "./plan";
import type { Coat } from "./problem";
import { type Random, seededRandom } from "./random";
import { coatsInStretch, relatedPieces } from "./removal";

/** What a grain of handling and of makespan weigh against a grain of tardiness while annealing. */
const handlingShare = 0.05;
const makespanShare = 0.0005;
/** And a grain of the mean release against one of makespan: another one for each annealing in turn. */
const meanShares = [0.1, 0, 0.3];
const coldest = 0.02;
/** The hottest temperature as a share of a late piece's mean tardiness, and at least these grains. */
const heatShare = 0.07;
/** Large plans, which are never begun anew, are stirred more. */
const largeHeatShare = 0.12;
const leastHeat = 10;
/** For handling and makespan, as a share of the level itself. */
const lowerHeatShare = 0.05;
/** Steps of one annealing, for each coat. */
const stepsPerCoat = 40;
/** A larger plan is never built anew on the way: that would take all its time. */
const mostCoatsAnew = 150;
/** Steps between two looks at the clock. */
const stepsUnasked = 16;
const handlingWeights = [0, 0.5, 1, 2, 4];
const unrests = [5, 30, 100, 300];

export class Improver {
  best: Objective;
  iterations = 0;
  #bestMemory: PlanMemory;
  readonly #random: Random;
  readonly #draft: Draft;
  readonly #taste: SearchTaste;
  readonly #inserter: Inserter;
  #current: number;
  #cycle = 0;
  #cycleEnd: number;
  #hottest = 0;
  #coldest = coldest;

  /** Takes over a complete plan and works in it. */
  constructor(
    readonly plan: Plan,
    seed: number,
    /** No plan can be better, level by level. */
    readonly bound: Objective,
    readonly onBetter: (best: Objective) => void = () => {},
  ) {
    this.#random = seededRandom(seed);
    this.#draft = new Draft(plan);
    this.#taste = { handlingWeight: 1, blink: 0, caprice: 0, isFickle: true, random: this.#random };
    this.#inserter = new Inserter(plan, this.#draft, this.#taste);
    this.best = plan.objective();
    this.#bestMemory = plan.memory();
    this.#current = this.#weighed(this.best);
    this.#cycleEnd = this.#length;
    this.#heat();
  }

  get bestSlots(): Slot[] {
    return this.plan.slots(this.#bestMemory);
  }

  /** Steps until `isTimeUp` or `isGoodEnough` says so; asked every few steps. */
  run(isTimeUp: () => boolean, isGoodEnough: (best: Objective) => boolean = () => false) {
    if (this.plan.spots.every(({ isPinned }) => isPinned)) return;
    let judged: Objective | null = null;
    while (!isTimeUp()) {
      if (judged !== this.best && isGoodEnough(this.best)) return;
      judged = this.best;
      for (let step = 0; step < stepsUnasked; step++) this.step();
    }
  }

  step() {
    this.iterations++;
    if (this.iterations >= this.#cycleEnd) this.#beginCycle();
    const done = 1 - (this.#cycleEnd - this.iterations) / this.#length;
    const temperature = this.#hottest * (this.#coldest / this.#hottest) ** done;
    const limit = this.#current - temperature * Math.log(1 - this.#random.fraction());
    if (!this.#rebuild(limit)) {
      this.#draft.takeBack();
      return;
    }
    const objective = this.plan.objective();
    const cost = this.#weighed(objective);
    if (cost > limit) this.#draft.takeBack();
    else this.#settle(objective, cost);
  }

  #weighed({ tardiness, handling, makespan }: Objective): number {
    const meanShare = meanShares[this.#cycle % meanShares.length] as number;
    const last = makespan + meanShare * this.plan.meanRelease();
    return tardiness + handlingShare * handling + makespanShare * last;
  }

  get #length(): number {
    return stepsPerCoat * this.plan.spots.length;
  }

  #settle(objective: Objective, cost: number) {
    this.#draft.keep();
    this.#current = cost;
    if (compareObjectives(objective, this.best) >= 0) return;
    this.best = objective;
    this.#bestMemory = this.plan.memory();
    this.onBetter(objective);
  }

  /** Small plans begin anew three times out of four: their valleys are deep, and a new one costs little. */
  #beginCycle() {
    this.#cycle++;
    this.#cycleEnd = this.iterations + this.#length;
    if (this.plan.spots.length > mostCoatsAnew || this.#cycle % 4 === 0) {
      this.plan.restore(this.#bestMemory);
      this.#current = this.#weighed(this.best);
    } else this.#buildAnew();
    this.#heat();
  }

  /** Temperatures of the first level that is not known to be best. */
  #heat() {
    const { tardiness, handling, makespan } = this.best;
    const { bound } = this;
    if (tardiness > bound.tardiness) {
      const late = this.plan.stays.reduce((count, stay) => count + (stay.tardiness > 0 ? 1 : 0), 0);
      const mean = tardiness / Math.max(1, late);
      const isLarge = this.plan.spots.length > mostCoatsAnew;
      // a large plan goes on from its best: less heat the second and third time
      const share = isLarge ? largeHeatShare / (1 + (this.#cycle % 3)) : heatShare;
      this.#hottest = Math.max(leastHeat, share * mean);
      this.#coldest = coldest;
      return;
    }
    const [share, grains] = handling > bound.handling ? [handlingShare, handling] : [makespanShare, makespan];
    this.#hottest = share * Math.max(5, lowerHeatShare * grains);
    this.#coldest = share * coldest * 10;
  }

  #buildAnew() {
    const coats = this.#takeOut(new Set(this.plan.spots.filter(({ isPinned }) => !isPinned)));
    this.#changeTaste();
    if (coats && this.#putBack(coats, Number.POSITIVE_INFINITY)) {
      const objective = this.plan.objective();
      this.#settle(objective, this.#weighed(objective));
    } else this.#draft.takeBack();
  }

  #changeTaste() {
    this.#taste.handlingWeight = handlingWeights[this.#random.below(handlingWeights.length)] as number;
    this.#taste.blink = this.#random.fraction() < 0.5 ? 0 : 0.04;
    this.#taste.caprice = this.#random.fraction() < 0.9 ? 0 : 0.1;
  }

  /** Takes coats out and puts them back elsewhere; false when some found no place or the plan is surely too bad. */
  #rebuild(limit: number): boolean {
    const random = this.#random;
    const isByPiece = random.fraction() < 0.7;
    const chosen = isByPiece ? relatedPieces(this.plan, random, 8) : coatsInStretch(this.plan, random, 24);
    const coats = this.#takeOut(chosen);
    if (!coats?.length) return false;
    this.#changeTaste();
    return this.#putBack(coats, limit);
  }

  #takeOut(chosen: Set<Spot>): Coat[] | null {
    const queue = [...chosen];
    for (const spot of queue) {
      const { spots } = spot.room as { spots: Spot[] };
      const after = spots[spots.indexOf(spot) + 1];
      this.#draft.remove(spot);
      if (!after || chosen.has(after) || this.plan.isSound(after)) continue;
      // its change-over has grown: it must find another place as well
      if (after.isPinned) return null;
      chosen.add(after);
      queue.push(after);
    }
    return queue.map(({ coat }) => coat);
  }

  /** Keys by which coats are put back, the lowest first: piece by piece by chance or promise, or by their old starts. */
  #keys(coats: Coat[]): Map<Coat, number> | null {
    const random = this.#random;
    const manner = random.below(4);
    if (manner === 0) return null;
    if (manner === 1) {
      const unrest = unrests[random.below(unrests.length)] as number;
      return new Map(coats.map((coat) => [coat, this.plan.spotOf(coat).start + unrest * random.fraction()]));
    }
    const pieceKeys = new Map<object, number>();
    const { dayLength } = this.plan.problem;
    for (const { piece } of coats)
      if (!pieceKeys.has(piece)) {
        const promised = piece.due + dayLength * (random.fraction() * 4 - piece.weight / 3);
        pieceKeys.set(piece, manner === 2 ? random.fraction() : promised);
      }
    return new Map(coats.map((coat) => [coat, pieceKeys.get(coat.piece) as number]));
  }

  /** Coat by coat: of those whose forerunners are in place the one with the lowest key, or any. */
  #putBack(coats: Coat[], limit: number): boolean {
    const { plan } = this;
    const random = this.#random;
    const keys = this.#keys(coats);
    const left = [...coats];
    while (left.length) {
      let pick = -1;
      let pickKey = 0;
      let ready = 0;
      for (let index = 0; index < left.length; index++) {
        const coat = left[index] as Coat;
        if (!isReady(plan, coat)) continue;
        ready++;
        const key = keys?.get(coat) ?? 0;
        if (pick < 0 || (keys ? key < pickKey : random.below(ready) === 0)) {
          pick = index;
          pickKey = key;
        }
      }
      if (pick < 0) return false;
      const coat = left[pick] as Coat;
      left[pick] = left[left.length - 1] as Coat;
      left.pop();
      if (!this.#inserter.insert(coat)) return false;
      if (plan.tardiness > limit) return false;
    }
    return true;
  }
}

function isReady(plan: Plan, coat: Coat): boolean {
  for (const { coat: earlier } of coat.waitsFor) if (!plan.spotOf(earlier).room) return false;
  return true;
}
