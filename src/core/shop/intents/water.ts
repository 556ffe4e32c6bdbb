import * as z from "zod/mini";
import type { InstantMs } from "../../units";
import { accepted, alreadySo, changed, defineIntent, refused } from "../define";
import { pieceId, surfaceId } from "../entities/ids";
import type { Role } from "../entities/people";
import type { Method } from "../entities/pieces";
import type { Change } from "../event";
import type { Facts } from "../facts";
import { floorHands } from "../roles";
import type { Surface, Task } from "../tables";

/** Work that leaves water in the wood; a stripper is washed off with it. */
const wetMethods: readonly Method[] = ["wash", "strip", "wet-sand"];

/** As far back as a finished task. */
const waterBackMin: Partial<Record<Role, number>> = { helper: 24 * 60, partner: 72 * 60, owner: 72 * 60 };

/** Surfaces that were wet at an instant; one that has been wet since stays as it is. */
export const wetted = (surfaces: readonly Surface[], at: InstantMs): Change[] =>
  surfaces
    .filter(({ lastWaterAt }) => lastWaterAt === undefined || lastWaterAt < at)
    .map((surface) => changed("surface", surface.id, { lastWaterAt: at }));

/** What a finished task has wetted: the surfaces that it names, or the whole piece. */
export const wettedByTask = (facts: Facts, task: Task, at: InstantMs): Change[] => {
  if (task.pieceId === undefined || !task.methods.some((method) => wetMethods.includes(method))) return [];
  const surfaces = facts.where("surface", "pieceId", task.pieceId);
  return wetted(
    task.surfaceIds.length === 0 ? surfaces : surfaces.filter(({ id }) => task.surfaceIds.includes(id)),
    at,
  );
};

/** Somebody washed it, or it stood in the rain: bare wood dries from here on. */
export const logWater = defineIntent({
  kind: "log-water",
  sort: "report",
  who: floorHands,
  oldestMin: waterBackMin,
  body: z.object({ pieceId, surfaceIds: z.array(surfaceId).check(z.minLength(1), z.maxLength(40)) }),
  reads: (body) => [
    { table: "piece", id: body.pieceId },
    { table: "surface", field: "pieceId", value: body.pieceId },
  ],
  judge: (c) => {
    const piece = c.facts.get("piece", c.body.pieceId);
    if (!piece) return refused({ kind: "unknown-thing", field: "pieceId" });
    const { happenedAt } = c.when;
    if (piece.archivedAt !== undefined && happenedAt >= piece.archivedAt)
      return refused({ kind: "after-it-left", thing: piece.number, happenedAt, leftAt: piece.archivedAt });
    const surfaces = c.facts.where("surface", "pieceId", piece.id);
    const named = surfaces.filter(({ id }) => c.body.surfaceIds.includes(id));
    if (named.length < new Set(c.body.surfaceIds).size) return refused({ kind: "unknown-thing", field: "surfaceIds" });
    const changes = wetted(named, happenedAt);
    if (changes.length === 0) return alreadySo();
    return accepted({ kind: "water-logged", pieceId: piece.id, memberId: c.by.id, changes });
  },
});
