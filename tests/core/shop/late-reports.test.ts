import { describe, expect, test } from "vitest";
import { gate } from "~/core/cure/gate";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { pictureOf } from "~/core/shop/picture";
import { dayMs, hourMs } from "~/core/units";
import {
  aCoat,
  aWetCoat,
  bench,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  loft,
  monday8,
  paintSheet,
  type Rows,
  readEveryHour,
  refusalOf,
  rule,
  shopWithDresser,
  silas,
  top,
} from "../support/shop";

const endsAt = monday8 + 2 * hourMs;
const arrives = monday8 + dayMs;
const late = "delivered-after-the-end";
const [coat, test1, reading] = [id(121), id(601), id(701)];

/** A dresser in the loft, and Silas, a partner until ten on Monday. */
function shopWithout(rows: Rows = {}, who = silas): MemoryFacts {
  const facts = shopWithDresser(rows);
  const row = facts.get("member", who);
  if (!row) throw new Error("nobody of that name");
  const [span] = row.roleSpans;
  if (!span) throw new Error("never was a member");
  facts.put("member", { ...row, roleSpans: [{ ...span, toAt: endsAt, toSeq: 900 }] });
  return facts;
}

/** Made at nine on Monday, heard of on Tuesday. */
const deliver = (facts: MemoryFacts, kind: string, body: unknown, who = silas) =>
  rule(facts, envelopeOf(kind, body, who, { at: monday8 + hourMs }), arrives);
const answer = (facts: MemoryFacts, of: string, thing: string, said: "yes" | "no", by = fern) =>
  rule(facts, envelopeOf("answer-late", { of, id: thing, answer: said }, by, { at: arrives + hourMs }));

const coatBody = (more: object = {}) => ({
  coatId: coat,
  surfaceId: top,
  sheetId: paintSheet,
  startedAt: monday8 + hourMs,
  endedAt: monday8 + hourMs,
  by: [silas],
  roomId: loft,
  stance: "done",
  ...more,
});

describe("a coat that was delivered after the end of its maker's membership", () => {
  test("lies there at once, because a film that may be wet must be waited for, and carries its mark", () => {
    const facts = shopWithout({ coat: [aCoat({ id: coat })] });
    expect(deliver(facts, "log-coat", coatBody()).verdict).toBe("accepted");
    expect(facts.get("coat", coat)).toMatchObject({ state: "applied", needsWord: late });
    const picture = pictureOf(facts, dresser);
    if (!picture) throw new Error("the dresser is gone");
    const touched = gate(picture, { action: "move", carried: "hands" }, monday8 + hourMs + 60_000);
    expect(touched.state).not.toBe("open");
  });

  test("loses its mark by the owner's yes, and is to be laid still by their no", () => {
    const told = (said: "yes" | "no") => {
      const facts = shopWithout({ coat: [aCoat({ id: coat })] });
      deliver(facts, "log-coat", coatBody());
      expect(answer(facts, "coat", coat, said).verdict).toBe("accepted");
      return facts.get("coat", coat);
    };
    expect(told("yes")).toMatchObject({ state: "applied" });
    expect(told("yes")?.needsWord).toBeUndefined();
    expect(told("no")).toEqual(aCoat({ id: coat }));
  });

  test("cannot be denied once another lies over it", () => {
    const facts = shopWithout({ coat: [aCoat({ id: coat }), aCoat({ id: id(122), position: 2 })] });
    deliver(facts, "log-coat", coatBody());
    facts.put("coat", aWetCoat({ id: id(122), position: 2 }));
    expect(refusalOf(answer(facts, "coat", coat, "no"))).toMatchObject({ kind: "malformed", field: "answer" });
    expect(answer(facts, "coat", coat, "yes").verdict).toBe("accepted");
  });
});

describe("a hand test that was delivered after the end", () => {
  const wet = () =>
    shopWithout({ coat: [aWetCoat({ id: coat })], reading: readEveryHour(monday8 - dayMs, monday8 + 2 * dayMs) });
  const body = { testId: test1, pieceId: dresser, subject: { of: "surface", surfaceId: top }, kind: "thumb-twist" };
  const mayCarry = (facts: MemoryFacts) => {
    const picture = pictureOf(facts, dresser);
    if (!picture) throw new Error("the dresser is gone");
    return gate(picture, { action: "move", carried: "hands" }, monday8 + hourMs + 60_000).state === "open";
  };

  test("opens nothing when it passed, and everything that it would have opened after the owner's yes", () => {
    const member = wet();
    deliver(member, "record-test", { ...body, result: "pass" }, fern);
    expect(mayCarry(member)).toBe(true);
    const facts = wet();
    expect(eventKinds(deliver(facts, "record-test", { ...body, result: "pass" }))).toEqual(["test-recorded"]);
    expect(facts.get("test", test1)).toMatchObject({ result: "pass", needsWord: late });
    expect(mayCarry(facts)).toBe(false);
    expect(eventKinds(answer(facts, "test", test1, "yes"))).toContain("late-report-confirmed");
    expect(mayCarry(facts)).toBe(true);
    expect(facts.get("test", test1)?.needsWord).toBeUndefined();
  });

  test("is heard at once when it failed, and no longer after the owner's no", () => {
    const facts = wet();
    deliver(facts, "record-test", { ...body, result: "fail" });
    expect(facts.get("test", test1)?.takenBackAt).toBeUndefined();
    expect(answer(facts, "test", test1, "no").verdict).toBe("accepted");
    expect(facts.get("test", test1)).toMatchObject({ takenBackAt: monday8 + hourMs });
  });

  test("of a helper is confirmed by the same yes", () => {
    const facts = shopWithout({ coat: [aWetCoat({ id: coat })] }, hanna);
    deliver(facts, "record-test", { ...body, result: "pass" }, hanna);
    answer(facts, "test", test1, "yes");
    expect(facts.all("confirmation")).toMatchObject([{ testId: test1, by: fern, pieceId: dresser }]);
  });
});

