import { describe, expect, test } from "vitest";
import { gate } from "~/core/cure/gate";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import type { Reading } from "~/core/shop/tables";
import { minuteMs } from "~/core/units";
import { l1, o1, o2, w1, w2 } from "../../cure/week";
import { aCoat, aPair, aSurface, envelopeOf, fern, hanna, id, refusalOf, rule, silas } from "../../support/shop";
import { at, demoFloor, laid, loft, picture, standing, steady, tripped, wallClock } from "./demo-floor";

const [k201, k202, k203, k207, k208] = [id(0x201), id(0x202), id(0x203), id(0x207), id(0x208)];
const pressing = (pair: string, when: string, by = hanna) =>
  envelopeOf("press-together", { pairId: pair, stance: "asking" }, by, { at: at(when) });

/** The dresser: carcass and fronts enamelled on Sunday 25 October 14:30, in the loft since 18:00. */
const [carcass, fronts, drawers] = [id(0x211), id(0x212), id(0x213)];
function dresser(readings: readonly Reading[]): MemoryFacts {
  const { piece, roomStay } = standing("K-201", k201, at("10-25 18:00 EDT"));
  const surface = [carcass, fronts].map((surfaceId) => aSurface({ id: surfaceId, pieceId: k201 }));
  const laidAt = at("10-25 14:30 EDT");
  return demoFloor(
    {
      piece: [piece],
      roomStay,
      surface,
      pair: [aPair({ id: drawers, pieceId: k201, surfaceA: carcass, surfaceB: fronts })],
      coat: surface.map((on, index) => laid(on, w1, laidAt, id(0x214 + index))),
    },
    readings,
  );
}

/** A piece with one surface, its film as laid, and one coat more that is planned. */
function single(
  number: string,
  pieceId: string,
  film: { of: typeof w1; endedAt: number },
  next: { of: typeof w1; coatId: string } | undefined,
  sprayUntil: number | undefined,
  readings: readonly Reading[],
): { facts: MemoryFacts; surfaceId: string } {
  const surface = aSurface({ id: id(0x220), pieceId });
  const { piece, roomStay } = standing(number, pieceId, sprayUntil);
  const coat = [laid(surface, film.of, film.endedAt, id(0x221))];
  if (next) {
    coat.push(aCoat({ id: next.coatId, pieceId, surfaceId: surface.id, position: 2, sheetId: next.of.sheet.id }));
  }
  return { facts: demoFloor({ piece: [piece], roomStay, surface: [surface], coat }, readings), surfaceId: surface.id };
}
const coating = (coatId: string, when: string, more: Record<string, unknown> = {}, by = silas) => {
  const moment = at(when);
  const body = { coatId, startedAt: moment, endedAt: moment, by: [by], roomId: loft.id, stance: "asking", ...more };
  return envelopeOf("log-coat", body, by, { at: moment });
};
const next = id(0x222);

// scenario 3
describe("a heater that trips from 01:00 to 06:30 and warms until 09:00 puts off, as answered on Wednesday at 09:00,", () => {
  const asked = "10-28 09:00 EDT";
  const opens = (facts: MemoryFacts, intent: ReturnType<typeof envelopeOf>) =>
    wallClock(refusalOf(rule(facts, intent)).earliestAt);

  test("the dresser's drawers from Sunday 01:15 to 07:20 EST", () => {
    const found = [steady, tripped].map((readings) => opens(dresser(readings), pressing(drawers, asked)));
    expect(found).toEqual(["Sun 1, 01:15 EST", "Sun 1, 07:20 EST"]);
    const facts = dresser(tripped);
    expect(rule(facts, pressing(drawers, "11-01 07:15 EST")).verdict).toBe("refused");
    expect(rule(facts, pressing(drawers, "11-01 07:20 EST")).verdict).toBe("accepted");
  });

  test("the table's second coat from 05:30 to 11:40 that morning", () => {
    const film = { of: o2, endedAt: at("10-27 10:00 EDT") };
    const table = (readings: readonly Reading[]) =>
      single("K-203", k203, film, { of: o2, coatId: next }, undefined, readings).facts;
    expect(opens(table(tripped), coating(next, asked, { scuffedBefore: true }))).toBe("Wed 28, 11:40 EDT");
    const early = coating(next, "10-28 05:00 EDT", { scuffedBefore: true });
    expect(opens(table(steady), early)).toBe("Wed 28, 05:30 EDT");
  });

  test("the bookcase's clear over oil from Saturday 07:00 to 13:05", () => {
    const film = { of: o1, endedAt: at("10-26 10:00 EDT") };
    const bookcase = (readings: readonly Reading[]) =>
      single("K-207", k207, film, { of: w2, coatId: next }, undefined, readings).facts;
    const found = [steady, tripped].map((readings) => opens(bookcase(readings), coating(next, asked)));
    expect(found).toEqual(["Sat 31, 07:00 EDT", "Sat 31, 13:05 EDT"]);
  });

  test("the wardrobe's carrying by hand from Thursday 01:40 to 07:50", () => {
    const film = { of: w1, endedAt: at("10-27 11:10 EDT") };
    const carry = envelopeOf("move-room", { pieceId: k202, roomId: id(4), carried: "hands", stance: "asking" }, hanna, {
      at: at(asked),
    });
    const found = [steady, tripped].map((readings) => {
      const { facts } = single("K-202", k202, film, undefined, at("10-27 18:00 EDT"), readings);
      facts.put("room", { ...loft, id: id(4), name: "Bench room" });
      return opens(facts, carry);
    });
    expect(found).toEqual(["Thu 29, 01:40 EDT", "Thu 29, 07:50 EDT"]);
  });
});

