import type { Picture } from "../cure/picture";
import type { InstantMs } from "../units";
import type { PieceId } from "./entities/ids";
import type { Facts } from "./facts";

/** Everything about a piece that a gate rests on, drawn from the facts; undefined when there is no such piece. */
export function pictureOf(facts: Facts, pieceId: PieceId): Picture | undefined {
  const piece = facts.get("piece", pieceId);
  const shop = facts.all("shop")[0];
  if (!piece || !shop) return undefined;
  const coats = facts.where("coat", "pieceId", pieceId);
  const stays = facts.where("roomStay", "pieceId", pieceId);
  const fromAt = coats
    .map((coat) => coat.applied?.endedAt)
    .reduce<InstantMs>(
      (earliest, at) => (at === undefined ? earliest : Math.min(earliest, at)),
      Number.MAX_SAFE_INTEGER,
    );
  return {
    shop,
    piece,
    surfaces: facts.where("surface", "pieceId", pieceId),
    pairs: facts.where("pair", "pieceId", pieceId),
    coats,
    tests: facts.where("test", "pieceId", pieceId),
    stays,
    members: facts.all("member"),
    sheetById: new Map(facts.all("sheet").map((sheet) => [sheet.id, sheet])),
    productById: new Map(facts.all("product").map((product) => [product.id, product])),
    roomById: new Map(facts.all("room").map((room) => [room.id, room])),
    airByRoomId: new Map([...new Set(stays.map((stay) => stay.roomId))].map((id) => [id, facts.air(id, fromAt)])),
    checkpointByCoatId: facts.checkpoints(),
  };
}
