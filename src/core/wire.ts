/**
 * What both ends of the socket must agree on. The frames are those of the y-websocket protocol (sync 0, awareness 1);
 * one binary message carries one frame.
 *
 * Rooms: `floor:<shopId>:<epoch>` is written by the server alone; `notes:<shopId>:<pieceId>` by members who may edit.
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

export const floorRoom = (shopId: string, epoch: number): string => `floor:${shopId}:${epoch}`;
export const notesRoom = (shopId: string, pieceId: string): string => `notes:${shopId}:${pieceId}`;

export type RoomAddress =
  | { kind: "floor"; shopId: string; epoch: number }
  | { kind: "notes"; shopId: string; pieceId: string };

export function parseRoom(name: string): RoomAddress | undefined {
  if (!roomName.test(name)) return undefined;
  const [kind, shopId, last, ...more] = name.split(":");
  if (!shopId || !last || more.length > 0) return undefined;
  if (kind === "notes") return { kind, shopId, pieceId: last };
  const epoch = Number(last);
  return kind === "floor" && Number.isSafeInteger(epoch) && epoch >= 1 ? { kind, shopId, epoch } : undefined;
}

/** Presence: where a member is looking. The server adds who; anything more is dropped. */
export type Presence = { memberId: string; deviceId: string; lookingAt?: string };

export const limits = {
  frameBytes: 1 << 20,
  updateBytes: 64 * 1024,
  notesCharacters: 100_000,
  presenceBytes: 1024,
  /** A slow reader is dropped and syncs anew, which is cheaper than its backlog. */
  backlogBytes: 4 << 20,
  socketsPerSession: 8,
} as const;
