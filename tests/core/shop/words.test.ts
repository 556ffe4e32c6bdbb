import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { gate, recoatFilmGate } from "~/core/cure/gate";
import { earliestHonest } from "~/core/cure/next-gate";
import type { Picture } from "~/core/cure/picture";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { hourMs, minuteMs } from "~/core/units";
import { l1, o2, w1 } from "../cure/week";
import {
  aCoat,
  aPair,
  aSurface,
  bruno,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  odile,
  refusalOf,
  rule,
  silas,
} from "../support/shop";
import { at, demoFloor, laid, loft, picture, standing, wallClock } from "./scenarios/demo-floor";

const k202 = id(0x202);
const [left, right, doors, word1] = [id(0x231), id(0x232), id(0x233), id(0x260)];

/** Two doors enamelled on Wednesday 28 October, in the loft since; press by the clock on Wednesday 4 November 01:15. */
function wardrobe(of = w1): MemoryFacts {
  const { piece, roomStay } = standing("K-202", k202, at("10-28 18:00 EDT"));
  const surface = [left, right].map((surfaceId) => aSurface({ id: surfaceId, pieceId: k202 }));
  return demoFloor({
    piece: [piece],
    roomStay,
    surface,
    pair: [aPair({ id: doors, pieceId: k202, surfaceA: left, surfaceB: right })],
    coat: surface.map((on, index) => laid(on, of, at("10-28 14:30 EDT"), id(0x234 + index))),
  });
}
const friday = at("10-30 09:00 EDT");
const give = (more: Record<string, unknown> = {}, by = fern, travel: Parameters<typeof envelopeOf>[3] = {}) =>
  envelopeOf(
    "override-gate",
    {
      wordId: word1,
      pieceId: k202,
      action: "press-together",
      untilAt: friday + 24 * hourMs,
      why: "Felt pads go between them",
      ...more,
    },
    by,
    { at: friday, ...travel },
  );
const press = { action: "press-together", pairId: doors } as const;
const pressed = (facts: MemoryFacts, when: number) => gate(picture(facts, k202), press, when);
const record = (result: string, by: string, when: number, testNumber = 1) =>
  envelopeOf(
    "record-test",
    {
      testId: id(0x270 + testNumber),
      pieceId: k202,
      subject: { of: "pair", pairId: doors },
      kind: "paper-press",
      result,
    },
    by,
    { at: when },
  );

describe("a word of the owner that the doors may be hung", () => {
  test("opens them from then on under that name, and ends by itself at its hour", () => {
    const facts = wardrobe();
    expect(pressed(facts, friday).state).toBe("shut");
    expect(eventKinds(rule(facts, give()))).toEqual(["gate-overridden"]);
    expect(facts.get("word", word1)).toEqual({
      id: word1,
      pieceId: k202,
      action: "press-together",
      by: fern,
      at: friday,
      untilAt: friday + 24 * hourMs,
      why: "Felt pads go between them",
    });
    const found = pressed(facts, friday);
    expect(found).toMatchObject({ state: "open", evidence: "word", wordId: word1, sinceAt: friday });
    // the clock's own answer stands beside it
    expect(wallClock(found.safeAt)).toBe("Wed 4, 01:15 EST");
    expect(pressed(facts, friday - 1).state).toBe("shut");
    expect(pressed(facts, friday + 24 * hourMs - 1).evidence).toBe("word");
    expect(pressed(facts, friday + 24 * hourMs)).toMatchObject({ state: "shut", evidence: "readings" });
  });

  test("is kept with what it let through", () => {
    const facts = wardrobe();
    rule(facts, give());
    const body = { pairId: doors, spacer: "none", stance: "asking" };
    expect(rule(facts, envelopeOf("press-together", body, silas, { at: friday + hourMs })).verdict).toBe("accepted");
    expect(facts.where("passedOver", "pieceId", k202)).toEqual([]);
  });

  test("opens that act alone, and no promise rests on it", () => {
    const facts = wardrobe();
    rule(facts, give());
    const carry = { action: "hand-over", wrap: "loose-blanket", isStrapped: false } as const;
    expect(gate(picture(facts, k202), carry, friday).state).toBe("shut");
    rule(facts, give({ wordId: id(0x261), action: "hand-over" }));
    expect(gate(picture(facts, k202), carry, friday).evidence).toBe("word");
    expect(wallClock(earliestHonest(picture(facts, k202), "delivery", friday).safeAt)).toBe("Wed 4, 01:15 EST");
  });

  test("speaks for one pair where it names one, and for nothing of another piece", () => {
    const facts = wardrobe();
    expect(rule(facts, give({ subjectId: doors })).verdict).toBe("accepted");
    expect(pressed(facts, friday).evidence).toBe("word");
    const strange = give({ wordId: id(0x262), subjectId: id(0x999) });
    expect(refusalOf(rule(facts, strange))).toEqual({ kind: "unknown-thing", field: "subjectId" });
  });

  test("is taken back by a partner, and shuts again from then on", () => {
    const facts = wardrobe();
    rule(facts, give());
    const back = envelopeOf("withdraw-word", { wordId: word1 }, silas, { at: friday + hourMs });
    expect(eventKinds(rule(facts, back))).toEqual(["word-withdrawn"]);
    expect(pressed(facts, friday + hourMs - 1).evidence).toBe("word");
    expect(pressed(facts, friday + hourMs).state).toBe("shut");
    const again = envelopeOf("withdraw-word", { wordId: word1 }, fern, { at: friday + 2 * hourMs });
    expect(rule(facts, again)).toEqual({ verdict: "accepted", events: [] });
  });
});

