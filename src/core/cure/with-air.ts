import type { RoomAir } from "../climate/history";
import { type Picture, shareMoment } from "./picture";

/**
 * A picture with a room's history as it is now. Where the piece had left that room before anything new was read in it, no
 * film of it can change, and what was worked out for its films stays good.
 */
export const withAir = (picture: Picture, air: RoomAir): Picture => {
  const before = picture.airByRoomId.get(air.roomId);
  if (!before || before === air) return picture;
  const next = { ...picture, airByRoomId: new Map(picture.airByRoomId).set(air.roomId, air) };
  const sameUntilAt = before.lineage === air.lineage ? before.endsAt : undefined;
  const hasLeft =
    sameUntilAt !== undefined &&
    picture.joints.every((joint) => joint.roomId !== air.roomId) &&
    picture.surfaces.every((surface) => surface.lastWaterAt === undefined) &&
    picture.stays.every((stay) => stay.roomId !== air.roomId || (stay.toAt !== undefined && stay.toAt <= sameUntilAt));
  if (hasLeft) shareMoment(picture, next);
  return next;
};
