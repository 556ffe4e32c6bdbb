import * as z from "zod/mini";

/**
 * Control characters and the marks that turn the direction of the text around them: a name that carries them can make
 * a screen say something else; half a surrogate pair is no character at all. Source: Unicode TR36 (security considerations), TR9 (bidirectional algorithm).
 */
const hidden = /[\p{Cc}\p{Cs}\u061C\u200E\u200F\u202A-\u202E\u2066-\u2069]/u;

const codePoints = (text: string) => [...text].length;

/**
 * Text that a person wrote: NFC, trimmed, 1 to `max` code points, any script, emoji welcome.
 *
 * @param max most code points
 */
export const text = (max: number) =>
  z.pipe(
    z.string().check(
      // a bound in code units first, so that a megabyte is not normalised before it is refused
      z.maxLength(max * 8),
      z.refine((found) => !hidden.test(found.trim()), { error: "hidden-character" }),
    ),
    z.pipe(
      z.transform((found: string) => found.normalize("NFC").trim()),
      z.string().check(
        z.minLength(1),
        z.refine((found) => codePoints(found) <= max, { error: "too-long" }),
      ),
    ),
  );

/** Neither a database nor another program can keep a zero character, or half of a surrogate pair. */
const unstorable = /[\0\p{Cs}]/u;

/** Can all of this be written down and read back as it was? Walks without recursion, because the sender chose the depth. */
export function isStorable(value: unknown): boolean {
  const waiting: unknown[] = [value];
  for (let next = waiting.pop(); next !== undefined || waiting.length > 0; next = waiting.pop()) {
    if (typeof next === "string" && unstorable.test(next)) return false;
    if (typeof next !== "object" || next === null) continue;
    for (const [key, inner] of Object.entries(next)) waiting.push(key, inner);
  }
  return true;
}
