/** Field changes that can be turned round: with what was there before, and into the events that bring it back. */
import type { Change, FieldsSet, ShopEvent } from "./event";
import type { Facts } from "./facts";
import type { PastEntry } from "./past";

type FieldChange = Extract<Change, { set: FieldsSet; id: string }>;
const isFieldChange = (change: Change): change is FieldChange => "set" in change && "id" in change;

/** The same event, each changed field with what it held before. */
export const withOldValues = (facts: Pick<Facts, "get">, event: ShopEvent): ShopEvent => ({
  ...event,
  changes: event.changes.map((change): Change => {
    if (!isFieldChange(change) || change.isNew) return change;
    const before = (facts.get(change.table, change.id) ?? {}) as FieldsSet;
    const fields = Object.keys(change.set);
    return { ...change, was: Object.fromEntries(fields.map((field) => [field, before[field] ?? null])) };
  }),
});

/** Can every change be turned round? An entry from before old values were kept cannot. */
export const isReversible = ({ events }: Pick<PastEntry, "events">): boolean =>
  events.every(({ changes }) => changes.every((change) => isFieldChange(change) && (change.isNew || change.was)));

/**
 * The events that leave every row as it was before an entry: changed fields get their old values, rows that it made are
 * gone. The last event is turned round first. Both stay in the ledger.
 */
export const undoing = ({ intentId, kind, events }: PastEntry, memberId: string): ShopEvent[] =>
  [...events].reverse().map(({ pieceId, changes }) => ({
    kind: "taken-back",
    ...(pieceId === undefined ? {} : { pieceId }),
    memberId,
    takesBack: { intentId, kind },
    changes: changes.filter(isFieldChange).map(turnedRound),
  }));

const turnedRound = ({ table, id, isNew, was = {} }: FieldChange): Change =>
  isNew ? { table, id, isGone: true } : { table, id, set: was };
