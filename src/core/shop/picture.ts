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
  const joints = facts.where("joint", "pieceId", pieceId);
  const surfaces = facts.where("surface", "pieceId", pieceId);
  const roomIds = new Set([...stays, ...joints].map(({ roomId }) => roomId));
  const fromAt = [
    ...coats.map((coat) => coat.applied?.endedAt),
    ...joints.map((joint) => joint.gluedAt),
    ...surfaces.map((surface) => surface.lastWaterAt),
  ].reduce<InstantMs>(
    (earliest, at) => (at === undefined ? earliest : Math.min(earliest, at)),
    Number.MAX_SAFE_INTEGER,
  );
  return {
    shop,
    piece,
    surfaces,
    pairs: facts.where("pair", "pieceId", pieceId),
    coats,
    joints,
    tests: facts.where("test", "pieceId", pieceId),
    confirmations: facts.where("confirmation", "pieceId", pieceId),
    words: facts.where("word", "pieceId", pieceId),
    stays,
    members: facts.all("member"),
    sheetById: new Map(facts.all("sheet").map((sheet) => [sheet.id, sheet])),
    productById: new Map(facts.all("product").map((product) => [product.id, product])),
    canById: new Map(facts.all("can").map((can) => [can.id, can])),
    mixById: new Map(facts.all("mix").map((mix) => [mix.id, mix])),
    roomById: new Map(facts.all("room").map((room) => [room.id, room])),
    airByRoomId: new Map([...roomIds].map((id) => [id, facts.air(id, fromAt)])),
    checkpointByCoatId: facts.checkpoints(),
  };
}
