import * as z from "zod/mini";
import { gate } from "../../cure/gate";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { idOf, pieceId, roomId } from "../entities/ids";
import type { Role } from "../entities/people";
import type { Change } from "../event";
import { refusalOfGate } from "../gate-ruling";
import { pictureOf } from "../picture";
import { floorHands } from "../roles";
import type { RoomStay } from "../tables";
import { lateMark } from "./late-reports";
import { passedOver } from "./passed-over";
import { gateNeeds } from "./piece-needs";

const moveBackMin: Partial<Record<Role, number>> = { helper: 24 * 60, partner: 14 * 24 * 60, owner: 14 * 24 * 60 };

export const moveRoom = defineIntent({
  kind: "move-room",
  sort: "report",
  who: floorHands,
  carriesTime: true,
  outlivesMembership: true,
  oldestMin: moveBackMin,
  body: z.object({
    pieceId,
    roomId,
    rackId: z.optional(idOf<"rack">()),
    /** By bearers: on a tray, stand or dolly, by unfinished parts. By hands: gripped where the film is. */
    carried: z.enum(["bearers", "hands"]),
    stance: z.enum(["asking", "done"]),
  }),
  reads: (body, facts, intent) => gateNeeds(body.pieceId, facts, intent.deviceAt),
  judge: (c) => {
    const picture = pictureOf(c.facts, c.body.pieceId);
    if (!picture) return refused({ kind: "unknown-thing", field: "pieceId" });
    const room = c.facts.get("room", c.body.roomId);
    if (!room || room.closedAt !== undefined) return refused({ kind: "unknown-thing", field: "roomId" });
    if (c.body.rackId && !room.racks.some((rack) => rack.rackId === c.body.rackId)) {
      return refused({ kind: "unknown-thing", field: "rackId" });
    }
    const { piece, stays } = picture;
    const at = c.when.happenedAt;
    const first = stays.reduce((earliest, stay) => Math.min(earliest, stay.fromAt), Number.MAX_SAFE_INTEGER);
    if (at < first) return refused({ kind: "before-it-existed", thing: piece.number, happenedAt: at, cameAt: first });
    if (piece.archivedAt !== undefined && at >= piece.archivedAt) {
      return refused({ kind: "after-it-left", thing: piece.number, happenedAt: at, leftAt: piece.archivedAt });
    }
    const standing = standingAt(stays, at);
    const isThere = standing?.roomId === room.id && standing.rackId === c.body.rackId;
    if (isThere && standing.fromAt === at) return alreadySo();
    // kept all the same: an earlier move that arrives later must not carry the piece away from where it was seen
    if (isThere) {
      return accepted({
        kind: "room-confirmed",
        pieceId: piece.id,
        memberId: c.by.id,
        changes: stayChanges(c, stays, standing),
      });
    }
    const moved = gate(picture, { action: "move", carried: c.body.carried }, at);
    if (moved.state !== "open" && c.body.stance === "asking") return refused(refusalOfGate(moved, picture));
    const changes = stayChanges(c, stays, standing);
    const look = "Carried before it was ready: look for marks";
    changes.push(...passedOver(c, { pieceId: piece.id, gate: moved, at, look, surfaceIds: [] }));
    return accepted({ kind: "room-moved", pieceId: piece.id, memberId: c.by.id, changes });
  },
});

const standingAt = (stays: readonly RoomStay[], at: number): RoomStay | undefined =>
  stays.find((stay) => stay.fromAt <= at && (stay.toAt === undefined || at < stay.toAt));

/** Moves may arrive in any order; a stay lasts until the next one begins, and the piece stands where the last one says. */
function stayChanges(
  c: Context<{ pieceId: string; roomId: string; rackId?: string; carried: "bearers" | "hands" }>,
  stays: readonly RoomStay[],
  standing: RoomStay | undefined,
): Change[] {
  const at = c.when.happenedAt;
  const stay: RoomStay = {
    id: c.newId(1),
    pieceId: c.body.pieceId,
    roomId: c.body.roomId,
    rackId: c.body.rackId,
    fromAt: at,
    toAt: standing?.toAt,
    how: c.body.carried,
    ...lateMark(c),
  };
  const isLast = !stays.some((other) => other.fromAt > at);
  const closing: Change[] = !standing
    ? []
    : standing.fromAt === at
      ? // two moves at the same moment: the one recorded later says where it went
        [changed("roomStay", standing.id, { roomId: stay.roomId, rackId: stay.rackId ?? null, how: stay.how })]
      : [changed("roomStay", standing.id, { toAt: at }), made("roomStay", stay)];
  return [
    ...closing,
    ...(isLast ? [changed("piece", c.body.pieceId, { roomId: stay.roomId, rackId: stay.rackId ?? null })] : []),
  ];
}
