import { genericReference, genericTimes } from "../coating/generic-sheets";
import { type Wrap, wraps } from "../shop/entities/pieces";
import type { Family, SheetTime } from "../shop/entities/products";
import type { Sheet } from "../shop/tables";
import { cureRate } from "./rate";

/** Weakest first, as a hand test proves them; `snug-wrap` and `stack` are as strong as `press-together`. */
export const milestones = [
  "set-to-touch",
  "tack-free",
  "recoat-opens",
  "handle",
  "light-use",
  "press-together",
  "stack",
  "snug-wrap",
  "plastic-wrap",
  "full-cure",
] as const;
export type Milestone = (typeof milestones)[number];

/** What a film must have reached; a stack with its material and a wrap with its kind, because sheets list them so. */
export type Demand = { milestone: Milestone; material?: "felt" | "paper" | "foam"; wrap?: Wrap };

export type Needed = SheetTime | "never";

/** The times of the ladder, weakest first: a stronger one reached means that the weaker ones are reached too. */
const ladder = [
  ["set-to-touch", "setToTouch"],
  ["tack-free", "tackFree"],
  ["recoat-opens", "recoatOpens"],
  ["handle", "handle"],
  ["light-use", "lightUse"],
  ["full-cure", "fullCure"],
] as const;

/**
 * A generic time as this sheet's own clock counts it: what that clock would earn in the generic time at 23 °C, the air for
 * which generic times are given. So a sheet written for 25 °C needs 0.87 of the generic minutes.
 */
const onSheetClock = (sheet: Sheet, time: SheetTime): SheetTime => {
  const rate = cureRate(genericReference, { ...sheet, minimumCelsius: genericReference.celsius });
  return {
    min: time.min * rate,
    ...(time.typicalMin !== undefined && { typicalMin: time.typicalMin * rate }),
  };
};

/** Where the sheet is silent: the generic time, but not below a weaker time that is stated nor above a stronger one. */
const betweenStated = (
  sheet: Sheet,
  time: SheetTime,
  weaker: readonly (keyof Sheet)[],
  stronger: readonly (keyof Sheet)[],
) => {
  const minutes = (fields: readonly (keyof Sheet)[]) =>
    fields.flatMap((field) => {
      const stated = sheet[field];
      return typeof stated === "object" && "min" in stated ? [stated.min] : [];
    });
  const min = Math.min(Math.max(time.min, ...minutes(weaker)), ...minutes(stronger));
  return { min, ...(time.typicalMin !== undefined && { typicalMin: Math.min(time.typicalMin, min) }) };
};

const ladderTime = (sheet: Sheet, family: Family, milestone: (typeof ladder)[number][0]): SheetTime => {
  const index = ladder.findIndex(([name]) => name === milestone);
  const field = (ladder[index] as (typeof ladder)[number])[1];
  const stated = sheet[field];
  if (stated) return stated;
  // light use that the sheet leaves out is handling
  if (milestone === "light-use") return ladderTime(sheet, family, "handle");
  const fields = ladder.map(([, name]) => name);
  const generic = onSheetClock(sheet, genericTimes(family)[field]);
  return betweenStated(sheet, generic, fields.slice(0, index), fields.slice(index + 1));
};

/**
 * @param isOnTop only the film that others touch can be "never"; one that is buried under later coats hardens as its
 *   generic type does
 */
const pressTime = (sheet: Sheet, family: Family, isOnTop: boolean): Needed => {
  const stated = sheet.pressTogether;
  if (stated !== undefined && (stated !== "never" || isOnTop)) return stated;
  if (stated === undefined && family === "lacquer" && isOnTop) return "never";
  const generic = onSheetClock(sheet, genericTimes(family).pressTogether);
  return betweenStated(sheet, generic, ["handle", "lightUse"], ["fullCure"]);
};

const wrapTime = (sheet: Sheet, family: Family, wrap: Wrap, isOnTop: boolean): Needed => {
  const stated = sheet.wrap.find((line) => line.wrap === wrap)?.time;
  if (stated !== undefined && (stated !== "never" || isOnTop)) return stated;
  if (wrap === "loose-paper" || wrap === "loose-blanket") return ladderTime(sheet, family, "handle");
  if (wrap === "snug-paper" || wrap === "snug-blanket") return pressTime(sheet, family, isOnTop);
  if (wrap === "plastic" && family === "lacquer" && isOnTop) return "never";
  return ladderTime(sheet, family, "full-cure");
};

const neededBySheet = (sheet: Sheet, family: Family, demand: Demand, isOnTop: boolean): Needed => {
  switch (demand.milestone) {
    case "press-together":
      return pressTime(sheet, family, isOnTop);
    case "stack": {
      const listed = sheet.stackWith.find((line) => line.material === demand.material)?.time;
      return listed ?? pressTime(sheet, family, isOnTop);
    }
    case "snug-wrap":
      return wrapTime(sheet, family, demand.wrap ?? "snug-paper", isOnTop);
    case "plastic-wrap":
      return wrapTime(sheet, family, demand.wrap ?? "plastic", isOnTop);
    case "handle":
      return demand.wrap ? wrapTime(sheet, family, demand.wrap, isOnTop) : ladderTime(sheet, family, "handle");
    default:
      return ladderTime(sheet, family, demand.milestone);
  }
};

const materials = ["felt", "paper", "foam"] as const satisfies readonly Demand["material"][];

/** Another number for every other demand. */
export const demandNumber = ({ milestone, material, wrap }: Demand): number =>
  (milestones.indexOf(milestone) * (materials.length + 1) + (material ? materials.indexOf(material) + 1 : 0)) *
    (wraps.length + 1) +
  (wrap ? wraps.indexOf(wrap) + 1 : 0);

const neededByRow = new WeakMap<Sheet, { family: Family; times: Map<number, Needed> }>();

/**
 * The minutes at the sheet's reference that a film needs, or "never".
 *
 * @param sheet of the coat; times that it leaves out are the generic type's (common practice), on the sheet's own clock
 */
export const neededTime = (sheet: Sheet, family: Family, demand: Demand, isOnTop: boolean): Needed => {
  let known = neededByRow.get(sheet);
  if (known?.family !== family) {
    known = { family, times: new Map() };
    neededByRow.set(sheet, known);
  }
  const question = 2 * demandNumber(demand) + (isOnTop ? 1 : 0);
  const kept = known.times.get(question) ?? neededBySheet(sheet, family, demand, isOnTop);
  known.times.set(question, kept);
  return kept;
};
