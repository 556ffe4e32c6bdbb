import { createHash } from "node:crypto";

export const sha256Of = (text: string): string => createHash("sha256").update(text).digest("hex");

/**
 * The id of a thing of the invented shop, from its name: lines refer to each other by name, and every run makes the same
 * shop. Shaped like a device's own id, a UUID of version 7 (RFC 9562, 5.7), with the hash where time and chance would be.
 */
export function idOf(name: string): string {
  const hex = sha256Of(`The Old Creamery, ${name}`);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-7${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}
