import { describe, expect, test } from "vitest";
import type { Finding, Mend } from "~/core/coating/schedule-findings";
import { findingWords, mendWords } from "~/ui/piece/finding-words";
import { mendAct } from "~/ui/piece/mend-act";
import { checkedSchedule, totalWords } from "~/ui/piece/schedule-findings";
import {
  aCoat,
  aPiece,
  aProduct,
  aSheet,
  aStay,
  aSurface,
  dresser,
  envelopeOf,
  id,
  monday8,
  paint,
  rule,
  shopWith,
  silas,
  top,
} from "../../core/support/shop";

const blocker = id(140);
const surface = aSurface({ wood: "oak", isPaleWanted: true, bleedRisk: "unknown" });
const [first, second] = [id(121), id(122)];
const floor = (rows = {}) =>
  shopWith({
    piece: [aPiece({ stage: "prep" })],
    surface: [surface],
    roomStay: [aStay()],
    product: [aProduct(), aProduct({ id: blocker, name: "Shellac blocker", family: "shellac-blocker" })],
    sheet: [
      aSheet({ volumeSolidsPercent: 36, wetFilmMicrometres: 100 }),
      aSheet({ id: id(141), productId: blocker, mechanism: "solvent" }),
      aSheet({ id: id(142), productId: blocker, version: 2, mechanism: "solvent" }),
    ],
    coat: [aCoat({ id: first, position: 1 }), aCoat({ id: second, position: 2 })],
    ...rows,
  });
const ids = () => {
  let made = 300;
  return () => id(++made);
};
const stops = (facts: ReturnType<typeof floor>) =>
  checkedSchedule(facts, surface)?.findings.filter(({ level }) => level === "stops") ?? [];
const actOf = (facts: ReturnType<typeof floor>, finding: Finding, sort: Mend["mend"]) => {
  const mend = finding.mends.find((one) => one.mend === sort);
  return mend && mendAct(facts, surface, finding, mend, ids());
};

describe("a key that mends a finding", () => {
  test("plans the barrier of the shelf below, on its newest sheet, and the finding is gone", () => {
    const facts = floor();
    const [bleed] = stops(facts);
    const act = bleed && actOf(facts, bleed, "insert-barrier");
    expect(act).toMatchObject({ kind: "change-schedule", words: "Plan Shellac blocker below" });
    expect(rule(facts, envelopeOf("change-schedule", act?.body, silas)).verdict).toBe("accepted");
    expect(stops(facts)).toEqual([]);
    const order = facts
      .where("coat", "pieceId", dresser)
      .filter(({ state }) => state === "planned")
      .sort((one, other) => one.position - other.position);
    expect(order.map(({ sheetId }) => sheetId)).toEqual([id(142), order[1]?.sheetId, order[2]?.sheetId]);
    expect(order[0]?.barrierWhy).toBe("Something may bleed through.");
  });

  test("is not offered where the shelf has no barrier", () => {
    const facts = floor({ product: [aProduct(), aProduct({ id: blocker, family: "shellac", retiredAt: monday8 })] });
    const [bleed] = stops(facts);
    expect(bleed && actOf(facts, bleed, "insert-barrier")).toBeUndefined();
  });

  test("puts the scuff on the list of work, and it is not said again", () => {
    const facts = floor({ sheet: [aSheet({ scuffAlways: true })], product: [aProduct()] });
    const scuffs = () => checkedSchedule(facts, surface)?.findings.filter(({ kind }) => kind === "scuff-missing") ?? [];
    const [finding] = scuffs();
    const act = finding && actOf(facts, finding, "add-scuff-task");
    expect(rule(facts, envelopeOf(act?.kind ?? "", act?.body, silas)).verdict).toBe("accepted");
    expect(scuffs()).toEqual([]);
    expect(facts.where("task", "pieceId", dresser)).toMatchObject([
      { sort: "other", surfaceIds: [top], state: "open" },
    ]);
  });

  test("puts wax on last", () => {
    const wax = id(150);
    const facts = floor({
      surface: [aSurface()],
      product: [aProduct(), aProduct({ id: wax, family: "wax" })],
      sheet: [aSheet(), aSheet({ id: id(151), productId: wax })],
      coat: [aCoat({ id: first, position: 1, sheetId: id(151) }), aCoat({ id: second, position: 2 })],
    });
    const found = checkedSchedule(facts, aSurface())?.findings.find(({ kind }) => kind === "wax-below");
    const act = found && actOf(facts, found, "wax-last");
    expect(rule(facts, envelopeOf(act?.kind ?? "", act?.body, silas)).verdict).toBe("accepted");
    expect(checkedSchedule(facts, aSurface())?.findings.map(({ kind }) => kind)).not.toContain("wax-below");
  });
});

test("a coat that somebody only thinks of is checked as if it were planned", () => {
  const facts = floor({ coat: [], surface: [surface] });
  expect(stops(facts)).toEqual([]);
  const thought = aCoat({ id: "thought", position: 1 });
  expect(checkedSchedule(facts, surface, thought)?.findings.map(({ kind }) => kind)).toContain("bleed");
  expect(facts.where("coat", "pieceId", dresser)).toEqual([]);
});

test("what is still to use is said in millilitres up to a litre, then in litres", () => {
  const totals = { dryMicrometres: 72.4, withoutFilm: [], withoutLitres: [] };
  expect(totalWords({ ...totals, litres: 0.1455 })).toEqual({
    film: "72 µm dry in all",
    use: "150 ml to use",
    without: undefined,
  });
  expect(totalWords({ ...totals, litres: 0.996 }).use).toBe("1.0 L to use");
  expect(totalWords({ ...totals, litres: 0, dryMicrometres: 0, withoutFilm: [paint] })).toMatchObject({
    film: undefined,
    use: undefined,
    without: expect.stringContaining("One coat"),
  });
});

test("a finding is worded with what was found, why, and what would mend it", () => {
  const [bleed] = stops(floor());
  const names = { surface: () => "Top" };
  expect(bleed && findingWords(bleed, names)).toEqual({
    found: "Something may bleed through this pale coat.",
    why: "This wood holds tannin, and more coats of colour never hide it.",
  });
  expect(bleed?.mends.map((mend) => mendWords(mend, names))).toEqual([
    "A coat of shellac stain blocker or shellac below it",
    "Try a patch and look after 24 h",
  ]);
});
