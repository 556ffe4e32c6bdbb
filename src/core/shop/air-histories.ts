import { airWithReading, type RoomAir } from "../climate/history";
import type { RoomId } from "./entities/ids";
import type { Reading } from "./tables";

/** Each reading at the end copies the list of those before: more than these at once are laid out anew. Measured. */
const fewReadings = 40;

/**
 * The histories of a shop's rooms, each the same object until something new is read in its room: then it grows, and what
 * was summed over it so far stays good.
 */
export class AirHistories {
  private readonly keptByRoomId = new Map<RoomId, { air: RoomAir; added: Reading[] }>();

  /** @param readings under ids that were not there before */
  add(roomId: RoomId, readings: readonly Reading[]): void {
    this.keptByRoomId.get(roomId)?.added.push(...readings);
  }

  /** Something else than one reading more is different about the room, or about a reading in it. */
  forget(roomId: RoomId): void {
    this.keptByRoomId.delete(roomId);
  }

  forgetAll(): void {
    this.keptByRoomId.clear();
  }

  /** @param laidOut the history from all its readings, for a room of which none is kept */
  of(roomId: RoomId, laidOut: () => RoomAir): RoomAir {
    const kept = this.keptByRoomId.get(roomId);
    if (kept && kept.added.length === 0) return kept.air;
    const air = kept && kept.added.length <= fewReadings ? grown(kept.air, kept.added) : laidOut();
    this.keptByRoomId.set(roomId, { air, added: [] });
    return air;
  }
}

/** The history with a few readings more, the same as if they had been among its readings from the start. */
export const grown = (air: RoomAir, added: readonly Reading[]): RoomAir =>
  added
    .filter((reading) => reading.retractedAt === undefined)
    .sort((one, other) => one.at - other.at)
    .reduce(airWithReading, air);
