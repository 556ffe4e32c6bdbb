import { describe, expect, test } from "vitest";
import { weekContaining } from "~/core/calendar";
import { spanOf, spanSeconds } from "~/core/labour/entry";
import { splitSeconds, workedAreas } from "~/core/labour/split";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  anEntry,
  aPiece,
  aSurface,
  dresser,
  envelopeOf,
  fern,
  hanna,
  id,
  refusalOf,
  rule,
  shopWith,
  silas,
  theShop,
} from "../../support/shop";
import { at } from "./demo-floor";

const timer = id(401);
const entryOf = (facts: MemoryFacts, entryId = timer) => {
  const entry = facts.get("entry", entryId);
  if (!entry) throw new Error(`no entry ${entryId}`);
  return entry;
};

// scenario 4
describe("a timer that has run since Tuesday 19:30, asked about on Wednesday at 07:45", () => {
  const startedAt = at("10-27 19:30 EDT");
  const asked = at("10-28 07:45 EDT");
  const stoppedAt = at("10-27 23:00 EDT");
  const forgotten = () => shopWith({ piece: [aPiece()], entry: [anEntry({ id: timer, memberId: silas, startedAt })] });
  const answer = (by: string) =>
    envelopeOf("correct-entry", { entryId: timer, endedAt: stoppedAt, why: "Stopped at eleven" }, by, { at: asked });

  test("is 12 600 s by its person's answer of 23:00, and keeps that it had run for 12 h 15 min", () => {
    const facts = forgotten();
    expect(rule(facts, answer(silas)).verdict).toBe("accepted");
    const entry = entryOf(facts);
    expect([entry.endedAt, spanSeconds(spanOf(entry, asked)), entry.needsWord]).toEqual([stoppedAt, 12_600, undefined]);
    expect(entry.versions).toMatchObject([{ by: silas, at: asked, was: { startedAt, runningSeconds: 44_100 } }]);
    expect(facts.all("notice")).toEqual([]);
  });

  test("is not another's to answer, unless the owner does, and then its person is told", () => {
    expect(refusalOf(rule(forgotten(), answer(hanna)))).toEqual({
      kind: "may-not",
      role: "helper",
      needs: ["owner", "bookkeeper"],
    });
    const facts = forgotten();
    expect(rule(facts, answer(fern)).verdict).toBe("accepted");
    expect(facts.where("notice", "memberId", silas)).toMatchObject([
      { about: "entry-corrected", byMemberId: fern, detail: { entryId: timer, why: "Stopped at eleven" } },
    ]);
  });
});

// scenario 13
test("a session from Sunday 00:30 EDT to 02:10 EST is 9600 s, shared by area 3151 + 2345 + 4104, in a week of 169 hours", () => {
  const pieces = [
    { id: id(0x201), number: "K-201", squareDecimetres: 430 },
    { id: id(0x203), number: "K-203", squareDecimetres: 320 },
    { id: id(0x207), number: "K-207", squareDecimetres: 560 },
  ];
  const facts = shopWith({
    piece: pieces.map(({ id: pieceId, number }) => aPiece({ id: pieceId, number })),
    surface: pieces.map(({ id: pieceId, squareDecimetres }, index) =>
      aSurface({ id: id(0x300 + index), pieceId, squareDecimetres }),
    ),
  });
  const [startedAt, stoppedAt] = [at("11-01 00:30 EDT"), at("11-01 02:10 EST")];
  const subjects = pieces.map(({ id: pieceId }) => ({ pieceId }));
  const body = { entryId: timer, subjects, workKind: "bench", splitRule: "area" };
  rule(facts, envelopeOf("start-timer", body, fern, { at: startedAt }));
  rule(facts, envelopeOf("stop-timer", { entryId: timer }, fern, { at: stoppedAt }));
  const entry = entryOf(facts);
  const span = spanOf(entry, stoppedAt);
  expect(spanSeconds(span)).toBe(9600);
  const numberOf = (pieceId: string) => facts.get("piece", pieceId)?.number ?? "";
  const shares = splitSeconds(entry, span, { numberOf, areaOf: workedAreas([], facts.all("surface")) });
  expect(shares).toEqual({ ok: true, value: [3151, 2345, 4104] });
  const week = weekContaining(startedAt, theShop.zone, theShop.weekStartsOn);
  expect([week.startsOn, week.hours]).toEqual(["2026-10-26", 169]);
  expect(week).toEqual(weekContaining(stoppedAt, theShop.zone, theShop.weekStartsOn));
});

// scenario 20
test("a phone two days fast is corrected silently; once its battery has died, it asks when, and the answer stands", () => {
  const [first, second] = [id(402), id(403)];
  const facts = shopWith({
    piece: [aPiece()],
    entry: [
      anEntry({ id: first, memberId: silas, startedAt: at("10-27 19:00 EDT") }),
      anEntry({
        id: second,
        memberId: silas,
        startedAt: at("10-27 21:00 EDT"),
        subjects: [{ pieceId: dresser, stage: "prep" }],
      }),
    ],
  });
  const arrives = at("10-27 23:30 EDT");
  const stop = (entryId: string, travel: Parameters<typeof envelopeOf>[3]) =>
    envelopeOf("stop-timer", { entryId }, silas, travel);
  const before = { at: at("10-27 20:45 EDT") + 2 * dayMs, offsetMs: -172_800_000 };
  expect(rule(facts, stop(first, before), arrives).verdict).toBe("accepted");
  expect(entryOf(facts, first).endedAt).toBe(at("10-27 20:45 EDT"));
  const jumpedAt = at("10-27 22:50 EDT") + 3 * hourMs;
  expect(refusalOf(rule(facts, stop(second, { at: jumpedAt, offsetMs: null }), arrives))).toEqual({
    kind: "clock-not-trusted",
    deviceAt: jumpedAt,
  });
  expect(entryOf(facts, second).endedAt).toBeUndefined();
  const typed = { at: jumpedAt + minuteMs, offsetMs: null, happenedAt: at("10-27 22:50 EDT") };
  expect(rule(facts, stop(second, typed), arrives).verdict).toBe("accepted");
  expect(entryOf(facts, second).endedAt).toBe(at("10-27 22:50 EDT"));
});
