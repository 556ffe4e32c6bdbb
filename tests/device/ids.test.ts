import fc from "fast-check";
import { expect, test } from "vitest";
import { derivedId } from "~/core/shop/derived-id";
import { intentId } from "~/core/shop/entities/ids";
import { idMaker } from "~/device/ids";

// Source: RFC 9562, appendix A.6: the time 0x017F22E279B0 is Tuesday, 22 February 2022, 14:22:22.00 GMT−05:00.
const rfcTime = 1_645_557_742_000;
const zeros = (bytes: Uint8Array) => void bytes.fill(0);

test("the first 48 bits of an id are the time in milliseconds (RFC 9562, A.6), then comes version 7", () => {
  expect(idMaker({ now: () => rfcTime, randomBytes: zeros })()).toBe("017f22e2-79b0-7000-8000-000000000000");
});

test("ids made in one millisecond, or while the clock runs back, keep the order in which they were made", () => {
  const times = fc.array(fc.integer({ min: rfcTime, max: rfcTime + 5 }), { minLength: 2, maxLength: 6000 });
  fc.assert(
    fc.property(times, (clock) => {
      let tick = 0;
      const newId = idMaker({ now: () => clock[tick++] as number });
      const ids = clock.map(() => newId());
      expect([...ids].sort()).toEqual(ids);
      expect(new Set(ids).size).toBe(ids.length);
    }),
    { numRuns: 20 },
  );
});

test("the shop takes the ids of a device, and a rule can derive its own from them", () => {
  const id = idMaker({ now: () => rfcTime })();
  expect(intentId.safeParse(id).success).toBe(true);
  expect(intentId.safeParse(derivedId(id, 1)).success).toBe(true);
});
