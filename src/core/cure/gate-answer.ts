import type { CoatingAir } from "../climate/limits";
import type { Finding } from "../coating/schedule-findings";
import type { Family } from "../shop/entities/products";
import type { PairRule } from "../tables/over-under";
import type { InstantMs } from "../units";
import type { GateAction } from "./demand";
import type { Milestone } from "./milestone";

/** What else a gate wants, or why waiting alone will not open it. */
export type GateNeed =
  | { kind: "reading"; roomId: string; lastReadingAt?: InstantMs; gapLimitMin: number; mayOpenNow: boolean }
  | { kind: "unknown-span"; roomId: string; fromAt: InstantMs; toAt: InstantMs }
  | { kind: "test-says-no"; testId: string; milestone: Milestone; retestAt?: InstantMs }
  | { kind: "never"; surfaceId: string; coatId: string; cause: "soft-under-pressure" | "dead-can" }
  | { kind: "below-minimum"; roomId: string; minimumCelsius: number }
  | {
      kind: "not-over-that";
      overFamily: Family;
      underFamily: Family;
      rule: Exclude<PairRule, "Y" | "S">;
      barrierFamily?: Family;
      waitMin?: number;
    }
  | { kind: "window-shut"; closedAt: InstantMs; reopensAt?: InstantMs; needsScuff: true; needsTestPanel: true }
  | { kind: "scuff"; surfaceId: string }
  | { kind: "test-panel" }
  | { kind: "wipe"; coatId: string; wipeFromAt: InstantMs; wipeLatestAt: InstantMs }
  | { kind: "bleed"; finding: Finding }
  | { kind: "wood-wet"; surfaceId: string; lastWaterAt: InstantMs; meterPercent?: number; equilibriumPercent?: number }
  | {
      kind: "joint";
      jointId: string;
      state: "in-clamps" | "not-at-full-strength" | "suspect" | "failed";
      clampOffAt?: InstantMs;
      fullStrengthAt?: InstantMs;
      lowestCelsius?: number;
      lowestAt?: InstantMs;
    }
  | { kind: "can"; canId: string; openedOn?: string; shelfOpenedDays?: number; isLabelled: boolean }
  | { kind: "mix"; mixId: string; mixedAt: InstantMs; usableFromAt: InstantMs; usableUntilAt: InstantMs }
  | { kind: "ignition"; roomId: string }
  | {
      kind: "air";
      air: Exclude<CoatingAir, { state: "fit" }>;
      /** When the forecast of this room passes next, and rooms whose air would do now. */
      nextPassAt?: InstantMs;
      otherRoomIds: string[];
    };

export type HeldBy = {
  milestone: Milestone;
  surfaceId: string;
  /** The other face, where a pair was asked about. */
  surfaceB?: string;
  pairId?: string;
  coatId?: string;
};

/**
 * May this be done now, and if not, when. Open if and only if the film has earned what it needs with the facts up to the
 * instant of asking, or a later test opened it.
 */
export type Gate = {
  action: GateAction["action"];
  state: "open" | "shut" | "shut-for-good";
  /** Since when it has been open; absent where no film holds it, or it opened before the device's readings begin. */
  sinceAt?: InstantMs;
  /** When the clock opens or opened it, if readings go on and the air is no colder than the forecast low. */
  safeAt?: InstantMs;
  likelyAt?: InstantMs;
  heldBy?: HeldBy;
  /** On what the answer rests: the sheet alone, readings of the air, a room's stated usual, a hand test, or somebody's word. */
  evidence: "sheet" | "readings" | "assumed" | "test" | "word";
  /** Whose word opened it. */
  wordId?: string;
  /** What hand tests taught of the product that holds it, where that counts. */
  factor?: number;
  needs: GateNeed[];
  safeCreditMin?: number;
  neededMin?: number;
  sheetId?: string;
  readingsThroughAt?: InstantMs;
};

/** One face's part in a gate, before the parts are put together. */
export type FacePart = Omit<Gate, "action" | "readingsThroughAt">;

/** A part as it is, with everything worked out, for whoever changes something of it. */
export const toldPart = (part: FacePart): FacePart => ({
  state: part.state,
  sinceAt: part.sinceAt,
  safeAt: part.safeAt,
  likelyAt: part.likelyAt,
  heldBy: part.heldBy,
  evidence: part.evidence,
  wordId: part.wordId,
  factor: part.factor,
  needs: part.needs,
  safeCreditMin: part.safeCreditMin,
  neededMin: part.neededMin,
  sheetId: part.sheetId,
});

