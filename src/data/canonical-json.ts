import { createHash } from "node:crypto";

/** JSON with the keys in order, so that the same thing always reads the same; what is undefined is left out. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_, found: unknown) =>
    found !== null && typeof found === "object" && !Array.isArray(found)
      ? Object.fromEntries(Object.entries(found).sort(([a], [b]) => (a < b ? -1 : 1)))
      : found,
  );
}

export const sha256 = (text: string): string => createHash("sha256").update(text).digest("hex");
