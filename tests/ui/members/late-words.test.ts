import { expect, test } from "vitest";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { hourMs } from "~/core/units";
import { lateWords } from "~/ui/members/late-words";
import { namesFrom } from "~/ui/shell/names";
import { aReading, aStay, aWetCoat, bench, hanna, id, monday8, shopWithDresser, top } from "../../core/support/shop";

const facts: MemoryFacts = shopWithDresser();
const words = (late: Parameters<typeof lateWords>[0]) =>
  lateWords(late, namesFrom(facts), "K-201", monday8 + hourMs, "America/New_York");
const test1 = {
  id: id(601),
  subject: { of: "surface" as const, surfaceId: top },
  kind: "thumb-twist" as const,
  at: monday8,
};

test("the owner is asked of each thing by whom it was, what it was, and what it does while it waits", () => {
  const coat = words({ of: "coat", by: hanna, row: aWetCoat({ id: id(121) }) });
  expect(coat.title).toMatch(/^K-201: a coat on /);
  expect(coat.sentence).toMatch(/^Hanna, .*waited for as if it lay there/);
  expect(words({ of: "test", by: hanna, row: { ...test1, by: hanna, result: "pass" } })).toMatchObject({
    title: "K-201: thumb twist, pass",
    sentence: expect.stringContaining("opens nothing before your yes"),
  });
  expect(words({ of: "test", by: hanna, row: { ...test1, by: hanna, result: "fail" } }).sentence).toContain(
    "counts unless",
  );
  expect(
    words({ of: "reading", by: hanna, row: aReading({ id: id(701), airCelsius: 31, humidityPercent: 20 }) }).title,
  ).toMatch(/31 °C, 20 %$/);
  expect(words({ of: "carry", by: null, row: aStay({ roomId: bench }) })).toMatchObject({
    title: expect.stringContaining("carried to"),
    sentence: expect.stringMatching(/^somebody, /),
  });
});
