import { CannotTellHere, type Facts } from "~/core/shop/facts";
import type { Reading, Room } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { celsius, humidity, minutesAgo, moment } from "~/ui/format";

/** The last reading of a room; none for rooms away from the shop, which nobody reads. */
export function lastReading(facts: Facts, room: Room, now: InstantMs): Reading | undefined {
  if (room.uses.includes("away")) return undefined;
  try {
    return facts
      .air(room.id, now)
      .readings.findLast((reading) => reading.at <= now && reading.retractedAt === undefined);
  } catch (error) {
    if (error instanceof CannotTellHere) return undefined;
    throw error;
  }
}

/** "18 °C", for a room that one chooses. */
export const roomDegrees = (facts: Facts, room: Room, now: InstantMs): string | undefined => {
  const reading = lastReading(facts, room, now);
  return reading && celsius(reading.airCelsius);
};

export type RoomAirShown = { id: string; name: string; air: string; readAt?: string };

/** Every room that is read, with what its air was last; when that is older than the room's gap limit, also since when. */
export const roomAirs = (facts: Facts, now: InstantMs, zone: string): RoomAirShown[] =>
  openRooms(facts)
    .filter((room) => !room.uses.includes("away"))
    .map((room) => {
      const reading = lastReading(facts, room, now);
      if (!reading) return { id: room.id, name: room.name, air: "not read yet" };
      const isOld = minutesAgo(reading.at, now) > room.gapLimitMin;
      return {
        id: room.id,
        name: room.name,
        air: `${celsius(reading.airCelsius)} · ${humidity(reading.humidityPercent)}`,
        ...(isOld && { readAt: moment(reading.at, now, zone) }),
      };
    });

export const openRooms = (facts: Facts): Room[] => facts.all("room").filter((room) => room.closedAt === undefined);
