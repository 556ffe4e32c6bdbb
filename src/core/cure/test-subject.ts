import type { TestKind } from "../shop/entities/tests";
import type { HandTest } from "../shop/tables";
import type { Bounds } from "../units";

export type SubjectOf = HandTest["subject"]["of"];

const film: readonly SubjectOf[] = ["surface"];
const wet: readonly SubjectOf[] = ["washed"];

/** What each kind of test is made on. */
export const subjectsByKind: Record<TestKind, readonly SubjectOf[]> = {
  "fingertip-on-glass": film,
  "paper-drop": film,
  "recoat-patch": film,
  "thumb-twist": film,
  fingernail: film,
  "paper-press": ["surface", "pair"],
  "bleed-patch": ["surface", "patch"],
  "lead-swab": ["paint-layer"],
  "lead-laboratory": ["paint-layer"],
  "moisture-meter": wet,
  weight: wet,
  "pull-or-tap": ["joint"],
  "chalk-look": ["joint"],
  "drop-on-glass": ["can"],
};

type Measured = NonNullable<HandTest["measured"]>;
type MeasureRule = { unit: Measured["unit"]; bounds: Bounds };

/** Tests that are a number on a scale: which unit, and what a hand-held instrument can show at all. */
const measureByKind: Partial<Record<TestKind, MeasureRule>> = {
  "moisture-meter": {
    unit: "percent",
    bounds: { label: "moisture of the wood", unit: "%", min: 0, max: 60, decimals: 1 },
  },
  weight: { unit: "gram", bounds: { label: "weight", unit: "g", min: 1, max: 1_000_000, decimals: 0 } },
};

export const measureOf = (kind: TestKind): MeasureRule | undefined => measureByKind[kind];

/** Below this a pin meter guesses. Source: common practice; pins read wood at about 6 to 25 %. */
export const leastReliablePercent = 6;
