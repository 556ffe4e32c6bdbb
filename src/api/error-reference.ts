import { randomBytes } from "node:crypto";

/** Crockford's base 32: no letters that are taken for digits (https://www.crockford.com/base32.html). */
const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const length = 8;

const known = new WeakMap<object, string>();

const fresh = (): string => [...randomBytes(length)].map((byte) => letters[byte % letters.length]).join("");

/**
 * What a person can read out to whoever looks after the server, and finds the error in the log by. The same error has
 * the same reference, wherever it is asked for.
 */
export function referenceOf(error: unknown): string {
  if (typeof error !== "object" || error === null) return fresh();
  const reference = known.get(error) ?? fresh();
  known.set(error, reference);
  return reference;
}
