import * as z from "zod/mini";
import { shopDayAt } from "../../calendar";
import type { InstantMs } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { mixId } from "../entities/ids";
import { mixRow } from "../entities/products";
import type { Change } from "../event";
import type { Refusal } from "../refusal";
import { floorHands } from "../roles";
import type { Can, Mix } from "../tables";

const { shape } = mixRow;

const mixBody = z.object({
  mixId,
  sheetId: shape.sheetId,
  canIds: shape.canIds,
  millilitres: shape.millilitres,
  hardenerMillilitres: shape.hardenerMillilitres,
  thinnerMillilitres: shape.thinnerMillilitres,
  roomId: shape.roomId,
});

/** Paint that is taken from a can has opened it. */
export const opensCans = (cans: readonly Can[], at: InstantMs, zone: string): Change[] =>
  cans
    .filter((can) => can.openedOn === undefined)
    .map((can) => changed("can", can.id, { openedOn: shopDayAt(at, zone) }));

/**
 * The cans that are named, all of them of one product and none of them empty.
 *
 * @returns nothing where one of them is not
 */
export const cansOf = (
  canIds: readonly string[],
  productId: string,
  canById: (id: string) => Can | undefined,
): Can[] | undefined => {
  const cans = canIds.map(canById).filter((can) => can?.productId === productId && can.emptiedAt === undefined);
  return cans.length === canIds.length ? (cans as Can[]) : undefined;
};

const partsRefusal = (c: Context<z.infer<typeof mixBody>>): Refusal | undefined => {
  const { millilitres, hardenerMillilitres = 0, thinnerMillilitres = 0 } = c.body;
  const added = hardenerMillilitres + thinnerMillilitres;
  return added < millilitres
    ? undefined
    : { kind: "out-of-bounds", field: "millilitres", found: millilitres, min: added + 1, unit: "ml" };
};

export const logMix = defineIntent({
  kind: "log-mix",
  sort: "report",
  who: floorHands,
  carriesTime: true,
  body: mixBody,
  reads: (body) => [
    { table: "mix", id: body.mixId },
    { table: "sheet", id: body.sheetId },
    { table: "room", id: body.roomId },
    ...body.canIds.map((id) => ({ table: "can" as const, id })),
  ],
  judge: (c) => {
    const { mixId: id, ...fields } = c.body;
    const sheet = c.facts.get("sheet", fields.sheetId);
    if (!sheet) return refused({ kind: "unknown-thing", field: "sheetId" });
    const room = c.facts.get("room", fields.roomId);
    if (!room || room.closedAt !== undefined) return refused({ kind: "unknown-thing", field: "roomId" });
    if (c.facts.get("mix", id)) return alreadySo();
    const cans = cansOf([...new Set(fields.canIds)], sheet.productId, (canId) => c.facts.get("can", canId));
    if (!cans) return refused({ kind: "unknown-thing", field: "canIds" });
    const wrong = partsRefusal(c);
    if (wrong) return refused(wrong);
    const mixedAt = c.when.happenedAt;
    const mix: Mix = { id, ...fields, canIds: cans.map((can) => can.id), mixedAt, by: c.by.id };
    const changes = [made("mix", mix), ...opensCans(cans, mixedAt, c.shop.zone)];
    return accepted({ kind: "mix-logged", memberId: c.by.id, changes });
  },
});
