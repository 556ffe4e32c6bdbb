/** One field of a row as it was when the form was opened, and as it is wanted now. */
export type FieldEdit = { field: string; was: unknown; value: unknown };

const isSame = (one: unknown, other: unknown) => (one ?? undefined) === (other ?? undefined);

/** The fields that somebody changed in a form: each is sent by itself, so that two people may edit one piece at once. */
export const fieldEdits = (before: Record<string, unknown>, wanted: Record<string, unknown>): FieldEdit[] =>
  Object.entries(wanted)
    .filter(([field, value]) => !isSame(before[field], value))
    .map(([field, value]) => ({ field, was: before[field], value }));

/** Text as it is stored: trimmed, and nothing instead of empty. */
export const textOrNothing = (typed: string): string | undefined => (typed.trim() === "" ? undefined : typed.trim());

/** A figure as it is stored: an emptied field is nothing, never zero. */
export const figureOrNothing = (typed: number): number | undefined => (Number.isNaN(typed) ? undefined : typed);
