import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bySoonest, byStage, steadyOrder } from "~/ui/floor/floor-order";
import { sieved, sieveWords } from "~/ui/floor/floor-sieve";
import { outlookOf } from "~/ui/floor/outlook";
import { at, chest, dresser, nightstands, now, promised, repairer, theShop, wardrobe, wednesday } from "./wednesday";

const facts = wednesday({ promise: [promised(wardrobe, "photos", at("10-29 12:00 EDT"))] });
const outlooks = facts.all("piece").map((piece) => outlookOf(facts, piece, theShop, now));
const numbers = (found: typeof outlooks) => found.map(({ piece }) => piece.number);

describe("the order of the strips", () => {
  test("on a laptop is by stage, nearest the door first, then by tag", () => {
    expect(numbers([...outlooks].sort(byStage))).toEqual([
      "K-209",
      "K-201",
      "K-202",
      "K-208",
      "K-203",
      "K-207",
      "K-204",
      "K-206",
    ]);
  });

  test("on a phone puts what opens this afternoon first and what nobody waits for last", () => {
    const order = numbers([...outlooks].sort(bySoonest(now)));
    expect(order.slice(0, 2).toSorted()).toEqual([wardrobe.number, nightstands.number]);
    expect(order.indexOf(chest.number)).toBeLessThan(order.indexOf(dresser.number));
    expect(order.at(-1)).toBe("K-209");
  });

  test("does not change while somebody looks: pieces only leave, and new ones hang at the end", () => {
    const ids = fc.uniqueArray(fc.integer({ min: 0, max: 30 }).map(String));
    fc.assert(
      fc.property(ids, ids, (before, wanted) => {
        const after = steadyOrder(before, wanted);
        expect(after.toSorted()).toEqual(wanted.toSorted());
        const stayed = before.filter((id) => wanted.includes(id));
        expect(after.slice(0, stayed.length)).toEqual(stayed);
      }),
    );
  });
});

describe("the sieve", () => {
  const around = { facts, memberId: repairer.id, now };

  test("counts every piece, and those for which a hand is wanted within the hour", () => {
    const words = sieveWords(outlooks, now, true);
    expect(words[0]).toMatchObject({ words: "Everything", count: 8 });
    expect(words.find(({ id }) => id === "next-hour")?.count).toBe(
      numbers(sieved(outlooks, "next-hour", around)[0]?.outlooks ?? []).length,
    );
  });

  test("lets through as mine only what I hold", () => {
    expect(sieved(outlooks, "mine", around).flatMap((group) => numbers(group.outlooks))).toEqual(["K-204"]);
    expect(sieved(outlooks, "mine", { ...around, memberId: undefined }).flatMap((group) => group.outlooks)).toEqual([]);
  });

  test.each(["place", "stage"] as const)("by %s hangs every piece under exactly one heading", (sieve) => {
    const groups = sieved(outlooks, sieve, around);
    expect(groups.flatMap((group) => numbers(group.outlooks)).toSorted()).toEqual(numbers(outlooks).toSorted());
    expect(groups.every((group) => group.heading !== undefined)).toBe(true);
  });
});
