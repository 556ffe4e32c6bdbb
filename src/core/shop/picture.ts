import type { Picture } from "../cure/picture";
import type { InstantMs } from "../units";
import type { PieceId } from "./entities/ids";
import type { Facts } from "./facts";

const byIdOfRows = new WeakMap<readonly { id: string }[], ReadonlyMap<string, { id: string }>>();

/** A table by id, once for all pieces: facts that have not changed answer with the same list. */
function byId<One extends { id: string }>(rows: readonly One[]): ReadonlyMap<string, One> {
  const known = byIdOfRows.get(rows) ?? new Map(rows.map((row) => [row.id, row]));
  byIdOfRows.set(rows, known);
  return known as ReadonlyMap<string, One>;
}

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
    sheetById: byId(facts.all("sheet")),
    productById: byId(facts.all("product")),
    canById: byId(facts.all("can")),
    mixById: byId(facts.all("mix")),
    roomById: byId(facts.all("room")),
    airByRoomId: new Map([...roomIds].map((id) => [id, facts.air(id, fromAt)])),
    checkpointByCoatId: facts.checkpoints(),
  };
}
