import { weekReport } from "~/core/labour/week";
import type { Stage } from "~/core/shop/entities/pieces";
import { database } from "./db";
import { rowOf } from "./rows";
import { weekFacts } from "./week-facts";

/** Seconds worked on a piece since it came, per stage, without names. */
export async function hoursOfPiece(
  shopId: string,
  pieceId: string,
  now: number,
): Promise<{ seconds: number; stages: { stage: Stage; seconds: number }[] }> {
  const stored = await database().entry.findMany({
    where: { shopId, subjects: { array_contains: [{ pieceId }] } },
  });
  const entries = stored.map((entry) => rowOf("entry", entry));
  const facts = await weekFacts(shopId, entries);
  const everything = { fromAt: 0, toAt: Number.MAX_SAFE_INTEGER };
  const { pieceCells } = weekReport({ week: everything, entries, ...facts }, now);
  const mine = pieceCells.filter((cell) => cell.pieceId === pieceId);
  const byStage = new Map<Stage, number>();
  for (const { stage, seconds } of mine) byStage.set(stage, (byStage.get(stage) ?? 0) + seconds);
  return {
    seconds: mine.reduce((sum, cell) => sum + cell.seconds, 0),
    stages: [...byStage].map(([stage, seconds]) => ({ stage, seconds })),
  };
}
