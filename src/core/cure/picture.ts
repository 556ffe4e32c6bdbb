import type { RoomAir } from "../climate/history";
import type {
  Can,
  Coat,
  Confirmation,
  ContactPair,
  HandTest,
  Joint,
  Member,
  Mix,
  Piece,
  Product,
  Room,
  RoomStay,
  Sheet,
  Shop,
  Surface,
  Word,
} from "../shop/tables";
import type { InstantMs } from "../units";
import type { Gate } from "./gate-answer";
import type { Standing } from "./milestone";
import type { Films } from "./progress";

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
  /** It went on while the coat below was still wet, and is one film with it. */
  wentOnWet?: true;
};

/** Everything that the gates of one piece rest on. Rows that came after the instant of asking are ignored. */
export type Picture = {
  shop: Pick<
    Shop,
    "zone" | "helperTestOpens" | "leadBanYear" | "swabSuffices" | "likelyCap" | "stressedClampMin" | "chalkGraceMin"
  >;
  piece: Piece;
  surfaces: readonly Surface[];
  pairs: readonly ContactPair[];
  coats: readonly Coat[];
  joints: readonly Joint[];
  tests: readonly HandTest[];
  confirmations: readonly Confirmation[];
  words: readonly Word[];
  stays: readonly RoomStay[];
  members: readonly Member[];
  sheetById: ReadonlyMap<string, Sheet>;
  productById: ReadonlyMap<string, Product>;
  canById: ReadonlyMap<string, Can>;
  mixById: ReadonlyMap<string, Mix>;
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

type Stay = { roomId: string; fromAt: InstantMs; toAt: InstantMs };

/** A picture as known at one instant, with what was asked of it so far. A picture never changes. */
export type Moment = {
  at: InstantMs;
  filmBySurfaceId: Map<string, LaidCoat[]>;
  staysByPieceId: Map<string, Stay[]>;
  films: { countsAway: Films; countsRead: Films };
  standingBySurfaceId: Map<string, Standing>;
  gateByQuestion: Map<string, Gate>;
};

const lastMomentByPicture = new WeakMap<Pick<Picture, "stays">, Moment>();

/** All that is asked of a picture at the same instant shares one moment. */
export const momentOf = (picture: Pick<Picture, "stays">, at: InstantMs): Moment => {
  const last = lastMomentByPicture.get(picture);
  if (last?.at === at) return last;
  const moment: Moment = {
    at,
    filmBySurfaceId: new Map(),
    staysByPieceId: new Map(),
    films: {
      countsAway: { asked: { at, countsAway: true }, byCoatId: new Map(), legsBySheetId: new Map() },
      countsRead: { asked: { at, countsAway: false }, byCoatId: new Map(), legsBySheetId: new Map() },
    },
    standingBySurfaceId: new Map(),
    gateByQuestion: new Map(),
  };
  lastMomentByPicture.set(picture, moment);
  return moment;
};

/** For a picture that differs from another in nothing on which any film rests: what was worked out stays good. */
export const shareMoment = (from: Picture, to: Picture): void => {
  const last = lastMomentByPicture.get(from);
  if (last) lastMomentByPicture.set(to, last);
};

const foundOn = (picture: Picture, surfaceId: string, at: InstantMs): LaidCoat[] =>
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

/**
 * The coats that lie on a surface at an instant, in the order in which they went on: what was removed by then, or went on
 * later, is not there.
 */
export const filmOn = (picture: Picture, surfaceId: string, at: InstantMs): readonly LaidCoat[] => {
  const { filmBySurfaceId } = momentOf(picture, at);
  const kept = filmBySurfaceId.get(surfaceId);
  if (kept) return kept;
  const found = foundOn(picture, surfaceId, at);
  filmBySurfaceId.set(surfaceId, found);
  return found;
};

const staysOf = (picture: Pick<Picture, "stays">, pieceId: string, at: InstantMs): Stay[] => {
  const stays = picture.stays
    .filter((stay) => stay.pieceId === pieceId && stay.fromAt <= at)
    .sort((one, other) => one.fromAt - other.fromAt);
  return stays.map((stay, index) => {
    const ends = [stays[index + 1]?.fromAt, stay.toAt !== undefined && stay.toAt <= at ? stay.toAt : undefined];
    const toAt = Math.min(Number.POSITIVE_INFINITY, ...ends.filter((end) => end !== undefined));
    return { roomId: stay.roomId, fromAt: stay.fromAt, toAt };
  });
};

/** Where the piece stood from when to when, as known at an instant: the stay that is open then has no end. */
export const staysKnownAt = (picture: Pick<Picture, "stays">, pieceId: string, at: InstantMs): readonly Stay[] => {
  const { staysByPieceId } = momentOf(picture, at);
  const kept = staysByPieceId.get(pieceId);
  if (kept) return kept;
  const stays = staysOf(picture, pieceId, at);
  staysByPieceId.set(pieceId, stays);
  return stays;
};

/** The room in which the piece stands at an instant; nothing once it is gone. */
export const roomIdAt = (picture: Picture, at: InstantMs): string | undefined => {
  const stay = staysKnownAt(picture, picture.piece.id, at).at(-1);
  return stay && stay.toAt > at ? stay.roomId : undefined;
};
