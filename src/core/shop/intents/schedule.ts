import * as z from "zod/mini";
import { coatsOutOfOrder } from "../../coating/schedule-order";
import { quantity } from "../../units";
import { accepted, alreadySo, changed, defineIntent, made, refused } from "../define";
import { coatRow } from "../entities/film";
import { coatId, sheetId, surfaceId } from "../entities/ids";
import type { ShopEvent } from "../event";
import type { Need } from "../facts";
import { partners } from "../roles";
import type { Coat } from "../tables";

const addedCoat = z.object({
  coatId,
  position: quantity("position"),
  sheetId,
  plannedWetFilmMicrometres: z.optional(quantity("wetFilmMicrometres")),
  barrierWhy: coatRow.shape.barrierWhy,
});

/** Plans coats and strikes planned ones, in one go. A coat that went on is told of by reports, not by plans. */
export const changeSchedule = defineIntent({
  kind: "change-schedule",
  sort: "plan",
  who: partners,
  body: z.object({
    surfaceId,
    add: z._default(z.array(addedCoat).check(z.maxLength(40)), []),
    strike: z._default(z.array(coatId).check(z.maxLength(40)), []),
  }),
  reads: (body, facts) => {
    const surface = facts.get("surface", body.surfaceId);
    return [
      { table: "surface", id: body.surfaceId },
      ...body.add.map((coat): Need => ({ table: "sheet", id: coat.sheetId })),
      ...(surface
        ? ([
            { table: "piece", id: surface.pieceId },
            { table: "coat", field: "pieceId", value: surface.pieceId },
          ] satisfies Need[])
        : []),
    ];
  },
  judge: (c) => {
    const surface = c.facts.get("surface", c.body.surfaceId);
    const piece = surface && c.facts.get("piece", surface.pieceId);
    if (!surface || !piece) return refused({ kind: "unknown-thing", field: "surfaceId" });
    if (piece.archivedAt !== undefined) {
      return refused({
        kind: "after-it-left",
        thing: piece.number,
        happenedAt: c.when.happenedAt,
        leftAt: piece.archivedAt,
      });
    }
    const coats = c.facts.where("coat", "pieceId", piece.id).filter((coat) => coat.surfaceId === surface.id);
    const struck: Coat[] = [];
    for (const id of new Set(c.body.strike)) {
      const coat = coats.find((other) => other.id === id);
      if (!coat) return refused({ kind: "unknown-thing", field: "strike" });
      if (coat.state === "planned") struck.push(coat);
      else if (coat.state !== "struck") return refused({ kind: "coat-is-over", coatId: id, state: coat.state });
    }
    if (c.body.add.some((coat) => !c.facts.get("sheet", coat.sheetId))) {
      return refused({ kind: "unknown-thing", field: "sheetId" });
    }
    const planned = c.body.add.map(
      ({ coatId: id, ...fields }): Coat => ({
        id,
        pieceId: piece.id,
        surfaceId: surface.id,
        state: "planned",
        ...fields,
      }),
    );
    const outOfOrder = coatsOutOfOrder([...coats.filter((coat) => !struck.includes(coat)), ...planned]);
    if (outOfOrder) return refused({ kind: "coat-out-of-order", coatIds: outOfOrder });
    const about = { pieceId: piece.id, memberId: c.by.id };
    const events: ShopEvent[] = [];
    if (struck.length > 0) {
      const changes = struck.map((coat) => changed("coat", coat.id, { state: "struck" }));
      events.push({ kind: "coats-struck", ...about, changes });
    }
    if (planned.length > 0)
      events.push({ kind: "coats-planned", ...about, changes: planned.map((coat) => made("coat", coat)) });
    return events.length > 0 ? accepted(...events) : alreadySo();
  },
});
