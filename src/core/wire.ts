/**
 * What both ends of the socket must agree on. The frames are those of the y-websocket protocol (sync 0, awareness 1);
 * one binary message carries one frame.
 *
 * Rooms: `floor:<shopId>:<epoch>` is written by the server alone; `notes:<shopId>:<pieceId>` by members who may edit, and
 * `notes:<shopId>:<pieceId>:<epoch>` once these notes have been founded again.
 *
 * A document is founded again under the next epoch when most of it is history. Who opens it by an older epoch hears 4409.
 * With the notes goes the present epoch, as the reason of the close (its digits alone); and it comes only when nothing
 * that was written in the old copy is missing: the server asks by step 1, carries over what the answer holds, asks again,
 * and hangs up at the first answer that brings nothing new. So a device opens its old copy by the old name, answers as
 * ever, and at 4409 drops that copy and opens the named epoch; only if something was written into the old copy since the
 * line opened, it opens the old name once more first. What is sent twice is carried over once.
 * Presence travels as awareness on the floor's socket: each connection speaks for itself, and the server fills in who.
 */
export const message = { sync: 0, awareness: 1, queryAwareness: 3 } as const;
export const syncMessage = { step1: 0, step2: 1, update: 2 } as const;

/** 44xx: do not try again by yourself. Others: try again, with growing pauses. */
export const closeCode = {
  malformed: 4400,
  sessionOver: 4401,
  noRight: 4403,
  noSuchRoom: 4404,
  otherEpoch: 4409,
  tooLarge: 4413,
  databaseAway: 4503,
  restarting: 1012,
} as const;

export const syncPath = "/sync";
export const roomName = /^[a-z0-9][a-z0-9:-]{0,120}$/;

export const firstEpoch = 1;

export const floorRoom = (shopId: string, epoch: number): string => `floor:${shopId}:${epoch}`;
export const notesRoom = (shopId: string, pieceId: string, epoch = firstEpoch): string =>
  `notes:${shopId}:${pieceId}${epoch === firstEpoch ? "" : `:${epoch}`}`;

export type RoomAddress =
  | { kind: "floor"; shopId: string; epoch: number }
  | { kind: "notes"; shopId: string; pieceId: string; epoch: number };

export function parseRoom(name: string): RoomAddress | undefined {
  if (!roomName.test(name)) return undefined;
  const [kind, shopId, last, ...more] = name.split(":");
  if (!shopId || !last || more.length > 1) return undefined;
  if (kind === "notes") {
    const epoch = epochIn(more[0] ?? `${firstEpoch}`);
    return epoch === undefined ? undefined : { kind, shopId, pieceId: last, epoch };
  }
  const epoch = more.length === 0 ? epochIn(last) : undefined;
  return kind === "floor" && epoch !== undefined ? { kind, shopId, epoch } : undefined;
}

/** As it stands in the name of a room, or in the reason of a close. */
export const epochIn = (digits: string): number | undefined =>
  /^[1-9]\d{0,8}$/.test(digits) ? Number(digits) : undefined;

/** Presence: where a member is looking. The server adds who; anything more is dropped. */
export type Presence = { memberId: string; deviceId: string; lookingAt?: string };