describe("a word is refused", () => {
  test.each([
    ["a helper", hanna],
    ["the office", bruno],
    ["an outlet", odile],
  ])("to %s", (_who, by) => {
    expect(refusalOf(rule(wardrobe(), give({}, by)))).toMatchObject({ kind: "may-not", needs: ["owner", "partner"] });
  });

  test("for longer than 72 hours, for no time at all, and without a reason of ten characters", () => {
    const until = (ms: number) => rule(wardrobe(), give({ untilAt: friday + ms }));
    expect(until(72 * hourMs).verdict).toBe("accepted");
    expect(refusalOf(until(72 * hourMs + minuteMs))).toMatchObject({
      kind: "out-of-bounds",
      min: 1,
      max: 72,
      unit: "h",
    });
    expect(refusalOf(until(0))).toMatchObject({ kind: "out-of-bounds" });
    expect(refusalOf(rule(wardrobe(), give({ why: "In a rush" })))).toMatchObject({
      kind: "text-not-fit",
      field: "why",
    });
    expect(rule(wardrobe(), give({ why: "In a hurry" })).verdict).toBe("accepted");
  });

  test.each([
    ["full use, which only time brings", { action: "use" }, "full-cure"],
    ["sanding, which the paper tells", { action: "sand", subjectId: left }, "sanding"],
    ["plastic", { action: "wrap", wrap: "plastic" }, "plastic"],
  ])("for %s", (_what, more, cause) => {
    expect(refusalOf(rule(wardrobe(), give(more)))).toMatchObject({ kind: "no-word-opens", cause });
  });

  test("for faces of lacquer that never lie on each other, but not for a stack with paper between", () => {
    expect(refusalOf(rule(wardrobe(l1), give({}, fern, { at: at("10-28 15:00 EDT") })))).toMatchObject({
      kind: "no-word-opens",
      cause: "never",
    });
    const stack = give({ action: "stack", untilAt: at("10-29 15:00 EDT") }, fern, { at: at("10-28 15:00 EDT") });
    expect(rule(wardrobe(l1), stack).verdict).toBe("accepted");
  });

  test("for sanding or coating wood that is still wet from washing", () => {
    const facts = wardrobe();
    facts.put("surface", aSurface({ id: left, pieceId: k202, lastWaterAt: friday - hourMs }));
    facts.put("coat", {
      ...laid(aSurface({ id: left, pieceId: k202 }), w1, at("10-28 14:30 EDT"), id(0x234)),
      state: "removed",
      removed: { at: friday - 2 * hourMs, how: "stripped", why: "Runs" },
    });
    facts.put("coat", aCoat({ id: id(0x280), pieceId: k202, surfaceId: left, position: 2, sheetId: w1.sheet.id }));
    for (const action of ["sand", "recoat"])
      expect(refusalOf(rule(facts, give({ action, subjectId: left })))).toMatchObject({
        kind: "no-word-opens",
        cause: "wood",
      });
  });

  test("and there is no need of one where the clock has opened already", () => {
    const late = at("11-04 02:00 EST");
    const late24 = give({ untilAt: late + hourMs }, fern, { at: late });
    expect(rule(wardrobe(), late24)).toEqual({ verdict: "accepted", events: [] });
  });
});