describe("a reading that was delivered after the end", () => {
  const body = { readingId: reading, roomId: loft, at: monday8, airCelsius: 31, humidityPercent: 20 };

  test("counts for no film before the owner's yes, and for every film after it", () => {
    const facts = shopWithout();
    deliver(facts, "record-reading", body);
    expect(facts.get("reading", reading)).toMatchObject({ needsWord: late, retractedAt: arrives });
    expect(answer(facts, "reading", reading, "yes").verdict).toBe("accepted");
    expect(facts.get("reading", reading)).toEqual({
      id: reading,
      roomId: loft,
      at: monday8,
      airCelsius: 31,
      humidityPercent: 20,
      source: "hand",
    });
  });

  test("stays withdrawn by the owner's no, and cannot be answered twice", () => {
    const facts = shopWithout();
    deliver(facts, "record-reading", body);
    answer(facts, "reading", reading, "no");
    expect(facts.get("reading", reading)).toMatchObject({ retractedAt: arrives });
    expect(refusalOf(answer(facts, "reading", reading, "yes"))).toEqual({ kind: "unknown-thing", field: "id" });
  });

  test("does not take the place of one that somebody else read meanwhile", () => {
    const facts = shopWithout();
    deliver(facts, "record-reading", body);
    const other = { ...body, readingId: id(702), airCelsius: 18 };
    expect(deliver(facts, "record-reading", other, fern).verdict).toBe("accepted");
    expect(refusalOf(answer(facts, "reading", reading, "yes"))).toMatchObject({
      kind: "reading-differs",
      airCelsius: 18,
    });
  });
});

describe("a carry that was delivered after the end", () => {
  const carried = () => {
    const facts = shopWithout();
    deliver(facts, "move-room", { pieceId: dresser, roomId: bench, carried: "hands", stance: "done" });
    const stay = facts.where("roomStay", "pieceId", dresser).find(({ needsWord }) => needsWord);
    if (!stay) throw new Error("nothing waits for a word");
    return { facts, stay };
  };

  test("stands as told until it is answered", () => {
    const { facts, stay } = carried();
    expect(facts.get("piece", dresser)?.roomId).toBe(bench);
    answer(facts, "carry", stay.id, "yes");
    expect(facts.get("roomStay", stay.id)).toMatchObject({ roomId: bench });
    expect(facts.get("roomStay", stay.id)?.needsWord).toBeUndefined();
  });

  test("never was, by the owner's no: the piece stood where it had stood before", () => {
    const { facts, stay } = carried();
    answer(facts, "carry", stay.id, "no");
    expect(facts.get("piece", dresser)?.roomId).toBe(loft);
    expect(facts.where("roomStay", "pieceId", dresser).map(({ roomId }) => roomId)).toEqual([loft, loft]);
  });

  test("that somebody has carried on since leaves the piece where it is now", () => {
    const { facts, stay } = carried();
    const on = { pieceId: dresser, roomId: loft, carried: "hands", stance: "done" };
    rule(facts, envelopeOf("move-room", on, fern, { at: monday8 + 3 * hourMs }));
    facts.put("piece", {
      ...(facts.get("piece", dresser) as NonNullable<ReturnType<typeof facts.get<"piece">>>),
      roomId: loft,
    });
    answer(facts, "carry", stay.id, "no");
    expect(facts.get("piece", dresser)?.roomId).toBe(loft);
    expect(facts.get("roomStay", stay.id)?.roomId).toBe(loft);
  });
});

test("nobody but an owner answers, and nothing that was told in time waits for an answer", () => {
  const facts = shopWithout({ coat: [aCoat({ id: coat })] });
  deliver(facts, "log-coat", coatBody());
  for (const by of [hanna, bruno])
    expect(refusalOf(answer(facts, "coat", coat, "yes", by))).toMatchObject({ kind: "may-not" });
  expect(refusalOf(answer(facts, "coat", coat, "yes", silas))).toMatchObject({ kind: "no-longer-a-member" });
  const other = shopWithDresser({ coat: [aWetCoat({ id: coat })] });
  expect(refusalOf(answer(other, "coat", coat, "yes"))).toEqual({ kind: "unknown-thing", field: "id" });
});
