import { addDays, shopDayAt, wallTimeAt } from "~/core/calendar";
import { type OddSpan, oddSpans } from "~/core/cure/hit-air";
import { chalkOf } from "~/core/cure/joint";
import { CannotTellHere, type Facts } from "~/core/shop/facts";
import type { Room } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { celsius, clockTime, dayName, isSameDay } from "~/ui/format";

export type Span = { fromAt: InstantMs; toAt: InstantMs };

/** Hours that may be asked about, with their words. */
export type SpanChoice = Span & { id: string; words: string; detail?: string };

/** More than these are last week's news. */
const mostOdd = 3;

/** "Wed 01:00–09:00"; both days where the span runs over midnight. */
export const spanWords = ({ fromAt, toAt }: Span, zone: string): string => {
  const day = (at: InstantMs) => dayName(at, zone).split(" ")[0];
  const end = `${isSameDay(fromAt, toAt, zone) ? "" : `${day(toAt)} `}${clockTime(toAt, zone)}`;
  return `${day(fromAt)} ${clockTime(fromAt, zone)}–${end}`;
};

const oddDetail = (odd: OddSpan): string =>
  odd.kind === "unread"
    ? "not read"
    : `${celsius(Math.round(odd.lowestCelsius))}, usually ${celsius(Math.round(odd.usualCelsius))}`;

/** From six in the evening to eight in the morning, as far as it has passed. */
const lastNight = (now: InstantMs, zone: string): SpanChoice | undefined => {
  const today = shopDayAt(now, zone);
  const [from, to] = [wallTimeAt(addDays(today, -1), "18:00", zone), wallTimeAt(today, "08:00", zone)];
  if (!from.ok || !to.ok) return undefined;
  return { id: "night", words: "Last night", fromAt: from.value.at, toAt: Math.min(now, to.value.at) };
};

/** Below these something that lies or is glued in this shop hardens no more. */
const limitsOf = (facts: Facts): number[] => {
  const chalk = facts.all("joint").flatMap((joint) => {
    const sheet = facts.get("sheet", joint.sheetId);
    return (sheet && chalkOf(sheet)) ?? [];
  });
  const least = facts
    .all("coat")
    .filter((coat) => coat.applied && !coat.removed)
    .flatMap((coat) => facts.get("sheet", coat.sheetId)?.minimumCelsius ?? []);
  return [...new Set([...chalk, ...least])];
};

/** Hours out of the ordinary, found by themselves, the latest first: cold ones before those that nobody read. */
export function oddChoices(facts: Facts, room: Room, now: InstantMs, zone: string): SpanChoice[] {
  let found: OddSpan[];
  try {
    found = oddSpans(facts.air(room.id, now), now, limitsOf(facts));
  } catch (error) {
    if (error instanceof CannotTellHere) return [];
    throw error;
  }
  const cold = found.filter(({ kind }) => kind === "cold");
  const unread = found.filter(({ kind }) => kind === "unread");
  return [...cold, ...unread].slice(0, mostOdd).map((odd) => ({
    id: `${odd.kind} ${odd.fromAt}`,
    words: spanWords(odd, zone),
    detail: oddDetail(odd),
    fromAt: odd.fromAt,
    toAt: Math.min(odd.toAt, now),
  }));
}

export const spanChoices = (facts: Facts, room: Room, now: InstantMs, zone: string): SpanChoice[] => {
  const night = lastNight(now, zone);
  return [...oddChoices(facts, room, now, zone), ...(night ? [night] : [])];
};

/** Rooms whose air is read, in the order in which they were made. */
export const readRooms = (facts: Facts): Room[] =>
  facts.all("room").filter((room) => room.closedAt === undefined && !room.uses.includes("away"));

/** The room that was cold last; where none was, the first in which films cure. */
export function roomFirst(facts: Facts, now: InstantMs, zone: string): Room | undefined {
  const rooms = readRooms(facts);
  const coldAt = (room: Room) =>
    oddChoices(facts, room, now, zone).find(({ id }) => id.startsWith("cold"))?.fromAt ?? Number.NEGATIVE_INFINITY;
  const found = rooms
    .map((room) => ({ room, at: coldAt(room) }))
    .reduce<{ room: Room; at: number } | undefined>(
      (latest, one) => (latest && latest.at >= one.at ? latest : one),
      undefined,
    );
  if (found && found.at > Number.NEGATIVE_INFINITY) return found.room;
  return rooms.find((room) => room.uses.includes("cure")) ?? rooms[0];
}
