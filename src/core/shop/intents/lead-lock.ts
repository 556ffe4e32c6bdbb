import { leadState, methodLock } from "../../safety/lead";
import type { Context } from "../define";
import type { RefusalOf } from "../refusal";
import type { Task } from "../tables";

/** Old paint that may hold lead is not sanded dry or heated: the refusal of a task whose method would raise its dust. */
export function leadLock(
  c: Pick<Context<unknown>, "facts" | "shop" | "when">,
  task: Task,
): RefusalOf<"lead-locked"> | undefined {
  const piece = task.pieceId ? c.facts.get("piece", task.pieceId) : undefined;
  if (!piece) return undefined;
  const banYear = c.shop.leadBanYear;
  const state = leadState(piece, c.facts.where("test", "pieceId", piece.id), banYear, c.when.recordedAt);
  const methods = task.methods.filter((method) => methodLock(state, method) === "locked");
  if (methods.length === 0) return undefined;
  return { kind: "lead-locked", leadState: state, methods, banYear, subjectIds: [piece.id] };
}
