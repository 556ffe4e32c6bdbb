import { describe, expect, test } from "vitest";
import { spanOf, spanSeconds, wordNeeded } from "~/core/labour/entry";
import {
  aPiece,
  aSurface,
  aTask,
  dresser,
  envelopeOf,
  fern,
  hanna,
  id,
  loft,
  paintSheet,
  refusalOf,
  rule,
  shopWith,
  shopWithDresser,
  silas,
  top,
} from "../../support/shop";
import { at } from "./demo-floor";

// scenario 6
describe("a helper whose place ended on Friday at 13:05, and whose phone comes back on Saturday", () => {
  const [timer, late, test1] = [id(401), id(402), id(601)];
  const endedAt = at("10-30 13:05 EDT");
  const arrives = at("10-31 09:00 EDT");
  function saturday() {
    const facts = shopWith({ piece: [aPiece()], surface: [aSurface()], task: [aTask({ id: id(201) })] });
    rule(facts, envelopeOf("end-membership", { memberId: hanna, why: "Moves away" }, fern, { at: endedAt }));
    const tell = (kind: string, body: unknown, when: string) =>
      rule(facts, envelopeOf(kind, body, hanna, { at: at(when) }), arrives);
    const work = { subjects: [{ pieceId: dresser }], workKind: "bench" };
    const rulings = {
      start: tell("start-timer", { entryId: timer, ...work }, "10-30 08:53 EDT"),
      claim: tell("claim-task", { claimId: id(301), taskId: id(201), memberIds: [hanna] }, "10-30 12:00 EDT"),
      test: tell(
        "record-test",
        {
          testId: test1,
          pieceId: dresser,
          subject: { of: "surface", surfaceId: top },
          kind: "paper-drop",
          result: "pass",
        },
        "10-30 12:30 EDT",
      ),
      stop: tell("stop-timer", { entryId: timer }, "10-30 13:00 EDT"),
      entry: tell(
        "add-entry",
        { entryId: late, memberId: hanna, startedAt: at("10-30 14:00 EDT"), endedAt: at("10-30 15:00 EDT"), ...work },
        "10-30 15:00 EDT",
      ),
    };
    return { facts, rulings };
  }

  test("brings hours and a test that stand, and a claim that does not", () => {
    const { facts, rulings } = saturday();
    const { claim, ...reports } = rulings;
    expect(Object.entries(reports).map(([what, ruling]) => [what, ruling.verdict])).toEqual([
      ["start", "accepted"],
      ["test", "accepted"],
      ["stop", "accepted"],
      ["entry", "accepted"],
    ]);
    expect(refusalOf(claim)).toEqual({ kind: "no-longer-a-member", endedAt });
    expect(facts.get("test", test1)?.by).toBe(hanna);
    expect(facts.all("claim")).toEqual([]);
  });

  test("has 4 h 07 min and 1 h that count only after the owner's word, the second marked as after the end", () => {
    const { facts } = saturday();
    const waiting = facts
      .entries(hanna, 0)
      .map((entry) => [entry.id, spanSeconds(spanOf(entry, arrives)), wordNeeded(entry, arrives)]);
    expect(waiting).toEqual([
      [timer, 4 * 3600 + 7 * 60, "delivered-after-the-end"],
      [late, 3600, "after-the-end"],
    ]);
  });

  test("is answered by the owner with yes and no: the yes counts, the no is struck and kept", () => {
    const { facts } = saturday();
    const answer = (more: Record<string, unknown>) =>
      rule(facts, envelopeOf("correct-entry", { why: "As agreed", ...more }, fern, { at: arrives }));
    expect(answer({ entryId: timer, isConfirmed: true }).verdict).toBe("accepted");
    expect(answer({ entryId: late, isStruck: true }).verdict).toBe("accepted");
    expect(facts.get("entry", timer)?.needsWord).toBeUndefined();
    expect(facts.get("entry", timer)?.versions).toMatchObject([{ by: fern, why: "As agreed" }]);
    expect(facts.get("entry", late)?.struckAt).toBe(arrives);
  });
});

// scenario 7
describe("a partner who is a helper from Thursday noon, and whose morning arrives at 18:00", () => {
  const arrives = at("10-29 18:00 EDT");
  function thursday() {
    const facts = shopWithDresser();
    // neither sprays nor brushes: as a helper no coat of theirs would count
    const row = facts.get("member", silas);
    if (!row) throw new Error("Silas is missing");
    facts.put("member", { ...row, skills: [] });
    const demote = { memberId: silas, role: "helper" };
    const ruling = rule(facts, envelopeOf("change-role", demote, fern, { at: at("10-29 12:00 EDT") }));
    expect(ruling.verdict).toBe("accepted");
    return facts;
  }
  const coat = (when: string) => {
    const moment = at(when);
    const body = {
      coatId: id(121),
      surfaceId: top,
      sheetId: paintSheet,
      startedAt: moment,
      endedAt: moment,
      by: [silas],
      roomId: loft,
      stance: "done",
    };
    return envelopeOf("log-coat", body, silas, { at: moment });
  };

  test("laid the coat of 11:30 as a partner; one of 12:30 would be a helper's", () => {
    const facts = thursday();
    expect(rule(facts, coat("10-29 11:30 EDT"), arrives).verdict).toBe("accepted");
    expect(facts.get("coat", id(121))?.state).toBe("applied");
    expect(refusalOf(rule(thursday(), coat("10-29 12:30 EDT"), arrives))).toMatchObject({
      kind: "skill-missing",
      skills: ["spray", "brush"],
    });
  });

  test("gave no word at 11:00, nor changed a piece at 13:00: they are a helper now", () => {
    const facts = thursday();
    const promise = {
      promiseId: id(501),
      pieceId: dresser,
      sort: "photos",
      due: { day: "2026-10-31" },
      toWhom: "buyer",
    };
    const wood = { pieceId: dresser, field: "wood", value: "Oak" };
    const told = (kind: string, body: unknown, when: string) =>
      refusalOf(rule(facts, envelopeOf(kind, body, silas, { at: at(when) }), arrives));
    const mayNot = { kind: "may-not", role: "helper", needs: ["owner", "partner"] };
    expect(told("promise", promise, "10-29 11:00 EDT")).toEqual(mayNot);
    expect(told("edit-piece", wood, "10-29 13:00 EDT")).toEqual(mayNot);
    expect(facts.all("promise")).toEqual([]);
  });
});
