import fc from "fast-check";
import { expect, test } from "vitest";
import { derivedId } from "~/core/shop/derived-id";
import { idOf } from "~/core/shop/entities/ids";

const hex = (length: number) =>
  fc.string({ unit: fc.constantFrom(..."0123456789abcdef"), minLength: length, maxLength: length });
/** Version 7 and variant 10 in binary. Source: RFC 9562, 4.1 and 5.7. */
const version7 = fc
  .tuple(hex(8), hex(4), hex(3), fc.constantFrom("8", "9", "a", "b"), hex(3), hex(12))
  .map(([time, more, chance, variant, rest, node]) => `${time}-${more}-7${chance}-${variant}${rest}-${node}`);
const ordinal = fc.integer({ min: 0, max: 2 ** 32 - 1 });

test("what a rule makes by itself has a UUID of version 8 that our tables take. Source: RFC 9562, 5.8", () => {
  fc.assert(
    fc.property(version7, ordinal, (intentId, which) => {
      const made = derivedId(intentId, which);
      expect(made[14]).toBe("8");
      expect(idOf().safeParse(made).success).toBe(true);
      expect(derivedId(intentId, which)).toBe(made);
    }),
  );
});

test("two things of one intent never have the same id, even 200 000 rows of one import", () => {
  const intentId = "0199f000-1234-7abc-8def-fedcba987654";
  const ids = new Set(Array.from({ length: 200_000 }, (_, index) => derivedId(intentId, index)));
  expect(ids.size).toBe(200_000);
  fc.assert(
    fc.property(version7, ordinal, ordinal, (id, one, other) => {
      expect(derivedId(id, one) === derivedId(id, other)).toBe(one === other);
    }),
  );
});

test("intents whose ids differ in their time or their first chance make different things, whatever the ordinals", () => {
  fc.assert(
    fc.property(version7, version7, ordinal, ordinal, (one, another, first, second) => {
      fc.pre(one.slice(0, 28) !== another.slice(0, 28));
      expect(derivedId(one, first)).not.toBe(derivedId(another, second));
    }),
  );
});
