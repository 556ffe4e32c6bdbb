import { type Caution, cautionsFor } from "~/core/safety/cautions";
import { leadState } from "~/core/safety/lead";
import { nobodySaidBanYear } from "~/core/safety/lead-limits";
import type { Family } from "~/core/shop/entities/products";
import type { Facts } from "~/core/shop/facts";
import type { Piece, Task } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import type { Outlook } from "~/ui/floor/outlook";

/** What to be careful about in the work that is open on a piece and in the coats still to come. */
export function pieceCautions(
  facts: Facts,
  { piece, tasks }: Pick<Outlook, "piece" | "tasks">,
  now: InstantMs,
): Caution[] {
  const families = facts
    .where("coat", "pieceId", piece.id)
    .filter((coat) => coat.state === "planned")
    .flatMap((coat) => familyOfSheet(facts, coat.sheetId) ?? []);
  const open = tasks.filter((task) => task.sort !== "close-out");
  return cautionsFor({
    methods: open.flatMap((task) => task.methods),
    families,
    leadState: leadOf(facts, piece, now),
    isOldFinish: open.some((task) => isOnOldFinish(facts, task)),
  });
}

/** The same for one task, where somebody is about to begin it. Telling the buyer belongs to the sale. */
export function taskCautions(facts: Facts, task: Task, now: InstantMs): Caution[] {
  const piece = task.pieceId ? facts.get("piece", task.pieceId) : undefined;
  if (task.methods.length === 0) return [];
  const cautions = cautionsFor({
    methods: task.methods,
    families: [],
    leadState: piece ? leadOf(facts, piece, now) : "not-painted",
    isOldFinish: isOnOldFinish(facts, task),
  });
  return cautions.filter(({ id }) => id !== "tell-the-buyer");
}

const leadOf = (facts: Facts, piece: Piece, now: InstantMs) =>
  leadState(
    piece,
    facts.where("test", "pieceId", piece.id),
    facts.all("shop")[0]?.leadBanYear ?? nobodySaidBanYear,
    now,
  );

/** The surfaces of a task, or all of the piece where nobody said which. */
function isOnOldFinish(facts: Facts, task: Task): boolean {
  if (!task.pieceId) return false;
  const surfaces = facts.where("surface", "pieceId", task.pieceId);
  const worked = task.surfaceIds.length === 0 ? surfaces : surfaces.filter(({ id }) => task.surfaceIds.includes(id));
  return worked.some(({ substrate }) => substrate === "old-finish" || substrate === "painted");
}

export function familyOfSheet(facts: Facts, sheetId: string | undefined): Family | undefined {
  const sheet = sheetId === undefined ? undefined : facts.get("sheet", sheetId);
  return sheet && facts.get("product", sheet.productId)?.family;
}
