/**
 * What must not be left when the last one goes: rags that heat up, finish to be wiped back, flames, clocks that run on.
 * It lists what the shop knows of; a look around the rooms finds what it does not, and the local fire code goes first.
 */
import type { closingPoints } from "../shop/entities/work";
import type { Facts } from "../shop/facts";
import type { Coat, Room, Task, TimeEntry } from "../shop/tables";
import { hourMs, type InstantMs } from "../units";
import { type ColdJoint, coldJoints } from "./cold-glue";
import { isFlammable } from "./ignition";

export type ClosingPoint = (typeof closingPoints)[number];

/** Vapour of a fresh coat may hang in a room for so long. On the long side of common practice; the data sheet decides. */
const vapourStaysMs = 24 * hourMs;

export type StillOpen = {
  /** Rags of an oil that are not put away: nothing passes them. */
  rags: Task[];
  wipes: Coat[];
  /** Rooms that have a flame or a heater that burns: somebody must look. */
  flameRooms: Room[];
  /** Of those, rooms where vapour that burns may hang: nothing passes a flame left in them. */
  vapourRooms: Room[];
  coldGlue: ColdJoint[];
  timers: TimeEntry[];
};

const isOpenAt = (task: Task, at: InstantMs): boolean =>
  task.state === "open" || task.state === "held" || (task.finished !== undefined && task.finished.at > at);

/** What is open in the whole shop at an instant, from what the facts tell of it. */
export function stillOpen(facts: Facts, at: InstantMs): StillOpen {
  const isHere = (pieceId: string | undefined) =>
    pieceId === undefined || facts.get("piece", pieceId)?.archivedAt === undefined;
  const laid = facts.all("coat").filter((coat) => coat.applied && coat.applied.endedAt <= at && isHere(coat.pieceId));
  const flameRooms = facts.all("room").filter((room) => room.hasOpenFlame && room.closedAt === undefined);
  return {
    rags: facts.all("task").filter((task) => task.sort === "close-out" && isOpenAt(task, at) && isHere(task.pieceId)),
    wipes: laid.filter((coat) => isToWipe(facts, coat, laid, at)),
    flameRooms,
    vapourRooms: flameRooms.filter((room) => laid.some((coat) => hangsIn(facts, coat, room, at))),
    coldGlue: coldJoints(facts, at),
    timers: facts.running().filter((entry) => entry.startedAt <= at && entry.struckAt === undefined),
  };
}

/** Its sheet asks for wiping back, nobody has, and no later coat covers it. */
function isToWipe(facts: Facts, coat: Coat, laid: readonly Coat[], at: InstantMs): boolean {
  if (facts.get("sheet", coat.sheetId)?.wipeFromMin === undefined) return false;
  if (coat.removed !== undefined || (coat.wiped !== undefined && coat.wiped.at <= at)) return false;
  return !laid.some(
    (other) =>
      other.surfaceId === coat.surfaceId &&
      other.removed === undefined &&
      (other.applied?.startedAt ?? 0) > (coat.applied?.endedAt ?? 0),
  );
}

function hangsIn(facts: Facts, coat: Coat, room: Room, at: InstantMs): boolean {
  const sheet = facts.get("sheet", coat.sheetId);
  const product = sheet && facts.get("product", sheet.productId);
  if (!product || coat.applied?.roomId !== room.id) return false;
  return at - coat.applied.endedAt <= vapourStaysMs && isFlammable(product.family, sheet.solvent);
}

/** Points of which something is open, beyond the rags, which are never left: what a reason must be given for. */
export const leftPoints = (open: StillOpen): ClosingPoint[] => [
  ...(open.wipes.length > 0 ? (["wipes"] as const) : []),
  ...(open.coldGlue.length > 0 ? (["cold-glue"] as const) : []),
  ...(open.timers.length > 0 ? (["timers"] as const) : []),
];
