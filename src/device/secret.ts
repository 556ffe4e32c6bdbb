/** Secrets that are made on a device; the shop only ever knows their hash. */

/** 160 bits: nobody guesses it. */
const secretBytes = 20;

const base64Url = (bytes: Uint8Array): string =>
  btoa(String.fromCharCode(...bytes))
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replace(/=+$/, "");

export const newSecret = (): string => base64Url(crypto.getRandomValues(new Uint8Array(secretBytes)));

/** Lower-case hexadecimal, as the door takes it. */
export async function sha256Of(secret: string): Promise<string> {
  const hash = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(secret));
  return Array.from(new Uint8Array(hash), (byte) => byte.toString(16).padStart(2, "0")).join("");
}
