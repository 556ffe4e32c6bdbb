/** May we coat in this room now: each product in use against the room's air, with the next good window. */
import { blushLevel, isFastSolvent } from "~/core/climate/blush";
import { roomForecast, storedUntilAt } from "~/core/climate/forecast";
import { airAhead, coldAhead, type GoodAir } from "~/core/climate/good-air";
import { type Acclimatising, coatingAir, type MissedLimit, missedLimit } from "~/core/climate/limits";
import { isFlammable } from "~/core/safety/ignition";
import type { Family } from "~/core/shop/entities/products";
import type { Facts } from "~/core/shop/facts";
import type { Product, Room, Sheet } from "~/core/shop/tables";
import { dayMs, type InstantMs, minuteMs } from "~/core/units";

export type CoatNow = {
  productId: string;
  name: string;
  /** Coats of it that are planned on pieces in the shop. */
  waiting: number;
  /** `warm-first`: the room would do, the piece or the can is too cold yet. `unread`: nobody can say. */
  answer: "yes" | "warm-first" | "no" | "unread";
  failing: MissedLimit[];
  acclimatising?: Acclimatising;
  /** Of a yes: until when the forecast goes on passing. */
  untilAt?: InstantMs;
  /** Hardly anything is known of this room's days: no window can be told from it. */
  isLittleKnown: boolean;
  /** Of anything but a yes: the next window of an hour or more, by the forecast. */
  next?: GoodAir;
  blush?: "caution" | "stop" | "hard-stop";
  /** Its vapour burns, and a flame or pilot light burns in here. */
  isFlameNear?: true;
  /** It may fall below the product's minimum before a coat laid now has dried enough for the next. */
  cold?: { fromAt: InstantMs; lowCelsius: number };
};

/** A window shorter than this is no time to coat in. Choice of this product. */
const shortestWindowMin = 60;
/** What was laid in the last month is in use. Choice of this product. */
const inUseMs = 30 * dayMs;
const notLaid: ReadonlySet<Family> = new Set<Family>(["glue", "filler", "clay", "stripper", "thinner"]);
/** Coats that wait for their recoat time wait for it overnight at least, where a sheet names none. Common practice. */
const usualDryMin = 12 * 60;

/** Less than a day of readings is no pattern of a day. Choice of this product. */
const fewestHoursKnown = 24;

type InUse = { product: Product; sheet: Sheet; waiting: number };

/** Products that lie or are planned on pieces of the shop, those that are waited for first; all of them in a new shop. */
export function productsInUse(facts: Facts, now: InstantMs): InUse[] {
  const standing = new Set(facts.all("piece").flatMap((piece) => (piece.archivedAt === undefined ? [piece.id] : [])));
  const coats = facts.all("coat").filter((coat) => standing.has(coat.pieceId));
  const productOf = (sheetId: string) => facts.get("sheet", sheetId)?.productId;
  const waiting = new Map<string, number>();
  const used = new Set<string>();
  for (const { sheetId, state, applied } of coats) {
    const productId = productOf(sheetId);
    if (productId === undefined) continue;
    if (state === "planned") waiting.set(productId, (waiting.get(productId) ?? 0) + 1);
    else if (applied && now - applied.endedAt < inUseMs) used.add(productId);
  }
  const laid = facts.all("product").filter(({ family, retiredAt }) => retiredAt === undefined && !notLaid.has(family));
  const inUse = laid.filter(({ id }) => waiting.has(id) || used.has(id));
  return (inUse.length > 0 ? inUse : laid)
    .flatMap((product) => {
      const sheets = facts.where("sheet", "productId", product.id);
      const sheet = sheets.sort((one, other) => other.version - one.version)[0];
      return sheet ? [{ product, sheet, waiting: waiting.get(product.id) ?? 0 }] : [];
    })
    .sort((one, other) => other.waiting - one.waiting || one.product.name.localeCompare(other.product.name));
}

/** One product in one room. Where its vapour would reach a flame, good air is no yes. */
export function coatNowOf(facts: Facts, room: Room, inUse: InUse, now: InstantMs): CoatNow {
  const found = byTheAir(facts, room, inUse, now);
  if (!room.hasOpenFlame || !isFlammable(inUse.product.family, inUse.sheet.solvent)) return found;
  const { untilAt: _until, cold: _cold, ...rest } = found;
  return { ...rest, answer: "no", isFlameNear: true };
}

function byTheAir(facts: Facts, room: Room, { product, sheet, waiting }: InUse, now: InstantMs): CoatNow {
  const air = facts.air(room.id, now);
  const isForecast = (storedUntilAt(air) ?? now) > now;
  const isLittleKnown = !isForecast && (roomForecast(air)?.hoursKnown ?? 0) < fewestHoursKnown;
  const about = { productId: product.id, name: product.name, waiting, isLittleKnown };
  const stretches = isLittleKnown ? [] : airAhead(sheet, air, now);
  const windows = stretches.filter((stretch) => stretch.isGood);
  const next = windows.find((good) => good.toAt - good.fromAt >= shortestWindowMin * minuteMs);
  const found = coatingAir(sheet, air, now);
  if (found.state === "unknown") return { ...about, answer: "unread", failing: [], ...(next && { next }) };
  const level = isFastSolvent(product.family) ? blushLevel(found.humidityPercent, found.spreadCelsius) : "none";
  // where the sheet itself asks for more spread than there is, its no says it already
  const isSaid = found.state === "unfit" && found.failing.some(({ limit }) => limit === "dew-spread");
  const blush = level !== "none" && !isSaid && { blush: level };
  const { acclimatising } = found;
  if (found.state === "unfit") {
    const later = windows.find((good) => good.fromAt > now && good.toAt - good.fromAt >= shortestWindowMin * minuteMs);
    const nextWindow = acclimatising ? next : later;
    return {
      ...about,
      answer: acclimatising ? "warm-first" : "no",
      failing: found.failing.map(missedLimit),
      ...(acclimatising && { acclimatising }),
      ...(nextWindow && { next: nextWindow }),
      ...blush,
    };
  }
  const [first] = stretches;
  const cold = isLittleKnown ? undefined : coldAhead(sheet, air, now, sheet.recoatOpens?.min ?? usualDryMin);
  return {
    ...about,
    answer: "yes",
    failing: [],
    ...(acclimatising && { acclimatising }),
    ...(first?.isGood && { untilAt: first.toAt }),
    ...blush,
    ...(cold && { cold }),
  };
}

/** All products in use in one room; none for rooms that nobody reads. */
export const coatNow = (facts: Facts, room: Room, now: InstantMs): CoatNow[] =>
  room.uses.includes("away") ? [] : productsInUse(facts, now).map((inUse) => coatNowOf(facts, room, inUse, now));
