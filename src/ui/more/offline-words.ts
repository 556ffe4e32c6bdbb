import type { OfflineAvailability } from "~/device/session";

export type OfflineWords = { title: string; sentence: string };

/** What this device can do without signal, and if it cannot, what would help. */
export function offlineWords(offline: OfflineAvailability): OfflineWords {
  if (offline.isAvailable) {
    return {
      title: "This device works without signal",
      sentence:
        "Floor, Safe to move, Bench, pieces, rooms and notes open, and what you do is kept here in order. Hours, history and invitations need signal.",
    };
  }
  switch (offline.because) {
    case "no-secure-context":
      return {
        title: "Without signal this device can do nothing",
        sentence:
          "The address is not secure. Open the https address that the shop’s terminal shows; it also says how to trust it.",
      };
    case "no-service-worker":
      return {
        title: "Without signal this device opens nothing",
        sentence:
          "This browser does not keep pages. A private window does not either: open the shop in an ordinary one.",
      };
    case "no-database":
      return {
        title: "Without signal this device keeps nothing",
        sentence:
          "This browser has no store of its own. Open the shop in another browser, outside of a private window.",
      };
  }
}
