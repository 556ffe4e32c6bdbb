import { type Caution, cautionsFor } from "~/core/safety/cautions";
import { leadState } from "~/core/safety/lead";
import type { Family } from "~/core/shop/entities/products";
import type { Facts } from "~/core/shop/facts";
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
  const shop = facts.all("shop")[0];
  const lead = leadState(piece, facts.where("test", "pieceId", piece.id), shop?.leadBanYear ?? 1978, now);
  const open = tasks.filter((task) => task.sort !== "close-out");
  return cautionsFor({ methods: open.flatMap((task) => task.methods), families, leadState: lead });
}

export function familyOfSheet(facts: Facts, sheetId: string | undefined): Family | undefined {
  const sheet = sheetId === undefined ? undefined : facts.get("sheet", sheetId);
  return sheet && facts.get("product", sheet.productId)?.family;
}
