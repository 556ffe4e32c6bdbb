import { coldAhead } from "../climate/good-air";
import { airAt, airKnownAt, type RoomAir } from "../climate/history";
import type { Room } from "../shop/tables";
import { type InstantMs, minuteMs } from "../units";
import { chalkOf, type GlueSheet } from "./joint";
import { chalkHoldMin } from "./joint-first-day";

/** May glue be laid in a room: now and, for glue that turns to chalk, for the whole of its first day. */
export type GluePlace =
  | { state: "fit" }
  | { state: "too-cold"; leastCelsius: number; lowestCelsius: number; holdUntilAt: InstantMs }
  /** Nobody has read the thermometer for too long, or ever. */
  | { state: "unread"; gapLimitMin: number; lastReadingAt?: InstantMs };

const celsiusNow = (air: RoomAir, at: InstantMs): number | undefined => {
  const found = airAt(air, at);
  if (found.isKnown) return found.celsius;
  const isFresh = air.endsAt !== undefined && at - air.endsAt <= air.gapLimitMin * minuteMs;
  return isFresh ? air.last?.celsius : undefined;
};

/**
 * Judged with what was known at `at`: the room as read then, and the forecast's low for the day after. Source: common
 * practice; the bottle in hand rules.
 */
export const gluePlace = (sheet: GlueSheet, wholeAir: RoomAir, at: InstantMs): GluePlace => {
  const air = airKnownAt(wholeAir, at);
  const chalkCelsius = chalkOf(sheet);
  const leastCelsius = chalkCelsius ?? sheet.minimumCelsius;
  const nowCelsius = air.isAway ? undefined : celsiusNow(air, at);
  if (nowCelsius === undefined)
    return {
      state: "unread",
      gapLimitMin: air.gapLimitMin,
      ...(air.endsAt !== undefined && { lastReadingAt: air.endsAt }),
    };
  const holdMin = chalkCelsius === undefined ? 0 : chalkHoldMin;
  const holdUntilAt = at + holdMin * minuteMs;
  if (nowCelsius < leastCelsius) return { state: "too-cold", leastCelsius, lowestCelsius: nowCelsius, holdUntilAt };
  const cold = coldAhead({ minimumCelsius: leastCelsius }, air, at, holdMin);
  return cold ? { state: "too-cold", leastCelsius, lowestCelsius: cold.lowCelsius, holdUntilAt } : { state: "fit" };
};

/** Where joints may stand for a day: the spray room is wanted for spraying, and away nobody reads. */
export const isGluingRoom = ({ uses, closedAt }: Pick<Room, "uses" | "closedAt">): boolean =>
  closedAt === undefined && !uses.includes("away") && (uses.includes("bench") || uses.includes("cure"));
