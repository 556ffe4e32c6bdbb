import type { RoomAir } from "../climate/history";
import { type Picture, shareMoment } from "./picture";

/**
 * A picture with a room's history as it is now: what a device does with each of its pieces when a reading comes in. A piece
 * that never saw the room keeps its very picture. One that had left it before anything new was read there keeps what was
 * worked out for its films: asked at the same instant, `gate` gives the same answers as before, untouched. Only what stands
 * in the room, or stood there since, is asked anew.
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
