/** What puts a finding of the schedule right, where that is one act: the intent that a key proposes. */

import { asLast, type ScheduleChange, withBarrier } from "~/core/coating/schedule-change";
import type { Finding, Mend } from "~/core/coating/schedule-findings";
import type { Family } from "~/core/shop/entities/products";
import type { Facts } from "~/core/shop/facts";
import type { Surface } from "~/core/shop/tables";
import { versionsOf } from "~/ui/shelf/shelf-view";

export type MendAct = { kind: "change-schedule" | "add-task"; body: unknown; words: string; said: string };

/** The first product on the shelf of these families, the better family first, with its newest sheet. */
const onShelf = (facts: Facts, families: readonly Family[]) => {
  const products = facts
    .all("product")
    .filter(({ family, retiredAt }) => retiredAt === undefined && families.includes(family))
    .sort(
      (one, other) =>
        families.indexOf(one.family) - families.indexOf(other.family) || one.name.localeCompare(other.name),
    );
  for (const product of products) {
    const [sheet] = versionsOf(facts, product.id);
    if (sheet) return { product, sheet };
  }
  return undefined;
};

const barrierReasons: Partial<Record<Finding["kind"], string>> = {
  bleed: "Something may bleed through.",
  "bleed-not-known": "It is not known whether it bleeds.",
  "clay-unsealed": "Clay takes water up.",
};

/**
 * The act behind a mend.
 *
 * @returns nothing where it takes more than one act, or the shelf has nothing for it
 */
export function mendAct(
  facts: Facts,
  surface: Surface,
  finding: Finding,
  mend: Mend,
  newId: () => string,
): MendAct | undefined {
  const coats = facts.where("coat", "pieceId", surface.pieceId).filter((coat) => coat.surfaceId === surface.id);
  const changed = (change: ScheduleChange | undefined, words: string, said: string): MendAct | undefined =>
    change && { kind: "change-schedule", body: { surfaceId: surface.id, ...change }, words, said };
  const task = (title: string, method: "dry-sand" | "mask", surfaceIds: string[], words: string): MendAct => {
    const body = { taskId: newId(), pieceId: surface.pieceId, title, sort: "other", methods: [method], surfaceIds };
    return { kind: "add-task", body, words, said: "On the board, free to take." };
  };
  switch (mend.mend) {
    case "insert-barrier": {
      const barrier = onShelf(facts, mend.families);
      if (!barrier) return undefined;
      const why = barrierReasons[finding.kind] ?? "What lies above does not hold to what lies below.";
      const change = withBarrier(coats, mend.belowCoatId, { sheetId: barrier.sheet.id, why, coats: mend.coats }, newId);
      const { name } = barrier.product;
      return changed(
        change,
        `Plan ${mend.coats > 1 ? `${mend.coats} coats of ` : ""}${name} below`,
        `${name} is planned below.`,
      );
    }
    case "add-scuff-task":
      return task(
        `Scuff between coats: ${surface.name}`.slice(0, 120),
        "dry-sand",
        [surface.id],
        "Add the scuff as work",
      );
    case "add-mask-task": {
      const names = mend.surfaceIds.flatMap((id) => facts.get("surface", id)?.name ?? []);
      return task(`Mask: ${names.join(", ")}`.slice(0, 120), "mask", mend.surfaceIds, "Add the masking as work");
    }
    case "strike":
      return changed({ strike: [mend.coatId], add: [] }, "Strike that coat", "Struck.");
    case "wax-last":
      return changed(asLast(coats, mend.coatId, newId), "Put the wax on last", "The wax goes on last.");
    default:
      return undefined;
  }
}