// scenario 10
describe("two doors that are ready by the clock on Wednesday 4 November 01:15", () => {
  const [left, right, doors] = [id(0x231), id(0x232), id(0x233)];
  const test1 = (number: number) => id(0x240 + number);
  const record = (number: number, result: string, by: string, when: string) =>
    envelopeOf(
      "record-test",
      { testId: test1(number), pieceId: k202, subject: { of: "pair", pairId: doors }, kind: "paper-press", result },
      by,
      { at: at(when) },
    );
  function wardrobe(...tests: ReturnType<typeof record>[]): MemoryFacts {
    const { piece, roomStay } = standing("K-202", k202, at("10-28 18:00 EDT"));
    const surface = [left, right].map((surfaceId) => aSurface({ id: surfaceId, pieceId: k202 }));
    const facts = demoFloor({
      piece: [piece],
      roomStay,
      surface,
      pair: [aPair({ id: doors, pieceId: k202, surfaceA: left, surfaceB: right })],
      coat: surface.map((on, index) => laid(on, w1, at("10-28 14:30 EDT"), id(0x234 + index))),
    });
    for (const intent of tests) expect(rule(facts, intent).verdict).toBe("accepted");
    return facts;
  }
  const pass = record(1, "pass", fern, "10-31 18:00 EDT");
  const fail = record(2, "fail", hanna, "11-01 10:00 EST");
  const press = (facts: MemoryFacts, when: string) => rule(facts, pressing(doors, when));

  test("open on Saturday at 18:00 by the owner's press test", () => {
    const refusal = refusalOf(press(wardrobe(), "10-31 17:59 EDT"));
    expect([refusal.kind, wallClock(refusal.earliestAt)]).toEqual(["gate-shut", "Wed 4, 01:15 EST"]);
    expect(press(wardrobe(pass), "10-31 18:00 EDT").verdict).toBe("accepted");
  });

  test.each(["11-01 10:00 EST", "11-04 01:15 EST", "11-04 20:00 EST"])(
    "are shut by the helper's fail of Sunday, and still on %s: the clock does not count",
    (when) => {
      const refusal = refusalOf(press(wardrobe(pass, fail), when));
      expect(refusal).toMatchObject({
        kind: "test-says-no",
        testId: test1(2),
        testKind: "paper-press",
        byMemberId: hanna,
        testedAt: at("11-01 10:00 EST"),
      });
      expect(refusal.earliestAt).toBeUndefined();
    },
  );

  test("that were pressed on the strength of the pass want looking at after the fail", () => {
    const facts = wardrobe(pass);
    press(facts, "10-31 18:30 EDT");
    rule(facts, fail);
    expect(facts.where("task", "pieceId", k202)).toMatchObject([{ sort: "inspect", surfaceIds: [left, right] }]);
  });

  test("open again by the next pass: an owner's at once, a helper's only once the clock is done", () => {
    const again = (by: string, when: string) => wardrobe(pass, fail, record(3, "pass", by, when));
    expect(press(again(fern, "11-02 10:00 EST"), "11-02 10:00 EST").verdict).toBe("accepted");
    expect(refusalOf(press(again(hanna, "11-02 10:00 EST"), "11-02 10:00 EST")).kind).toBe("test-says-no");
    expect(press(again(hanna, "11-04 09:00 EST"), "11-04 09:00 EST").verdict).toBe("accepted");
  });
});

