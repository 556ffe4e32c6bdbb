import type { RoomAir } from "../climate/history";
import type {
  Coat,
  ContactPair,
  HandTest,
  Member,
  Piece,
  Product,
  Room,
  RoomStay,
  Sheet,
  Shop,
  Surface,
} from "../shop/tables";
import type { InstantMs } from "../units";

/** What a film had earned by an instant, for devices that carry only the readings since then. */
export type Checkpoint = {
  at: InstantMs;
  safeMin: number;
  /** As safe, without what was earned past a last reading that is too old by now. */
  promiseMin: number;
  likelyMin: number;
  fastMin: number;
  /** As safe, with time in away rooms counted as those rooms are stated to be: what *use* goes by. */
  useMin: number;
};

/** Everything that the gates of one piece rest on. Rows that came after the instant of asking are ignored. */
export type Picture = {
  shop: Pick<Shop, "helperTestOpens" | "leadBanYear">;
  piece: Piece;
  surfaces: readonly Surface[];
  pairs: readonly ContactPair[];
  coats: readonly Coat[];
  tests: readonly HandTest[];
  stays: readonly RoomStay[];
  members: readonly Member[];
  sheetById: ReadonlyMap<string, Sheet>;
  productById: ReadonlyMap<string, Product>;
  roomById: ReadonlyMap<string, Room>;
  airByRoomId: ReadonlyMap<string, RoomAir>;
  checkpointByCoatId?: ReadonlyMap<string, Checkpoint>;
};

export type LaidCoat = Coat & { applied: NonNullable<Coat["applied"]> };

const found = <Value>(value: Value | undefined, what: string): Value => {
  if (value === undefined) throw new Error(`the picture of a piece lacks ${what}`);
  return value;
};

export const sheetOf = (picture: Picture, sheetId: string): Sheet =>
  found(picture.sheetById.get(sheetId), `sheet ${sheetId}`);

export const familyOf = (picture: Picture, sheet: Sheet) =>
  found(picture.productById.get(sheet.productId), `product ${sheet.productId}`).family;

/**
 * The coats that lie on a surface at an instant, in the order in which they went on: what was removed by then, or went on
 * later, is not there.
 */
export const filmOn = (picture: Picture, surfaceId: string, at: InstantMs): LaidCoat[] =>
  picture.coats
    .filter(
      (coat): coat is LaidCoat =>
        coat.surfaceId === surfaceId &&
        coat.state !== "struck" &&
        coat.applied !== undefined &&
        coat.applied.startedAt <= at &&
        !(coat.removed !== undefined && coat.removed.at <= at),
    )
    .sort((one, other) => one.applied.endedAt - other.applied.endedAt || one.position - other.position);

/** Where the piece stood from when to when, as known at an instant: the stay that is open then has no end. */
export const staysKnownAt = (picture: Picture, pieceId: string, at: InstantMs) => {
  const stays = picture.stays
    .filter((stay) => stay.pieceId === pieceId && stay.fromAt <= at)
    .sort((one, other) => one.fromAt - other.fromAt);
  return stays.map((stay, index) => {
    const ends = [stays[index + 1]?.fromAt, stay.toAt !== undefined && stay.toAt <= at ? stay.toAt : undefined];
    const toAt = Math.min(Number.POSITIVE_INFINITY, ...ends.filter((end) => end !== undefined));
    return { roomId: stay.roomId, fromAt: stay.fromAt, toAt };
  });
};

/** The room in which the piece stands at an instant; nothing once it is gone. */
export const roomIdAt = (picture: Picture, at: InstantMs): string | undefined => {
  const stay = staysKnownAt(picture, picture.piece.id, at).at(-1);
  return stay && stay.toAt > at ? stay.roomId : undefined;
};
