import type { NotKept } from "~/device/not-kept";
import type { NotReadable } from "~/device/unsent-file";

/** Why this device keeps nothing just now, and what a person can do about it. */
export const notKeptWords: Record<NotKept["because"], { title: string; sentence: string }> = {
  "device-full": {
    title: "This device is full",
    sentence:
      "Delete something on it, then press “Keep it now”. If that does not help, save the file and read it in on another device.",
  },
  "no-store": {
    title: "This window keeps nothing",
    sentence:
      "It is a private window, or the browser lets no site keep anything. Save the file, open the shop in an ordinary window, and read the file in there.",
  },
  "other-tab": {
    title: "Another tab of the shop is in the way",
    sentence: "Close all other tabs of the shop on this device, then press “Keep it now”.",
  },
  "store-failed": {
    title: "This browser’s store failed",
    sentence: "Save the file first. Then load the page again and read the file in.",
  },
};

export function notReadableWords(refusal: NotReadable): string {
  switch (refusal.kind) {
    case "not-unsent-file":
      return "This is no file of unsent work, or it was changed. Choose the one that was saved here; its name begins with tackfree-unsent.";
    case "another-shops-file":
      return "This file comes from another shop. Nothing was taken from it.";
    case "another-members-file":
      return "This file is another member’s. They read it in themselves, signed in with their own name.";
  }
}
