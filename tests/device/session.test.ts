import { expect, test } from "vitest";
import { offlineAvailability } from "~/device/session";

const phone = { isSecureContext: true, hasServiceWorker: true, hasDatabase: true };

test.each([
  { what: "reached by plain http over the network", browser: { isSecureContext: false }, because: "no-secure-context" },
  { what: "whose browser keeps no pages", browser: { hasServiceWorker: false }, because: "no-service-worker" },
  { what: "whose browser keeps no data", browser: { hasDatabase: false }, because: "no-database" },
])("a phone $what is told that it cannot work without signal, and why", ({ browser, because }) => {
  expect(offlineAvailability({ ...phone, ...browser })).toEqual({ isAvailable: false, because });
});

test("a phone with a trusted address, pages and data can work without signal", () => {
  expect(offlineAvailability(phone)).toEqual({ isAvailable: true });
});