// scenario 15
test("nightstands in lacquer for a buyer on Saturday at 10:00 have 44.0 of 48 hours for straps, 16:30 is the time; under loose paper they may go", () => {
  const film = { of: l1, endedAt: at("10-28 11:00 EDT") };
  const { facts } = single("K-208", k208, film, undefined, at("10-28 18:00 EDT"), tripped);
  const leaves = (wrap: "snug-paper" | "loose-paper", isStrapped: boolean, when: string) =>
    gate(picture(facts, k208), { action: "hand-over", wrap, isStrapped }, at(when));
  const strapped = leaves("snug-paper", true, "10-31 10:00 EDT");
  expect([strapped.state, wallClock(strapped.safeAt), strapped.neededMin]).toEqual([
    "shut",
    "Sat 31, 16:30 EDT",
    48 * 60,
  ]);
  expect((strapped.safeCreditMin as number) / 60).toBeCloseTo(44.0, 1);
  expect(leaves("loose-paper", false, "10-31 10:00 EDT").state).toBe("open");
  expect(leaves("snug-paper", true, "10-31 16:30 EDT").state).toBe("open");
  expect(leaves("snug-paper", true, "10-31 16:20 EDT").state).toBe("shut");
});

// scenario 16
describe("the table's second coat, due from Wednesday 11:40, at 11:00", () => {
  const film = { of: o2, endedAt: at("10-27 10:00 EDT") };
  const table = () => single("K-203", k203, film, { of: o2, coatId: next }, undefined, tripped);

  test("is refused to whoever asks, with 11:40 and the scuff that it wants", () => {
    const { facts, surfaceId } = table();
    const refusal = refusalOf(rule(facts, coating(next, "10-28 11:00 EDT")));
    expect(refusal).toMatchObject({ kind: "gate-shut", action: "recoat", neededMin: 720 });
    expect(wallClock(refusal.earliestAt)).toBe("Wed 28, 11:40 EDT");
    expect(refusal).toHaveProperty("needs", expect.arrayContaining([{ kind: "scuff", surfaceId }]));
    expect(facts.get("coat", next)?.state).toBe("planned");
  });

  test("is recorded when it is done, marked as passed over, tested before the next, and its rags are due at 11:30", () => {
    const { facts, surfaceId } = table();
    const laidAt = at("10-28 11:00 EDT");
    expect(rule(facts, coating(next, "10-28 11:00 EDT", { stance: "done" })).verdict).toBe("accepted");
    expect(facts.get("coat", next)).toMatchObject({
      state: "applied",
      applied: { startedAt: laidAt, endedAt: laidAt, scuffedBefore: false, evidence: { state: "shut" } },
    });
    expect(facts.where("passedOver", "pieceId", k203)).toMatchObject([{ by: silas, at: laidAt }]);
    expect(facts.where("task", "pieceId", k203)).toMatchObject([
      { sort: "inspect", surfaceIds: [surfaceId], state: "open" },
      { sort: "close-out", coatId: next, dueAt: laidAt + 30 * minuteMs, state: "open" },
    ]);
  });
});

// scenario 23
describe("a logger that was silent from Saturday 23:00 EDT to Sunday 05:00 EST", () => {
  const [silentFrom, silentTo] = [at("10-31 23:00 EDT"), at("11-01 05:00 EST")];
  const gapped = tripped.filter((reading) => reading.at <= silentFrom || reading.at >= silentTo);
  const asked = "11-01 07:30 EST";

  test("leaves the drawers shut on Sunday at 07:30, safe at 14:20, with the hours that nobody knows", () => {
    const refusal = refusalOf(rule(dresser(gapped), pressing(drawers, asked)));
    expect([refusal.kind, wallClock(refusal.earliestAt)]).toEqual(["gate-shut", "Sun 1, 14:20 EST"]);
    expect(refusal).toHaveProperty("needs", [
      { kind: "unknown-span", roomId: loft.id, fromAt: silentFrom, toAt: silentTo },
    ]);
  });

  test("is made good by the owner's word of the thermometer: lowest 18 °C since 23:00 opens them since 07:20", () => {
    const facts = dresser(gapped);
    const span = {
      readingId: id(0x250),
      roomId: loft.id,
      at: at("11-01 07:25 EST"),
      airCelsius: 18,
      humidityPercent: 50,
      spanFromAt: silentFrom,
    };
    expect(rule(facts, envelopeOf("record-reading", span, fern, { at: at("11-01 07:26 EST") })).verdict).toBe(
      "accepted",
    );
    const found = gate(picture(facts, k201), { action: "press-together" }, at(asked));
    expect([found.state, wallClock(found.sinceAt)]).toEqual(["open", "Sun 1, 07:20 EST"]);
    expect(rule(facts, pressing(drawers, asked)).verdict).toBe("accepted");
  });

  test("is overruled by a press test that passes", () => {
    const facts = dresser(gapped);
    const subject = { of: "pair", pairId: drawers };
    const pass = { testId: id(0x251), pieceId: k201, subject, kind: "paper-press", result: "pass" };
    rule(facts, envelopeOf("record-test", pass, fern, { at: at(asked) }));
    expect(rule(facts, pressing(drawers, asked)).verdict).toBe("accepted");
  });
});
