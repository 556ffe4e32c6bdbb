/**
 * The id of something that a rule makes by itself (a close-out task, an inspection): the same on every device and at
 * every replay, because it follows from the intent's id and an ordinal. A UUID of version 8 (RFC 9562, 5.8).
 *
 * @param intentId UUID of version 7
 * @param ordinal 0 to 2³² − 1
 * @example derivedId("01900000-0000-7000-8000-000000000000", 1) // "01900000-0000-8000-8000-000000000001"
 */
export function derivedId(intentId: string, ordinal: number): string {
  // the first 20 hex digits are the time and the chance of the version 7; the ordinal is mixed into the last 8,
  // an involution, so two ordinals never meet
  const last = (Number.parseInt(intentId.slice(28), 16) ^ ordinal) >>> 0;
  return `${intentId.slice(0, 14)}8${intentId.slice(15, 28)}${last.toString(16).padStart(8, "0")}`;
}
