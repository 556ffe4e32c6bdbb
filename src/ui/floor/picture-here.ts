import type { Picture } from "~/core/cure/picture";
import { CannotTellHere, type Facts } from "~/core/shop/facts";
import { pictureOf } from "~/core/shop/picture";

/**
 * What this device knows of a piece's film, with the air of every room that is read: the next coat may go on in another.
 * Nothing when the device does not carry enough of the air to say.
 */
export function pictureHere(facts: Facts, pieceId: string): Picture | undefined {
  try {
    const picture = pictureOf(facts, pieceId);
    if (!picture) return undefined;
    const others = facts
      .all("room")
      .filter((room) => room.closedAt === undefined && !picture.airByRoomId.has(room.id) && !room.uses.includes("away"))
      // what lies ahead rests on the last days alone, which every device carries
      .map((room) => [room.id, facts.air(room.id, Number.MAX_SAFE_INTEGER)] as const);
    return { ...picture, airByRoomId: new Map([...picture.airByRoomId, ...others]) };
  } catch (error) {
    if (error instanceof CannotTellHere) return undefined;
    throw error;
  }
}
