import type { Role } from "~/core/shop/entities/people";
import type { InstantMs } from "~/core/units";
import { closeCode, type RoomAddress } from "~/core/wire";

/** A session as it stands now: whose it is, on which device, and in which role. */
export type Standing = {
  sessionId: string;
  shopId: string;
  deviceId: string;
  /** Absent on a shared tablet, where each report says whose it is. */
  memberId?: string;
  /** Absent where the membership is over, and on a shared tablet. */
  role?: Role;
  isSharedTablet: boolean;
  endsAt: InstantMs;
};

/** What a connection may do, for as long as its session's standing is the same. */
export type Access = { sessionId: string; shopId: string; deviceId: string; memberId?: string; mode: "read" | "write" };

export type Answer = { access: Access } | { code: number };

const readers: readonly Role[] = ["owner", "partner", "helper", "bookkeeper"];
const writers: readonly Role[] = ["owner", "partner", "helper"];

/**
 * May this session read or write this room? An outlet sees its own pieces only, through the API; the floor is written by
 * the server alone; a shared tablet may read, but words want a name under them.
 *
 * @param standing undefined for a session that is over
 */
export function accessTo(room: RoomAddress, standing: Standing | undefined, now: InstantMs): Answer {
  if (!standing || standing.endsAt <= now) return { code: closeCode.sessionOver };
  const { sessionId, shopId, deviceId, memberId, role } = standing;
  const mayRead = standing.isSharedTablet || (role !== undefined && readers.includes(role));
  if (room.shopId !== shopId || !mayRead) return { code: closeCode.noRight };
  const mayWrite = room.kind === "notes" && role !== undefined && writers.includes(role);
  return { access: { sessionId, shopId, deviceId, memberId, mode: mayWrite ? "write" : "read" } };
}
