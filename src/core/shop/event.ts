/**
 * An accepted intent becomes events; an event says what happened (`kind`, `about`) and which fields of which rows are
 * different since. `apply` is therefore the same few lines for every event, in the database, in the shared documents
 * and on the screens, and replaying the ledger cannot drift from the rows.
 */
import * as z from "zod/mini";
import { type TableName, tableNames } from "./tables";

const tableName = z.enum(tableNames as [TableName, ...TableName[]]);

/** Fields set; null takes an optional field away. */
const fieldsSet = z.record(z.string(), z.unknown());
export type FieldsSet = z.infer<typeof fieldsSet>;

export const change = z.union([
  z.object({
    table: tableName,
    id: z.string(),
    isNew: z.optional(z.literal(true)),
    set: fieldsSet,
    /** What the same fields held before, null where they were absent: kept where the intent may be taken back. */
    was: z.optional(fieldsSet),
  }),
  /** A row that was made by mistake and is no more: what made it stays in the ledger. */
  z.object({ table: tableName, id: z.string(), isGone: z.literal(true) }),
  /** The rows of one import, in columns: instants, tenths of °C, tenths of % RH. Their ids follow from the import's. */
  z.object({
    table: z.literal("reading"),
    importId: z.string(),
    roomId: z.string(),
    at: z.array(z.number()),
    airTenths: z.array(z.number()),
    humidityTenths: z.array(z.number()),
  }),
  /** The same fields on every row of one import. */
  z.object({ table: z.literal("reading"), ofImport: z.string(), set: fieldsSet }),
]);
export type Change = z.infer<typeof change>;

export const shopEvent = z.object({
  kind: z.string(),
  pieceId: z.optional(z.string()),
  memberId: z.optional(z.string()),
  /** The intent whose events these undo. */
  takesBack: z.optional(z.object({ intentId: z.string(), kind: z.string() })),
  changes: z.array(change),
});
export type ShopEvent = z.infer<typeof shopEvent>;
