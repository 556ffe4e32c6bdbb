import type { Family, SheetTime } from "../shop/entities/products";
import type { Sheet } from "../shop/tables";
import type { InstantMs } from "../units";
import { deadCoat } from "./dead-can";
import { countingFactor, factoredTime } from "./factor";
import { type Demand, demandNumber, neededTime } from "./needed-time";
import { familyOf, filmOn, type LaidCoat, momentOf, type Picture, sheetOf } from "./picture";
import { type Film, filmOf } from "./progress";
import { Reach } from "./reach";
import { filmFactor } from "./wet-on-wet";

export { type Demand, type Milestone, milestones } from "./needed-time";

/** One coat against the minutes that it needs. */
export class CoatAnswer extends Reach<Film> {
  constructor(
    film: Film,
    time: SheetTime,
    readonly factor?: number,
  ) {
    super(film, time);
  }

  get coat(): LaidCoat {
    return this.film.coat;
  }
}

/** A sheet's time for a film that takes longer than on its sheet, by what hands found or for being thick. */
const slowedTime = (time: SheetTime, factor: number, timesAsLong: number): SheetTime => {
  if (factor === 1 && timesAsLong === 1 && (time.typicalMin ?? time.min) <= time.min) return time;
  const { safeMin, likelyMin } = factoredTime(time, factor);
  return { min: safeMin * timesAsLong, typicalMin: likelyMin * timesAsLong };
};

const factorOf = (picture: Picture, sheet: Sheet, at: InstantMs) =>
  countingFactor(picture.productById.get(sheet.productId), sheet, at);

/** A coat against a sheet's time, as it was laid, and as this shop's hands have found the product to be. */
export const coatAnswer = (picture: Picture, film: Film, time: SheetTime): CoatAnswer => {
  const { coat, asked } = film;
  const factor = factorOf(picture, sheetOf(picture, coat.sheetId), asked.at);
  const slowed = slowedTime(time, factor, filmFactor(picture, coat, asked.at));
  return new CoatAnswer(film, slowed, factor === 1 ? undefined : factor);
};

/** Later is worse, and no date at all is worst. */
const isLater = (one: CoatAnswer, other: CoatAnswer) =>
  one.isReached !== other.isReached
    ? !one.isReached
    : (one.safeAt ?? (one.isReached ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY)) >=
      (other.safeAt ?? (other.isReached ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY));

/** The latest of instants, and nothing as soon as one of them is not known. */
const latest = (instants: readonly (InstantMs | undefined)[]) =>
  instants.some((instant) => instant === undefined) ? undefined : Math.max(...(instants as InstantMs[]));

/** Films against the minutes that each needs: all have reached them, or else the last one holds. */
export class ClockAnswer {
  readonly kind = "clock";
  readonly isReached: boolean;
  private last: CoatAnswer | undefined;

  constructor(private readonly answers: readonly CoatAnswer[]) {
    this.isReached = answers.every((answer) => answer.isReached);
  }

  get holder(): CoatAnswer {
    this.last ??= this.answers.reduce((worst, answer) => (isLater(answer, worst) ? answer : worst));
    return this.last;
  }

  get safeAt(): InstantMs | undefined {
    return this.holder.safeAt;
  }

  get likelyAt(): InstantMs | undefined {
    return latest(this.answers.map((answer) => answer.likelyAt));
  }
}

export type SurfaceAnswer =
  | { kind: "no-film" }
  | { kind: "never"; coat: LaidCoat; cause: "soft-under-pressure" | "dead-can" }
  | ClockAnswer;

type Holding = { coat: LaidCoat; sheet: Sheet; family: Family; factor: number; timesAsLong: number };

/** What lies on a surface at one instant, and what was asked of it so far. */
export type Standing = {
  dead: LaidCoat | undefined;
  /** The films that can hold it up, from the top down. */
  holding: readonly Holding[];
  answers: Map<number, SurfaceAnswer>;
};

const standingOf = (picture: Picture, surfaceId: string, at: InstantMs): Standing => {
  const coats = filmOn(picture, surfaceId, at);
  const holding: Holding[] = [];
  for (const coat of coats.toReversed()) {
    const sheet = sheetOf(picture, coat.sheetId);
    const timesAsLong = filmFactor(picture, coat, at);
    // under a later coat of the same sheet that needs as long or longer, a film is always the first to be done
    if (holding.some((above) => above.sheet === sheet && above.timesAsLong >= timesAsLong)) continue;
    holding.push({ coat, sheet, family: familyOf(picture, sheet), factor: factorOf(picture, sheet, at), timesAsLong });
  }
  return { dead: deadCoat(picture, surfaceId, coats, at), holding, answers: new Map() };
};

const standingOn = (picture: Picture, surfaceId: string, at: InstantMs): Standing => {
  const { standingBySurfaceId } = momentOf(picture, at);
  const kept = standingBySurfaceId.get(surfaceId);
  if (kept) return kept;
  const standing = standingOf(picture, surfaceId, at);
  standingBySurfaceId.set(surfaceId, standing);
  return standing;
};

const workedOut = (
  picture: Picture,
  { dead, holding }: Standing,
  demand: Demand,
  at: InstantMs,
  countsAway: boolean,
): SurfaceAnswer => {
  const [top] = holding;
  if (!top) return { kind: "no-film" };
  if (dead) return { kind: "never", coat: dead, cause: "dead-can" };
  const timeOf = ({ sheet, family }: Holding, isOnTop: boolean) => neededTime(sheet, family, demand, isOnTop);
  if (timeOf(top, true) === "never") return { kind: "never", coat: top.coat, cause: "soft-under-pressure" };
  const answers = holding.map((film) => {
    // what lies under others hardens, so that only the top can be never
    const time = timeOf(film, film === top) as SheetTime;
    const { coat, factor, timesAsLong } = film;
    const slowed = slowedTime(time, factor, timesAsLong);
    return new CoatAnswer(filmOf(picture, coat, at, countsAway), slowed, factor === 1 ? undefined : factor);
  });
  return new ClockAnswer(answers);
};

/**
 * Whether the film on a surface has reached what is asked: every coat that was not removed counts, each from its own end,
 * and the latest decides.
 */
export const surfaceAnswer = (
  picture: Picture,
  surfaceId: string,
  demand: Demand,
  at: InstantMs,
  countsAway = false,
): SurfaceAnswer => {
  const standing = standingOn(picture, surfaceId, at);
  const question = 2 * demandNumber(demand) + (countsAway ? 1 : 0);
  const kept = standing.answers.get(question);
  if (kept) return kept;
  const answer = workedOut(picture, standing, demand, at, countsAway);
  standing.answers.set(question, answer);
  return answer;
};
