import * as z from "zod/mini";
import type { Flavour } from "../../units";

/** UUIDs: version 7 made by the device that makes the thing, version 8 for what a rule makes by itself. */
const uuid = /^[0-9a-f]{8}-[0-9a-f]{4}-[78][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
export const idOf = <Name extends string>() =>
  z.string().check(z.regex(uuid)) as unknown as z.ZodMiniType<Flavour<string, Name>, Flavour<string, Name>>;

export const shopId = idOf<"shop">();
export const memberId = idOf<"member">();
export const boardId = idOf<"board">();
export const roomId = idOf<"room">();
export const pieceId = idOf<"piece">();
export const surfaceId = idOf<"surface">();
export const pairId = idOf<"pair">();
export const productId = idOf<"product">();
export const sheetId = idOf<"sheet">();
export const coatId = idOf<"coat">();
export const taskId = idOf<"task">();
export const claimId = idOf<"claim">();
export const entryId = idOf<"entry">();
export const jointId = idOf<"joint">();
export const canId = idOf<"can">();
export const mixId = idOf<"mix">();
export const testId = idOf<"test">();
export const intentId = idOf<"intent">();

export type ShopId = z.infer<typeof shopId>;
export type MemberId = z.infer<typeof memberId>;
export type PieceId = z.infer<typeof pieceId>;
export type SurfaceId = z.infer<typeof surfaceId>;
export type RoomId = z.infer<typeof roomId>;
export type CoatId = z.infer<typeof coatId>;
export type IntentId = z.infer<typeof intentId>;
