import type * as z from "zod/mini";
import { derivedId } from "./derived-id";
import type { Role } from "./entities/people";
import type { Change, ShopEvent } from "./event";
import type { Facts, Need } from "./facts";
import type { Intent, IntentSort } from "./intent";
import type { Moments } from "./moments";
import type { Refusal } from "./refusal";
import type { Member, Row, Shop, TableName } from "./tables";

/** A refusal may still leave something behind: the notice that tells the other person. */
export type Ruling =
  | { verdict: "accepted"; events: ShopEvent[] }
  | { verdict: "refused"; refusal: Refusal; events: ShopEvent[] };

/** What a rule is given: the facts that it declared, who asks and in which role, and when. */
export type Context<Body> = {
  facts: Facts;
  body: Body;
  intent: Intent;
  when: Moments;
  /** The ledger number that the intent will have if it is accepted. */
  seq: number;
  shop: Shop;
  by: Member;
  /** The role that counts for this sort of intent. */
  role: Role;
  /** Made before the end of the membership and delivered after it: counts only after a word of the owner. */
  isAfterTheEnd: boolean;
  /** What the same device delivers behind this intent: work on a task whose claim was lost while apart is still counted. */
  coming: readonly Intent[];
  /** An id for something that the rule makes by itself. */
  newId: (ordinal: number) => string;
};

export type IntentDefinition<Kind extends string = string, Body = unknown> = {
  kind: Kind;
  sort: IntentSort;
  who: readonly Role[];
  body: z.ZodMiniType<Body>;
  /** A claim or a report may be made on the shared tablet; words, plans and other takings may not. */
  onSharedTablet: boolean;
  /** Carries hours or coats: then a device whose clock was never measured must say when. */
  carriesTime: boolean;
  /** Made before the end of a membership, it still counts when it arrives after it, once the owner has said so. */
  outlivesMembership: boolean;
  /** Hours are never lost: those of somebody who did not know of the end count for a day longer, after a word. */
  carriesHours: boolean;
  /** How far back each role may write it, in minutes; a role left out is not limited. */
  oldestMin?: Partial<Record<Role, number>>;
  /** Called again with what has been loaded until it asks for nothing new. */
  reads: (body: Body, facts: Facts, intent: Intent) => Need[];
  judge: (context: Context<Body>) => Ruling;
};

/** Fills in what most intents share: reports may be made on the shared tablet. */
export const defineIntent = <const Kind extends string, Body>(
  definition: Omit<
    IntentDefinition<Kind, Body>,
    "onSharedTablet" | "carriesTime" | "carriesHours" | "outlivesMembership"
  > &
    Partial<Pick<IntentDefinition, "onSharedTablet" | "carriesTime" | "carriesHours" | "outlivesMembership">>,
): IntentDefinition<Kind, Body> => ({
  onSharedTablet: definition.sort === "report",
  carriesTime: false,
  carriesHours: false,
  outlivesMembership: definition.carriesHours ?? false,
  ...definition,
});

export const accepted = (...events: ShopEvent[]): Ruling => ({ verdict: "accepted", events });
/** Already so: accepted, and nothing happens. */
export const alreadySo = (): Ruling => ({ verdict: "accepted", events: [] });
export const refused = (refusal: Refusal, ...events: ShopEvent[]): Ruling => ({ verdict: "refused", refusal, events });

/** A new row. */
export const made = <Table extends TableName>(table: Table, row: Row<Table>): Change => {
  const { id, ...set } = row as { id: string };
  return { table, id, isNew: true, set };
};

/** Fields of a row that are different now; null takes an optional one away. */
export const changed = <Table extends TableName>(
  table: Table,
  id: string,
  set: { [Field in keyof Row<Table>]?: Row<Table>[Field] | null },
): Change => ({ table, id, set });

export const newIdOf = (intentId: string) => (ordinal: number) => derivedId(intentId, ordinal);
