import { type CanLeft, canLeft } from "~/core/coating/can-left";
import { type CanLife, canLife, shelfDays } from "~/core/coating/can-life";
import type { Facts } from "~/core/shop/facts";
import type { Can, Product, Sheet } from "~/core/shop/tables";
import { dayMs, type InstantMs } from "~/core/units";
import { dayName, moment } from "../format";
import { volume } from "./amount-words";

export type CanShown = {
  can: Can;
  left: CanLeft;
  life: CanLife;
  /** Two lines: how much and since when, and what of its life. */
  leftWords: string;
  lifeWords: string;
  isPast: boolean;
};

export type ShelfShown = { product: Product; cans: CanShown[] };

/** The newest sheet of a product: what it says of shelf life counts for its cans. */
const newestSheet = (facts: Facts, productId: string): Sheet | undefined =>
  facts
    .where("sheet", "productId", productId)
    .reduce<Sheet | undefined>(
      (newest, sheet) => (newest && newest.version > sheet.version ? newest : sheet),
      undefined,
    );

const dayWords = (day: string) => dayName(Date.parse(`${day}T12:00Z`), "UTC");
const yearOf = (day: string) => day.slice(0, 4);
/** "Wed 28 Oct", with the year once it is not this one. */
const dayOf = (day: string, now: InstantMs) =>
  yearOf(day) === String(new Date(now).getUTCFullYear()) ? dayWords(day) : `${dayWords(day)} ${yearOf(day)}`;

const lifeWords = (can: Can, life: CanLife, now: InstantMs, zone: string): string => {
  if (life.state === "proved")
    return `Past its life; a drop on glass hardened. Trusted until ${moment(life.untilAt, now, zone)}.`;
  if (life.state === "good") {
    if (life.lastDay !== undefined)
      return `${can.openedOn === undefined ? "Sealed; good" : "Good"} until ${dayOf(life.lastDay, now)}.`;
    return can.openedOn === undefined ? "Sealed." : "Nothing is known of its shelf life.";
  }
  if (life.because === "drop-stayed-soft") return "Dead: its drop on glass stayed soft.";
  if (life.because === "unlabelled") return "No label: put a drop on glass first.";
  return `Past its life${life.lastDay === undefined ? "" : ` since ${dayOf(life.lastDay, now)}`}: put a drop on glass first.`;
};

const openedWords = (can: Can, now: InstantMs): string => {
  if (can.openedOn === undefined) return "";
  const days = Math.floor((now - Date.parse(`${can.openedOn}T12:00Z`)) / dayMs);
  const years = Math.round(days / 365);
  const ago = days <= 400 ? "" : years === 1 ? ", over a year ago" : `, ${years} years ago`;
  return `, opened ${dayOf(can.openedOn, now)}${ago}`;
};

export const canShown = (facts: Facts, can: Can, now: InstantMs, zone: string): CanShown => {
  const product = facts.get("product", can.productId);
  const sheet = newestSheet(facts, can.productId);
  const left = canLeft(
    can,
    {
      coats: facts.all("coat"),
      mixes: facts.all("mix"),
      surfaceById: (id) => facts.get("surface", id),
      sheetById: (id) => facts.get("sheet", id),
    },
    now,
  );
  const life = canLife(can, product ? shelfDays(sheet, product.family) : {}, zone, now);
  return {
    can,
    left,
    life,
    leftWords: `${left.asksForCount ? "Empty by the book" : `${volume(left.millilitres)} left`} of ${volume(can.filledMillilitres)}${openedWords(can, now)}`,
    lifeWords: lifeWords(can, life, now, zone),
    isPast: life.state === "past",
  };
};

/** The cans of a product that are not empty, the one to use up first on top: opened longest ago, then sealed. */
export function cansShown(facts: Facts, productId: string, now: InstantMs, zone: string): CanShown[] {
  return facts
    .where("can", "productId", productId)
    .filter((can) => can.emptiedAt === undefined)
    .sort(
      (one, other) =>
        (one.openedOn ?? "9999").localeCompare(other.openedOn ?? "9999") || one.label.localeCompare(other.label),
    )
    .map((can) => canShown(facts, can, now, zone));
}

/** Every product in use with its cans, those with cans first. */
export const shelfShown = (facts: Facts, now: InstantMs, zone: string): ShelfShown[] =>
  facts
    .all("product")
    .filter((product) => product.retiredAt === undefined)
    .map((product) => ({ product, cans: cansShown(facts, product.id, now, zone) }))
    .sort((one, other) => one.product.name.localeCompare(other.product.name))
    .filter(({ cans }) => cans.length > 0);
