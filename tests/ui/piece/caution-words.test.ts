import { expect, test } from "vitest";
import { cautionsFor } from "~/core/safety/cautions";
import { methods } from "~/core/shop/entities/pieces";
import { families } from "~/core/shop/entities/products";
import { cautionWords, deferWords } from "~/ui/piece/caution-words";

const every = cautionsFor({ methods, families, leadState: "unknown" });

test("every caution defers to somebody who outranks it", () => {
  for (const caution of every) expect(deferWords([caution])).toMatch(/data sheet|local code|[Ll]icensed practice/);
});

test("no caution promises that anything is safe or legal", () => {
  const words = Object.values(cautionWords).join(" ");
  expect(words).not.toMatch(/\b(safe|safely|legal|harmless)\b/i);
});