/** What a hand, a change of air or a flame put out puts right at once: it shuts a gate, but says nothing about the date of a film. */
const putRight: readonly GateNeed["kind"][] = ["scuff", "wipe", "bleed", "air", "ignition"];
const isPutRight = (need: GateNeed) => putRight.includes(need.kind);
const isByHand = (part: FacePart) =>
  part.state === "shut" && part.needs.every(isPutRight) && part.neededMin === undefined;

/** From open to worst: open, open by a word, put right by hand, with a date, without one, never by waiting. */
const badness = (part: FacePart) => {
  if (part.state === "shut-for-good") return 6;
  if (part.state === "open") return part.heldBy === undefined ? 0 : part.evidence === "word" ? 2 : 1;
  if (isByHand(part)) return 3;
  return part.safeAt === undefined ? 5 : 4;
};

const isWorse = (one: FacePart, other: FacePart) => {
  const [badOne, badOther] = [badness(one), badness(other)];
  if (badOne !== badOther) return badOne > badOther;
  const [atOne, atOther] = one.state === "open" ? [one.sinceAt, other.sinceAt] : [one.safeAt, other.safeAt];
  return (atOne ?? Number.NEGATIVE_INFINITY) > (atOther ?? Number.NEGATIVE_INFINITY);
};

const isSameNeed = (one: GateNeed, other: GateNeed) => JSON.stringify(one) === JSON.stringify(other);

const lastOpeningOf = (parts: readonly FacePart[]) =>
  Math.max(...parts.flatMap(({ state, sinceAt }) => (state === "open" && sinceAt !== undefined ? [sinceAt] : [])));

const likelyOf = (parts: readonly FacePart[], worst: FacePart) => {
  const shut = parts.filter((part) => part.state !== "open" && !isByHand(part));
  if (shut.length === 0) return worst.likelyAt;
  const likely = shut.map((part) => part.likelyAt);
  return likely.some((instant) => instant === undefined) ? undefined : Math.max(...(likely as InstantMs[]));
};

const worstOf = (parts: readonly FacePart[]): FacePart => {
  const start: FacePart = { state: "open", evidence: "sheet", needs: [] };
  const worst = parts.reduce((held, part) => (isWorse(part, held) ? part : held), start);
  const found = { ...toldPart(worst), likelyAt: likelyOf(parts, worst) };
  // a word holds the gate open; it opened with the last of its faces all the same
  if (found.state === "open" && found.evidence === "word") found.sinceAt = lastOpeningOf(parts);
  return found;
};

const needsOf = (parts: readonly FacePart[]) => {
  const needs: GateNeed[] = [];
  for (const part of parts)
    for (const need of part.needs) if (!needs.some((listed) => isSameNeed(listed, need))) needs.push(need);
  return needs;
};

const stateOf = (parts: readonly FacePart[]): Gate["state"] => {
  let state: Gate["state"] = "open";
  for (const part of parts) {
    if (part.state === "shut-for-good") return part.state;
    if (part.state === "shut") state = part.state;
  }
  return state;
};

/**
 * The parts of all faces as one gate: the worst of them holds it, and everything that is still needed is listed once. It is
 * told at once whether it is open; what holds it and since or until when, once somebody asks: so read a gate by its names,
 * for `...rest` and `...gate` do not see them.
 */
export class CombinedGate implements Gate {
  readonly state: Gate["state"];
  private worst: FacePart | undefined;
  private listed: GateNeed[] | undefined;

  constructor(
    readonly action: Gate["action"],
    private readonly parts: readonly FacePart[],
    readonly readingsThroughAt: InstantMs | undefined,
  ) {
    this.state = stateOf(parts);
  }

  private get held(): FacePart {
    this.worst ??= worstOf(this.parts);
    return this.worst;
  }

  get needs(): GateNeed[] {
    this.listed ??= needsOf(this.parts);
    return this.listed;
  }

  get sinceAt() {
    return this.held.sinceAt;
  }

  get safeAt() {
    return this.held.safeAt;
  }

  get likelyAt() {
    return this.held.likelyAt;
  }

  get heldBy() {
    return this.held.heldBy;
  }

  get evidence() {
    return this.held.evidence;
  }

  get wordId() {
    return this.held.wordId;
  }

  get factor() {
    return this.held.factor;
  }

  get safeCreditMin() {
    return this.held.safeCreditMin;
  }

  get neededMin() {
    return this.held.neededMin;
  }

  get sheetId() {
    return this.held.sheetId;
  }
}
