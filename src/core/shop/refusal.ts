/**
 * Why an intent was not accepted: data, with the numbers behind it and units in the field names. The sentences are in
 * `ui/wording.ts`, whose table is typed by `kind`, so that a refusal without words does not compile.
 */

import type { ForecastNotFit } from "../climate/forecast-fit";
import type { Acclimatising, MissedLimit } from "../climate/limits";
import type { Finding } from "../coating/schedule-findings";
import type { SheetOutOfOrder } from "../coating/sheet-order";
import type { GateNeed, HeldBy } from "../cure/gate-answer";
import type { ClosingPoint } from "../safety/closing";
import type { InstantMs } from "../units";
import type { Role } from "./entities/people";
import type { Method, Stage } from "./entities/pieces";

/** What all refusals may say besides their own numbers. */
export type RefusalCommon = {
  subjectIds?: string[];
  sinceAt?: InstantMs;
  /** Only when time alone would cure it. */
  earliestAt?: InstantMs;
  likelyAt?: InstantMs;
};

type Gated = {
  action: string;
  heldBy?: HeldBy;
  safeCreditMin?: number;
  neededMin?: number;
  safeAt?: InstantMs;
  evidence: string;
  readingsThroughAt?: InstantMs;
  needs: GateNeed[];
};

/** One of the acts that rest on another. */
export type Resting = { kind: string; byMemberId?: string; at: InstantMs };

