/**
 * Whether what is in a can may still be trusted to harden. Old oil stays sticky for good, and no waiting shows it before it
 * lies on the piece: past its life a can is asked with a drop on glass overnight. The date on the can outranks this.
 */
import { addDays, shopDayAt } from "../calendar";
import type { Family } from "../shop/entities/products";
import type { Can, Sheet } from "../shop/tables";
import { dayMs, type InstantMs, type ShopDay } from "../units";
import { genericSheet } from "./generic-sheets";

/** For so long a passed drop speaks for its can. Common practice. */
export const dropTestDays = 7;

export type CanLife =
  /** Within its life as far as anybody wrote down. */
  | { state: "good"; lastDay?: ShopDay }
  /** Past its life, and a drop on glass has passed lately. */
  | { state: "proved"; untilAt: InstantMs }
  | {
      state: "past";
      because: "opened-too-long" | "unopened-too-long" | "unlabelled" | "drop-stayed-soft";
      lastDay?: ShopDay;
    };

/** The first 48 bits of a UUID of version 7 are its milliseconds: when a device wrote the can down. Source: RFC 9562, 5.7. */
const writtenDownAt = (id: string): InstantMs | undefined =>
  id[14] === "7" ? Number.parseInt(id.slice(0, 8) + id.slice(9, 13), 16) : undefined;

const lastDayOf = (can: Can, sheet: CanSheet, zone: string, at: InstantMs): ShopDay | undefined => {
  if (can.openedOn !== undefined)
    return sheet.shelfOpenedDays === undefined ? undefined : addDays(can.openedOn, sheet.shelfOpenedDays);
  const writtenAt = writtenDownAt(can.id);
  // an id that a seed or an import made up carries no time
  if (sheet.shelfUnopenedDays === undefined || writtenAt === undefined || writtenAt > at) return undefined;
  // it is at least as old as its line on the shelf list
  return addDays(shopDayAt(writtenAt, zone), sheet.shelfUnopenedDays);
};

type CanSheet = Pick<Sheet, "shelfOpenedDays" | "shelfUnopenedDays">;

/** How many days a product keeps: as its sheet says, and where that is silent, as its generic type usually does. */
export const shelfDays = (sheet: CanSheet | undefined, family: Family): CanSheet => {
  const generic = genericSheet(family);
  return {
    shelfOpenedDays: sheet?.shelfOpenedDays ?? generic?.shelfOpenedDays,
    shelfUnopenedDays: sheet?.shelfUnopenedDays ?? generic?.shelfUnopenedDays,
  };
};

/**
 * @param sheet how many days it keeps, opened and unopened; silent, only the label counts
 * @param at tests from after it are not known yet
 */
export const canLife = (can: Can, sheet: CanSheet, zone: string, at: InstantMs): CanLife => {
  const lastDay = lastDayOf(can, sheet, zone, at);
  const lastDayKnown = lastDay === undefined ? {} : { lastDay };
  const drop = can.dropTest && can.dropTest.at <= at ? can.dropTest : undefined;
  if (drop?.result === "fail") return { state: "past", because: "drop-stayed-soft", ...lastDayKnown };
  const isOver = lastDay !== undefined && shopDayAt(at, zone) > lastDay;
  if (can.isLabelled && !isOver) return { state: "good", ...lastDayKnown };
  if (drop && at - drop.at <= dropTestDays * dayMs) return { state: "proved", untilAt: drop.at + dropTestDays * dayMs };
  const because = !can.isLabelled ? "unlabelled" : can.openedOn === undefined ? "unopened-too-long" : "opened-too-long";
  return { state: "past", because, ...lastDayKnown };
};
