import * as z from "zod/mini";
import { dayStartAt, shopDayAt } from "../../calendar";
import type { ShopDay } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, type Ruling, refused } from "../define";
import { canId } from "../entities/ids";
import { canRow } from "../entities/products";
import type { Need } from "../facts";
import type { Refusal } from "../refusal";
import { floorHands } from "../roles";
import type { Can } from "../tables";

const { shape } = canRow;

const canReads = (body: { canId: string }): Need[] => [{ table: "can", id: body.canId }];

/** Nobody opens a can tomorrow. */
const openedLater = (c: Context<unknown>, openedOn: ShopDay | undefined): Refusal | undefined => {
  if (openedOn === undefined || openedOn <= shopDayAt(c.when.madeAt, c.shop.zone)) return undefined;
  return { kind: "in-the-future", happenedAt: dayStartAt(openedOn, c.shop.zone), latestAt: c.when.madeAt };
};

/** A can that is empty is over. */
const canInUse = (c: Context<{ canId: string }>): Can | Ruling => {
  const can = c.facts.get("can", c.body.canId);
  return can && can.emptiedAt === undefined ? can : refused({ kind: "unknown-thing", field: "canId" });
};

const changeCan = (c: Context<unknown>, kind: string, can: Can, set: Parameters<typeof changed<"can">>[2]) =>
  accepted({ kind, memberId: c.by.id, changes: [changed("can", can.id, set)] });

export const addCan = defineIntent({
  kind: "add-can",
  sort: "report",
  who: floorHands,
  body: z.object({
    canId,
    productId: shape.productId,
    label: shape.label,
    filledMillilitres: shape.filledMillilitres,
    openedOn: shape.openedOn,
    isLabelled: shape.isLabelled,
  }),
  reads: (body) => [{ table: "product", id: body.productId }, ...canReads(body)],
  judge: (c) => {
    const { canId: id, ...fields } = c.body;
    if (!c.facts.get("product", fields.productId)) return refused({ kind: "unknown-thing", field: "productId" });
    if (c.facts.get("can", id)) return alreadySo();
    const later = openedLater(c, fields.openedOn);
    if (later) return refused(later);
    return accepted({ kind: "can-added", memberId: c.by.id, changes: [made("can", { id, ...fields })] });
  },
});

export const openCan = defineIntent({
  kind: "open-can",
  sort: "report",
  who: floorHands,
  /** Left out, the day on which it happened; given, any earlier day, which the lid says. */
  body: z.object({ canId, openedOn: shape.openedOn }),
  reads: canReads,
  judge: (c) => {
    const can = canInUse(c);
    if ("verdict" in can) return can;
    const openedOn = c.body.openedOn ?? shopDayAt(c.when.happenedAt, c.shop.zone);
    const later = openedLater(c, openedOn);
    if (later) return refused(later);
    // air got in on the first of the days that anybody names
    if (can.openedOn !== undefined && can.openedOn <= openedOn) return alreadySo();
    return changeCan(c, "can-opened", can, { openedOn });
  },
});

export const countCan = defineIntent({
  kind: "count-can",
  sort: "report",
  who: floorHands,
  body: z.object({ canId, millilitres: z.number().check(z.int(), z.gte(0), z.lte(100_000)) }),
  reads: canReads,
  judge: (c) => {
    const can = canInUse(c);
    if ("verdict" in can) return can;
    const at = c.when.happenedAt;
    if (can.counted && can.counted.at >= at) return alreadySo();
    return changeCan(c, "can-counted", can, { counted: { at, millilitres: c.body.millilitres } });
  },
});

export const emptyCan = defineIntent({
  kind: "empty-can",
  sort: "report",
  who: floorHands,
  body: z.object({ canId }),
  reads: canReads,
  judge: (c) => {
    const can = c.facts.get("can", c.body.canId);
    if (!can) return refused({ kind: "unknown-thing", field: "canId" });
    if (can.emptiedAt !== undefined) return alreadySo();
    return changeCan(c, "can-emptied", can, { emptiedAt: c.when.happenedAt });
  },
});