type Kinds =
  | ({ kind: "gate-shut" } & Gated)
  | ({ kind: "gate-needs-reading"; roomId: string; lastReadingAt?: InstantMs; gapLimitMin: number } & Gated)
  | ({ kind: "never-by-waiting"; cause: string } & Gated)
  | ({
      kind: "test-says-no";
      testId: string;
      testKind: string;
      byMemberId: string;
      testedAt: InstantMs;
      retestAt?: InstantMs;
    } & Gated)
  | ({
      kind: "recoat-window-shut";
      closedAt: InstantMs;
      reopensAt?: InstantMs;
      needsScuff: boolean;
      needsTestPanel: boolean;
    } & Gated)
  | ({ kind: "scuff-needed"; surfaceId: string } & Gated)
  | ({ kind: "not-over-that"; overFamily: string; underFamily: string; barrierFamily?: string } & Gated)
  | ({
      kind: "air-unfit";
      roomId: string;
      limits: MissedLimit[];
      acclimatising?: Acclimatising;
      /** When the forecast of this room passes next. */
      nextPassAt?: InstantMs;
      /** Rooms whose air would do now. */
      otherRoomIds: string[];
    } & Gated)
  | { kind: "wipe-due"; coatId: string; wipeFromAt: InstantMs; wipeLatestAt: InstantMs }
  | { kind: "lead-locked"; leadState: string; methods: Method[]; banYear: number }
  | { kind: "rags-not-safe"; taskId: string; how: string }
  /** Not seen to before the shop is closed up, and no reason given for leaving it. */
  | { kind: "left-open"; points: ClosingPoint[] }
  | { kind: "rags-open"; taskIds: string[]; dueAt?: InstantMs }
  | {
      kind: "wood-wet";
      surfaceId: string;
      lastWaterAt: InstantMs;
      meterPercent?: number;
      equilibriumPercent?: number;
      safeAt?: InstantMs;
    }
  | { kind: "can-past-life"; canId: string; openedOn?: string; shelfOpenedDays?: number; isLabelled: boolean }
  | { kind: "pot-life-over"; mixId: string; mixedAt: InstantMs; usableFromAt: InstantMs; usableUntilAt?: InstantMs }
  | {
      kind: "glue-too-cold";
      roomId: string;
      lowestCelsius?: number;
      chalkCelsius: number;
      holdUntilAt: InstantMs;
      /** Rooms that are warm enough and stay so. */
      roomIds: string[];
    }
  | {
      kind: "joint-not-ready";
      jointId: string;
      /** It came apart: no clock cures that. */
      isFailed?: true;
      clampOffAt?: InstantMs;
      fullStrengthAt?: InstantMs;
    }
  | { kind: "joint-suspect"; jointId: string; lowestCelsius?: number; lowestAt?: InstantMs }
  | { kind: "bleed-open"; surfaceId: string; findings: Finding[]; patchDueAt?: InstantMs }
  | { kind: "schedule-stops"; surfaceId: string; findings: Finding[] }
  | { kind: "ignition-near"; roomId: string }
  | {
      kind: "no-word-opens";
      action: string;
      cause: "failed-test" | "never" | "safety" | "plastic" | "full-cure" | "wood" | "sanding" | "only-waiting";
    }
  | { kind: "flaw-open"; coatIds: string[] }
  | { kind: "coats-left"; coatIds: string[] }
  | { kind: "coat-out-of-order"; coatIds: string[] }
  | { kind: "coat-already-applied"; coatId: string; appliedAt: InstantMs; byMemberId: string }
  | { kind: "coat-is-over"; coatId: string; state: string }
  | { kind: "tasks-open"; taskIds: string[] }
  | { kind: "task-waits"; taskIds: string[]; waitsUntilAt?: InstantMs }
  | { kind: "task-cycle"; taskIds: string[] }
  | { kind: "task-is-over"; taskId: string; state: string }
  | { kind: "skill-missing"; skills: string[]; membersWith: string[] }
  | { kind: "piece-incomplete"; fields: string[] }
  | { kind: "reason-missing"; reasons: string[] }
  | { kind: "moved-meanwhile"; fromStage: Stage; to: Stage; byMemberId: string; at: InstantMs }
  | { kind: "changed-meanwhile"; field: string; was: unknown; theirs: unknown; byMemberId?: string; at?: InstantMs }
  | { kind: "already-claimed"; taskId: string; holderId: string; claimedAt: InstantMs; leaseEndsAt: InstantMs }
  | {
      kind: "claimed-while-apart";
      taskId: string;
      holderId: string;
      claimedAt: InstantMs;
      leaseEndsAt: InstantMs;
      keptSeconds: number;
    }
  | { kind: "not-claimed"; taskId: string }
  | { kind: "promise-too-early"; dueAt: InstantMs; safeAt?: InstantMs; heldBy?: HeldBy }
  | { kind: "promise-stands"; promiseId: string; dueAt: InstantMs }
  | { kind: "entry-too-long"; startedAt: InstantMs; endedAt: InstantMs; maxMin: number }
  | { kind: "ends-before-start"; startedAt: InstantMs; endedAt: InstantMs }
  | { kind: "weights-empty"; pieceIds: string[] }
  | { kind: "too-far-back"; happenedAt: InstantMs; oldestAt: InstantMs; role: Role; mayAsk: Role[] }
  | { kind: "in-the-future"; happenedAt: InstantMs; latestAt: InstantMs }
  | { kind: "clock-not-trusted"; deviceAt: InstantMs; offsetMs?: number; uncertainMs?: number }
  | { kind: "before-it-existed"; thing: string; happenedAt: InstantMs; cameAt: InstantMs }
  | { kind: "after-it-left"; thing: string; happenedAt: InstantMs; leftAt: InstantMs }
  | { kind: "out-of-bounds"; field: string; found: number | string; min?: number; max?: number; unit?: string }
  | { kind: "text-not-fit"; field: string; reason: "empty" | "too-long" | "hidden-character"; max?: number }
  | { kind: "malformed"; field: string; expected: string }
  | { kind: "reading-differs"; roomId: string; at: InstantMs; airCelsius: number; humidityPercent: number }
  | SheetOutOfOrder
  | ForecastNotFit
  | { kind: "may-not"; role: Role | "nobody"; needs: Role[] }
  | { kind: "not-on-shared-tablet" }
  | { kind: "unknown-thing"; field: string }
  | { kind: "no-longer-a-member"; endedAt: InstantMs }
  | { kind: "last-owner" }
  | { kind: "invitation-over"; reason: "used" | "withdrawn" | "expired" | "unknown" }
  | { kind: "still-in-use"; by: string[] }
  | { kind: "too-late-to-take-back"; itsKind: string; untilAt: InstantMs }
  /** Nothing is unwritten that other things were built on. `resting` says which, the earliest first. */
  | { kind: "something-rests-on-it"; itsKind: string; intentIds: string[]; resting: Resting[] }
  /** This sort of thing is undone by doing another, if at all. */
  | { kind: "not-taken-back"; itsKind: string; insteadKinds: string[] }
  | { kind: "rests-on-refused"; intentId: string; itsKind: string }
  | { kind: "intent-altered"; intentId: string }
  | { kind: "import-empty"; badRows: number };

export type Refusal = Kinds & RefusalCommon;
export type RefusalKind = Refusal["kind"];
export type RefusalOf<Kind extends RefusalKind> = Extract<Refusal, { kind: Kind }>;
