import * as z from "zod/mini";
import { genericSheet } from "../../coating/generic-sheets";
import { sheetInOrder } from "../../coating/sheet-order";
import { glueKinds } from "../../tables/glue-times";
import { accepted, alreadySo, changed, defineIntent, made, refused } from "../define";
import { productId, sheetId } from "../entities/ids";
import { wraps } from "../entities/pieces";
import { families, productRow, sheetRow } from "../entities/products";
import type { ShopEvent } from "../event";
import type { Facts, Need } from "../facts";
import type { Refusal } from "../refusal";
import { partners } from "../roles";
import type { Sheet } from "../tables";

const { shape } = sheetRow;

/** What a data sheet says; the version and where it comes from are the rule's to write. */
const sheetFields = z.extend(z.omit(sheetRow, { id: true, productId: true, version: true, origin: true }), {
  stackWith: shape.stackWith.check(z.maxLength(3)),
  wrap: shape.wrap.check(z.maxLength(wraps.length)),
  over: shape.over.check(z.maxLength(families.length)),
});
type SheetFields = z.infer<typeof sheetFields>;

const sheetFault = (sheet: SheetFields): Refusal | undefined => {
  const order = sheetInOrder(sheet);
  return order.ok ? undefined : order.refusal;
};

export const addProduct = defineIntent({
  kind: "add-product",
  sort: "plan",
  who: partners,
  body: z.object({
    productId,
    sheetId,
    name: productRow.shape.name,
    family: productRow.shape.family,
    colour: productRow.shape.colour,
    /** As on the can; left out, the generic type's. */
    sheet: z.optional(sheetFields),
    /** Which glue, where the generic figures are taken. */
    glueKind: z.optional(z.enum(glueKinds)),
  }),
  reads: () => [],
  judge: (c) => {
    const { productId: id, sheetId: firstSheetId, sheet: fromCan, glueKind, ...fields } = c.body;
    const fault = fromCan && sheetFault(fromCan);
    if (fault) return refused(fault);
    const events: ShopEvent[] = [
      { kind: "product-added", memberId: c.by.id, changes: [made("product", { id, ...fields })] },
    ];
    // strippers and thinners leave no film and have no sheet until one is typed
    const start = fromCan ? { ...fromCan, origin: "from-can" as const } : genericSheet(fields.family, glueKind);
    if (start) events.push(sheetAdded({ id: firstSheetId, productId: id, version: 1, ...start }, c.by.id));
    return accepted(...events);
  },
});

const sheetAdded = (sheet: Sheet, memberId: string): ShopEvent => ({
  kind: "sheet-version-added",
  memberId,
  changes: [made("sheet", sheet)],
});

const sheetNeeds = (body: { productId: string }): Need[] => [
  { table: "product", id: body.productId },
  { table: "sheet", field: "productId", value: body.productId },
];

/** A coat keeps the version that it went on under, so a new version never changes what has happened. */
const nextVersion = (facts: Facts, of: string): number =>
  1 + Math.max(0, ...facts.where("sheet", "productId", of).map((sheet) => sheet.version));

/** Takes over the figures of another product's sheet, or goes back to the generic type's. */
export const copySheet = defineIntent({
  kind: "copy-sheet",
  sort: "plan",
  who: partners,
  body: z.object({ productId, sheetId, fromSheetId: z.optional(sheetId), glueKind: z.optional(z.enum(glueKinds)) }),
  reads: (body) => [
    ...sheetNeeds(body),
    ...(body.fromSheetId ? [{ table: "sheet" as const, id: body.fromSheetId }] : []),
  ],
  judge: (c) => {
    const product = c.facts.get("product", c.body.productId);
    if (!product) return refused({ kind: "unknown-thing", field: "productId" });
    const { fromSheetId, glueKind } = c.body;
    const from = fromSheetId === undefined ? genericSheet(product.family, glueKind) : c.facts.get("sheet", fromSheetId);
    if (!from) return refused({ kind: "unknown-thing", field: "fromSheetId" });
    const version = nextVersion(c.facts, product.id);
    return accepted(sheetAdded({ ...from, id: c.body.sheetId, productId: product.id, version }, c.by.id));
  },
});

export const editSheet = defineIntent({
  kind: "edit-sheet",
  sort: "plan",
  who: partners,
  body: z.object({ productId, sheetId, sheet: sheetFields }),
  reads: sheetNeeds,
  judge: (c) => {
    const product = c.facts.get("product", c.body.productId);
    if (!product) return refused({ kind: "unknown-thing", field: "productId" });
    const fault = sheetFault(c.body.sheet);
    if (fault) return refused(fault);
    const version = nextVersion(c.facts, product.id);
    const sheet: Sheet = { id: c.body.sheetId, productId: product.id, version, origin: "from-can", ...c.body.sheet };
    return accepted(sheetAdded(sheet, c.by.id));
  },
});

export const retireProduct = defineIntent({
  kind: "retire-product",
  sort: "plan",
  who: partners,
  body: z.object({ productId }),
  reads: (body) => [{ table: "product", id: body.productId }],
  judge: (c) => {
    const product = c.facts.get("product", c.body.productId);
    if (!product) return refused({ kind: "unknown-thing", field: "productId" });
    if (product.retiredAt !== undefined) return alreadySo();
    return accepted({
      kind: "product-retired",
      memberId: c.by.id,
      changes: [changed("product", product.id, { retiredAt: c.when.recordedAt })],
    });
  },
});
