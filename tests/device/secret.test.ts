import { expect, test } from "vitest";
import { newSecret, sha256Of } from "~/device/secret";

// source: NIST FIPS 180-4 example for SHA-256, message "abc"
test("the shop is told the SHA-256 of a secret, as the standard computes it", async () => {
  expect(await sha256Of("abc")).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
});

test("a secret is 20 random bytes that need no escaping in an address", () => {
  const secrets = Array.from({ length: 200 }, newSecret);
  expect(new Set(secrets).size).toBe(200);
  // 20 bytes are 160 bits, 27 letters of 6 bits (RFC 4648, section 5)
  for (const secret of secrets) expect(secret).toMatch(/^[A-Za-z0-9_-]{27}$/);
});
