/** Everything that an outlook rests on but the instant, and whether two of them say the same. */
import type { RoomAir } from "~/core/climate/history";
import type { Picture } from "~/core/cure/picture";
import type { Facts } from "~/core/shop/facts";
import type { Claim, Member, Piece, PromiseMade, Room, Shop, Task, TimeEntry } from "~/core/shop/tables";
import { isSameList } from "~/device/same-list";
import { pictureHere } from "./picture-here";

export type Ground = {
  piece: Piece;
  shop: Shop;
  members: readonly Member[];
  room: Room | undefined;
  /** Nothing when this device does not carry enough of the air to say. */
  picture: Picture | undefined;
  /** Work that is not done, as it was added. */
  tasks: Task[];
  /** Made and neither kept nor withdrawn; the next due first. */
  promises: PromiseMade[];
  claims: Claim[];
  /** Timers that run on the piece, or on work of it that is claimed. */
  timers: TimeEntry[];
};

export function groundOf(facts: Facts, piece: Piece, shop: Shop): Ground {
  const claims = facts.where("claim", "pieceId", piece.id).filter(({ endedAt }) => endedAt === undefined);
  const claimed = new Set(claims.map(({ taskId }) => taskId));
  return {
    piece,
    shop,
    members: facts.all("member"),
    room: facts.get("room", piece.roomId),
    picture: pictureHere(facts, piece.id),
    tasks: facts.where("task", "pieceId", piece.id).filter(({ state }) => state === "open" || state === "held"),
    promises: facts
      .where("promise", "pieceId", piece.id)
      .filter(({ state }) => state === "made")
      .sort((one, other) => one.dueAt - other.dueAt),
    claims,
    timers: facts
      .running()
      .filter(({ subjects }) =>
        subjects.some(({ pieceId, taskId }) => pieceId === piece.id || (taskId !== undefined && claimed.has(taskId))),
      ),
  };
}

/** Whether an outlook that was asked on one ground is the answer on another. */
export const isSameGround = (one: Ground, other: Ground): boolean =>
  one.piece === other.piece &&
  one.shop === other.shop &&
  one.room === other.room &&
  isSameList(one.members, other.members) &&
  isSameList(one.tasks, other.tasks) &&
  isSameList(one.promises, other.promises) &&
  isSameList(one.claims, other.claims) &&
  isSameList(one.timers, other.timers) &&
  isSamePicture(one, other);

function isSamePicture(one: Ground, other: Ground): boolean {
  const [before, after] = [one.picture, other.picture];
  if (!before || !after) return before === after;
  if (!hasSameRows(before, after)) return false;
  const isCoatPromised = one.promises.length > 0 && before.coats.some(({ state }) => state === "planned");
  return [...after.airByRoomId.values()].every((air) => {
    const known = before.airByRoomId.get(air.roomId);
    if (known === air) return true;
    // a promise waits for the planned coats, and they go on where the air is fit
    if (isCoatPromised && before.roomById.get(air.roomId)?.uses.includes("spray")) return false;
    return !hasStoodIn(before, air.roomId) || (known !== undefined && hadLeft(before, known, air));
  });
}

/** Neither what is left in a can nor the mixes of other pieces says anything about a film. */
const hasSameRows = (before: Picture, after: Picture): boolean =>
  isSameList(before.surfaces, after.surfaces) &&
  isSameList(before.pairs, after.pairs) &&
  isSameList(before.coats, after.coats) &&
  isSameList(before.joints, after.joints) &&
  isSameList(before.tests, after.tests) &&
  isSameList(before.confirmations, after.confirmations) &&
  isSameList(before.words, after.words) &&
  isSameList(before.stays, after.stays) &&
  isSameTable(before.sheetById, after.sheetById) &&
  isSameTable(before.productById, after.productById) &&
  isSameTable(before.roomById, after.roomById) &&
  before.coats.every(
    ({ id, applied }) =>
      before.checkpointByCoatId?.get(id) === after.checkpointByCoatId?.get(id) &&
      (applied?.mixId === undefined || before.mixById.get(applied.mixId) === after.mixById.get(applied.mixId)),
  );

const isSameTable = (one: ReadonlyMap<string, unknown>, other: ReadonlyMap<string, unknown>): boolean =>
  one === other || (one.size === other.size && [...one].every(([id, row]) => other.get(id) === row));

const hasStoodIn = ({ stays, joints }: Picture, roomId: string): boolean =>
  stays.some((stay) => stay.roomId === roomId) || joints.some((joint) => joint.roomId === roomId);

/** Whether a piece had left a room for good before anything new was read in it. */
function hadLeft({ stays, joints, surfaces }: Picture, known: RoomAir, air: RoomAir): boolean {
  const { endsAt } = known;
  return (
    endsAt !== undefined &&
    known.lineage === air.lineage &&
    joints.every((joint) => joint.roomId !== air.roomId) &&
    surfaces.every(({ lastWaterAt }) => lastWaterAt === undefined) &&
    stays.every(({ roomId, toAt }) => roomId !== air.roomId || (toAt !== undefined && toAt <= endsAt))
  );
}
