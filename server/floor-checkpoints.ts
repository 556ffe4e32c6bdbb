import { checkpointOf } from "~/core/cure/checkpoint";
import type { LaidCoat } from "~/core/cure/picture";
import type { Need } from "~/core/shop/facts";
import { pictureOf } from "~/core/shop/picture";
import type { InstantMs } from "~/core/units";
import type { Transaction } from "~/data/db";
import { loadNeeds } from "~/data/load";
import { LoadedFacts } from "~/data/loaded-facts";
import { findRows } from "~/data/rows";
import type { FloorEntry } from "./floor-document";

const sharedNeeds: Need[] = (["shop", "member", "room", "sheet", "product", "can", "mix"] as const).map((table) => ({
  table,
  all: true,
}));
const pieceTables = ["surface", "pair", "coat", "joint", "test", "confirmation", "word", "roomStay"] as const;

/**
 * What the films of these pieces that went on before the window had earned at its start, so that a device answers like
 * the server without the readings before it. A film that was taken off by then has no future.
 *
 * @param fromAt start of the window
 */
export async function checkpointsOf(
  tx: Transaction,
  { shopId, pieceIds, fromAt, now }: { shopId: string; pieceIds: readonly string[]; fromAt: InstantMs; now: InstantMs },
): Promise<FloorEntry[]> {
  const found = await findRows(tx, "coat", { shopId, pieceId: { in: [...pieceIds] } });
  const older = found
    .map(({ row }) => row)
    .filter((coat): coat is LaidCoat => coat.applied !== undefined && coat.applied.endedAt < fromAt)
    .filter((coat) => coat.state !== "struck" && !(coat.removed && coat.removed.at <= fromAt));
  if (older.length === 0) return [];
  const facts = await factsOf(tx, shopId, older);
  return older.flatMap((coat) => {
    const picture = pictureOf(facts, coat.pieceId);
    return picture ? [{ part: "checkpoint", key: coat.id, value: checkpointOf(picture, coat, fromAt, now) }] : [];
  });
}

async function factsOf(tx: Transaction, shopId: string, coats: readonly LaidCoat[]): Promise<LoadedFacts> {
  const facts = new LoadedFacts();
  const ofPieces = [...new Set(coats.map(({ pieceId }) => pieceId))].flatMap((pieceId): Need[] => [
    { table: "piece", id: pieceId },
    ...pieceTables.map((table): Need => ({ table, field: "pieceId", value: pieceId })),
  ]);
  await loadNeeds(tx, shopId, [...sharedNeeds, ...ofPieces], facts);
  // a piece's picture starts with the first that happened to it, which may be older than the coats asked about
  const joints = facts.memory.all("joint");
  const begun = [
    ...facts.memory.all("coat").map((coat) => coat.applied?.endedAt),
    ...joints.map(({ gluedAt }) => gluedAt),
    ...facts.memory.all("surface").map(({ lastWaterAt }) => lastWaterAt),
  ].filter((at) => at !== undefined);
  const roomIds = new Set([...facts.memory.all("roomStay"), ...joints].map(({ roomId }) => roomId));
  const air = [...roomIds].map((roomId): Need => ({ readingsOf: roomId, fromAt: Math.min(...begun) }));
  await loadNeeds(tx, shopId, air, facts);
  return facts;
}
