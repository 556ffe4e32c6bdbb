import { expect, test } from "vitest";
import { offlineAvailability } from "~/device/session";
import { offlineWords } from "~/ui/more/offline-words";

const whole = { isSecureContext: true, hasServiceWorker: true, hasDatabase: true };

test("a phone on an insecure address is told which address to open", () => {
  const words = offlineWords(offlineAvailability({ ...whole, isSecureContext: false }));
  expect(words.sentence).toContain("https");
});

test("a phone that can work without signal is told what still needs it", () => {
  expect(offlineWords(offlineAvailability(whole)).sentence).toMatch(/hours.*need signal/i);
});
