/** What a sign-out leaves behind on this device, and whether the device can work without signal at all. */
import { copiesOnDevice, dropCopy } from "./device-database";

/** Every cache that the service worker makes. */
const cachePrefix = "tackfree-";

/** Pieces with words in their notes that the server has not had yet: signing out now would lose them. */
export async function piecesWithUnsentNotes(): Promise<string[]> {
  const copies = await copiesOnDevice();
  return copies.flatMap(({ hasUnsent, pieceId }) => (hasUnsent && pieceId ? [pieceId] : []));
}

/**
 * Takes every copy of a shared document and every cached page off this device. The queue stays: what was done and not
 * yet sent belongs to whoever did it, and goes out when they sign in again.
 */
export async function wipeDevice(): Promise<void> {
  const copies = await copiesOnDevice();
  await Promise.all(copies.map(({ name }) => dropCopy(name)));
  if (typeof caches === "undefined") return;
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(cachePrefix)).map((name) => caches.delete(name)));
}

/** Takes the copies of one shop's documents off this device: whoever has no right to them any more keeps none. */
export async function dropCopiesOf(shopId: string): Promise<void> {
  const copies = await copiesOnDevice();
  await Promise.all(copies.filter((copy) => copy.shopId === shopId).map(({ name }) => dropCopy(name)));
}

export type OfflineAvailability =
  | { isAvailable: true }
  | { isAvailable: false; because: "no-secure-context" | "no-service-worker" | "no-database" };

type BrowserParts = { isSecureContext: boolean; hasServiceWorker: boolean; hasDatabase: boolean };

const thisBrowser = (): BrowserParts => ({
  isSecureContext: globalThis.isSecureContext,
  hasServiceWorker: "serviceWorker" in navigator,
  hasDatabase: typeof indexedDB !== "undefined",
});

/** Can this device open the floor and keep work without signal; if not, why. */
export function offlineAvailability(browser: BrowserParts = thisBrowser()): OfflineAvailability {
  if (!browser.isSecureContext) return { isAvailable: false, because: "no-secure-context" };
  if (!browser.hasServiceWorker) return { isAvailable: false, because: "no-service-worker" };
  if (!browser.hasDatabase) return { isAvailable: false, because: "no-database" };
  return { isAvailable: true };
}

/** Asks the browser not to clear this site's storage when the device runs short. False: it may be cleared. */
export const askToKeepStorage = (): Promise<boolean> =>
  navigator.storage?.persist ? navigator.storage.persist() : Promise.resolve(false);
