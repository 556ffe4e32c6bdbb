import { describe, expect, test } from "vitest";
import { coatProducts, nextPlannedCoats } from "~/ui/floor/acts/coat-choices";
import { nextNumber, squareDecimetresOf } from "~/ui/floor/acts/new-piece";
import { isBack, stageChoices } from "~/ui/floor/acts/stage-words";
import { resultChoices, testChoices } from "~/ui/floor/acts/test-kinds";
import { justNow, whenTyped } from "~/ui/floor/acts/typed-when";
import { ordinal } from "~/ui/floor/pending-pieces";
import { at, bookcase, chest, dresser, now, wednesday, zone } from "./wednesday";

const earlier = (day: string, time: string, choice: "first" | "second" = "first") =>
  whenTyped({ isEarlier: true, wall: { day, time }, choice }, now, zone);

describe("when it was, as typed", () => {
  test("just now sends no time: the device's clock says it", () => {
    expect(whenTyped(justNow("2026-10-28"), now, zone)).toEqual({ ok: true, value: { at: undefined, isTwice: false } });
  });

  test.each(["14:05", "1405", "14.05"])("%s in gloves is five past two in the afternoon", (typed) => {
    expect(earlier("2026-10-28", typed)).toMatchObject({ ok: true, value: { at: at("10-28 14:05 EDT") } });
  });

  test("a time that is still to come is not taken", () => {
    expect(earlier("2026-10-28", "15:30").ok).toBe(false);
  });

  test("a time that cannot be read is not taken for midnight", () => {
    expect(earlier("2026-10-28", "").ok).toBe(false);
    expect(earlier("2026-10-28", "25:00").ok).toBe(false);
  });

  test("half past one in the night the clocks go back is asked about, and the second is an hour later", () => {
    const after = at("11-01 12:00 EST");
    const night = (choice: "first" | "second") =>
      whenTyped({ isEarlier: true, wall: { day: "2026-11-01", time: "01:30" }, choice }, after, zone);
    expect(night("first")).toEqual({ ok: true, value: { at: at("11-01 01:30 EDT"), isTwice: true } });
    expect(night("second")).toEqual({ ok: true, value: { at: at("11-01 01:30 EST"), isTwice: true } });
  });
});

describe("a new piece", () => {
  test.each([
    { taken: [], next: "K-1" },
    { taken: ["K-9", "K-10"], next: "K-11" },
    { taken: ["K-099"], next: "K-100" },
    { taken: ["door", "A-7"], next: "A-8" },
  ])("after $taken is proposed as $next", ({ taken, next }) => {
    expect(nextNumber(taken)).toBe(next);
  });

  test("keeps its area in whole dm², and never as nothing", () => {
    expect(squareDecimetresOf(3.14)).toBe(314);
    expect(squareDecimetresOf(0.001)).toBe(1);
  });
});

describe("what the sheets offer", () => {
  test("a coat: the one that goes on next, not all that are planned", () => {
    expect(nextPlannedCoats(wednesday(), bookcase.id)).toMatchObject([{ coat: { position: 2 }, productName: "W2" }]);
    expect(nextPlannedCoats(wednesday(), dresser.id)).toEqual([]);
  });

  test("an extra coat: each product once", () => {
    expect(coatProducts(wednesday()).map(({ words }) => words)).toEqual(["L1", "O1", "O2", "W1", "W2"]);
  });

  test("a lead test only where paint is old or unknown", () => {
    const kinds = (piece: typeof chest) => testChoices(piece, true).map(({ id }) => id);
    expect(kinds(chest)).toContain("lead-laboratory");
    expect(kinds(dresser)).not.toContain("lead-swab");
  });

  test("a failed lead test in words that nobody can take for good news", () => {
    expect(resultChoices("lead-swab").find(({ id }) => id === "fail")?.words).toBe("Lead found");
  });

  test("the next stage first, and every way back as back", () => {
    expect(stageChoices("finish")).toEqual(["cure", "prep", "repair", "acquisition", "listed", "sold"]);
    expect(isBack("finish", "prep")).toBe(true);
    expect(isBack("finish", "cure")).toBe(false);
  });
});

test.each([
  [1, "1st"],
  [2, "2nd"],
  [3, "3rd"],
  [11, "11th"],
  [22, "22nd"],
])("place %i in the queue is said as %s", (number, words) => {
  expect(ordinal(number)).toBe(words);
});
