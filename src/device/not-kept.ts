/** Why this device cannot keep what was done on it. */

export type NotKept = {
  kind: "not-kept";
  /**
   * `device-full`: no room left. `no-store`: this browser has none, as in some private windows. `other-tab`: another tab of
   * an older version does not let go. `store-failed`: anything else.
   */
  because: "device-full" | "no-store" | "other-tab" | "store-failed";
  detail: string;
};

/** Another tab holds the database in an older form, or the browser does not answer at all. */
export class StoreHeld extends Error {}

export function notKept(error: unknown): NotKept {
  return { kind: "not-kept", because: causeOf(error), detail: String(error) };
}

function causeOf(error: unknown): NotKept["because"] {
  if (error instanceof StoreHeld) return "other-tab";
  if (typeof indexedDB === "undefined") return "no-store";
  if (!(error instanceof DOMException)) return "store-failed";
  if (error.name === "QuotaExceededError") return "device-full";
  // what browsers say that let no site keep anything
  return error.name === "SecurityError" || error.name === "NotAllowedError" ? "no-store" : "store-failed";
}