// scenario 10, the owner's word
describe("a word against a failed test", () => {
  test("is refused while the fail stands", () => {
    const facts = wardrobe();
    rule(facts, record("fail", hanna, friday - hourMs));
    expect(refusalOf(rule(facts, give()))).toMatchObject({ kind: "no-word-opens", cause: "failed-test" });
    expect(pressed(facts, friday).needs).toMatchObject([{ kind: "test-says-no" }]);
  });

  test("is over as soon as a hand finds otherwise: from then on only a pass opens", () => {
    const facts = wardrobe();
    rule(facts, give());
    rule(facts, record("fail", hanna, friday + hourMs));
    expect(pressed(facts, friday + hourMs - 1).evidence).toBe("word");
    expect(pressed(facts, friday + hourMs).needs).toMatchObject([{ kind: "test-says-no" }]);
    rule(facts, record("pass", fern, friday + 2 * hourMs, 2));
    expect(pressed(facts, friday + 2 * hourMs)).toMatchObject({ state: "open", evidence: "test" });
  });

  test("never wins, whatever the order and the hours", () => {
    const base = picture(wardrobe(), k202);
    fc.assert(
      fc.property(fc.integer({ min: -30, max: 30 }), fc.integer({ min: 0, max: 71 }), (failHour, askedHour) => {
        const failAt = friday + failHour * hourMs;
        const askedAt = friday + askedHour * hourMs;
        const word = { id: word1, pieceId: k202, action: "press-together", by: fern, why: "In a hurry" } as const;
        const fail = {
          id: id(0x271),
          pieceId: k202,
          kind: "paper-press",
          result: "fail",
          by: hanna,
          at: failAt,
        } as const;
        const both: Picture = {
          ...base,
          words: [{ ...word, at: friday, untilAt: friday + 72 * hourMs }],
          tests: [{ ...fail, subject: { of: "pair", pairId: doors } }],
        };
        expect(gate(both, press, askedAt).state).toBe(askedAt < failAt ? "open" : "shut");
      }),
    );
  });
});

// scenario 7, as far as words go
test("a word made as a partner and delivered as a helper is refused: the lesser of the two roles counts", () => {
  const facts = wardrobe();
  const thursday = at("10-29 12:00 EDT");
  rule(facts, envelopeOf("change-role", { memberId: silas, role: "helper" }, fern, { at: thursday }));
  const made = give({ untilAt: thursday + 24 * hourMs }, silas, { at: at("10-29 11:00 EDT") });
  expect(refusalOf(rule(facts, made, at("10-29 18:00 EDT")))).toMatchObject({
    kind: "may-not",
    role: "helper",
    needs: ["owner", "partner"],
  });
  expect(facts.all("word")).toEqual([]);
  expect(facts.get("pair", doors)?.isApart).toBe(true);
});

describe("a word about the next coat", () => {
  const table = (closed: boolean) => {
    const { piece, roomStay } = standing("K-202", k202, at("10-28 18:00 EDT"));
    const top = aSurface({ id: left, pieceId: k202 });
    const windowed = { ...o2.sheet, scuffAlways: false, recoatClosesMin: 60, recoatReopensMin: 7200 };
    return demoFloor({
      piece: [piece],
      roomStay,
      surface: [top],
      sheet: [closed ? windowed : o2.sheet],
      coat: [
        laid(top, o2, at("10-30 07:00 EDT"), id(0x234)),
        aCoat({ id: id(0x235), pieceId: k202, surfaceId: left, position: 2, sheetId: o2.sheet.id }),
      ],
    });
  };
  const recoat = { action: "recoat", surfaceId: left, sheetId: o2.sheet.id, scuffedBefore: true } as const;

  test("opens the least wait", () => {
    const facts = table(false);
    expect(recoatFilmGate(picture(facts, k202), recoat, friday).state).toBe("shut");
    expect(rule(facts, give({ action: "recoat", subjectId: left })).verdict).toBe("accepted");
    expect(recoatFilmGate(picture(facts, k202), recoat, friday)).toMatchObject({ state: "open", evidence: "word" });
  });

  test("is kept with the coat that went on by it", () => {
    const facts = table(false);
    rule(facts, give({ action: "recoat", subjectId: left }));
    const coat = {
      coatId: id(0x235),
      startedAt: friday,
      endedAt: friday,
      by: [fern],
      roomId: loft.id,
      scuffedBefore: true,
      stance: "asking",
    };
    expect(rule(facts, envelopeOf("log-coat", coat, fern, { at: friday })).verdict).toBe("accepted");
    expect(facts.get("coat", id(0x235))?.applied?.evidence).toMatchObject({
      state: "open",
      evidence: "word",
      wordId: word1,
    });
  });

  test("does not scuff for anybody", () => {
    const facts = table(false);
    rule(facts, give({ action: "recoat", subjectId: left }));
    expect(recoatFilmGate(picture(facts, k202), { ...recoat, scuffedBefore: false }, friday).state).toBe("shut");
  });

  test("does not open a window that has closed", () => {
    const facts = table(true);
    expect(refusalOf(rule(facts, give({ action: "recoat", subjectId: left })))).toMatchObject({
      kind: "no-word-opens",
      cause: "only-waiting",
    });
  });
});
