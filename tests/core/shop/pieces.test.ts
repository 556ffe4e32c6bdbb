import { describe, expect, test } from "vitest";
import { freeNumber } from "~/core/shop/intents/pieces";
import { dayMs } from "~/core/units";
import {
  aClaim,
  alreadySo,
  anEntry,
  aPiece,
  aRoom,
  aTask,
  bench,
  board,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  loft,
  monday8,
  refusalOf,
  rule,
  shopWith,
  silas,
} from "../support/shop";

const [chair, seat, legs, outside] = [id(131), id(132), id(133), id(134)];
const body = { pieceId: chair, number: "K-210", boardId: board, name: "Wicker chair", roomId: bench };

describe("a piece that comes", () => {
  test("stands in its room from when it came, with its surfaces and what nobody knows yet left open", () => {
    const facts = shopWith();
    const surfaces = [
      { surfaceId: seat, name: "Seat", squareDecimetres: 20 },
      { surfaceId: legs, name: "Legs", squareDecimetres: 30, substrate: "painted", bleedRisk: "yes" },
    ];
    const happenedAt = monday8 - 2 * dayMs;
    const came = envelopeOf("add-piece", { ...body, surfaces }, hanna, { happenedAt });
    const ruling = rule(facts, came);
    expect(eventKinds(ruling)).toEqual(["piece-added"]);
    expect(facts.get("piece", chair)).toEqual({
      id: chair,
      number: "K-210",
      boardId: board,
      name: "Wicker chair",
      kind: "other",
      partCount: 1,
      roomId: bench,
      acquiredOn: "2026-10-24",
      stage: "acquisition",
      stageSinceAt: happenedAt,
      isPainted: "unknown",
    });
    expect(facts.where("surface", "pieceId", chair)).toMatchObject([
      { name: "Seat", squareDecimetres: 20, substrate: "bare", isPaleWanted: false, bleedRisk: "unknown" },
      { name: "Legs", substrate: "painted", bleedRisk: "yes" },
    ]);
    expect(facts.where("roomStay", "pieceId", chair)).toMatchObject([
      { roomId: bench, fromAt: happenedAt, how: "arrived" },
    ]);
    expect(facts.all("notice")).toEqual([]);
  });

  test("with a number that was given meanwhile gets the next free one, and whoever wrote the tag is told", () => {
    const facts = shopWith({ piece: [aPiece({ number: "K-210" }), aPiece({ id: id(140), number: "K-211" })] });
    rule(facts, envelopeOf("add-piece", body, silas));
    expect(facts.get("piece", chair)?.number).toBe("K-212");
    expect(facts.where("notice", "memberId", silas)).toMatchObject([
      { about: "number-changed", pieceId: chair, detail: { asked: "K-210", number: "K-212" } },
    ]);
  });

  test("is put on a board and in a room that are in use", () => {
    const facts = shopWith({
      board: [{ id: outside, name: "Old", closedOn: "2026-10-01" }],
      room: [aRoom({ id: outside, closedAt: monday8 - dayMs })],
    });
    for (const field of ["boardId", "roomId"] as const) {
      for (const nowhere of [outside, id(99)]) {
        const refusal = refusalOf(rule(facts, envelopeOf("add-piece", { ...body, [field]: nowhere }, silas)));
        expect(refusal).toEqual({ kind: "unknown-thing", field });
      }
    }
  });

  test("was not acquired tomorrow", () => {
    const on = (acquiredOn: string) => rule(shopWith(), envelopeOf("add-piece", { ...body, acquiredOn }, silas));
    expect(on("2026-10-26").verdict).toBe("accepted");
    expect(refusalOf(on("2026-10-27"))).toEqual({
      kind: "out-of-bounds",
      field: "acquired on",
      found: "2026-10-27",
      unit: "",
    });
  });

  test.each([
    ["partCount", 25, { field: "number of parts", min: 1, max: 24, unit: "parts" }],
    ["madeYear", 1499, { field: "year it was made", min: 1500, max: 2200, unit: "" }],
  ])("of impossible %s is refused with what is possible", (field, found, limits) => {
    const refusal = refusalOf(rule(shopWith(), envelopeOf("add-piece", { ...body, [field]: found }, silas)));
    expect(refusal).toEqual({ kind: "out-of-bounds", found, ...limits });
  });

  test("is at most six metres wide", () => {
    const wide = (widthMillimetres: number) =>
      rule(shopWith(), envelopeOf("add-piece", { ...body, widthMillimetres }, silas));
    expect(wide(6000).verdict).toBe("accepted");
    expect(refusalOf(wide(6001))).toMatchObject({ kind: "out-of-bounds", found: 6001, max: 6000 });
  });
});

test("the next free number keeps the pattern of the tag and its twelve characters", () => {
  expect(freeNumber("K-201", new Set())).toBe("K-201");
  expect(freeNumber("K-009", new Set(["K-009", "K-010"]))).toBe("K-011");
  expect(freeNumber("Bench", new Set(["Bench"]))).toBe("Bench2");
  expect(freeNumber("K-199", new Set(["K-199", "K-200"]))).toBe("K-201");
  expect(freeNumber("ABCDEFGHIJK9", new Set(["ABCDEFGHIJK9"]))).toBe("ABCDEFGHIJ10");
});

describe("an edit of a piece", () => {
  const edit = (more: Record<string, unknown>, by = silas) =>
    envelopeOf("edit-piece", { pieceId: dresser, ...more }, by);
  const withPiece = () =>
    shopWith({ piece: [aPiece()], board: [{ id: outside, name: "Old", closedOn: "2026-10-01" }] });

  test("changes one field that is still what it was on the device", () => {
    const facts = withPiece();
    const rename = { field: "name", was: "Tall dresser", value: "Tall oak dresser" };
    expect(eventKinds(rule(facts, edit(rename)))).toEqual(["piece-changed"]);
    expect(facts.get("piece", dresser)?.name).toBe("Tall oak dresser");
    expect(rule(facts, edit(rename))).toEqual(alreadySo);
    expect(refusalOf(rule(facts, edit({ ...rename, value: "Big dresser" })))).toEqual({
      kind: "changed-meanwhile",
      field: "name",
      was: "Tall dresser",
      theirs: "Tall oak dresser",
    });
  });

  test("takes an optional field away when it says nothing", () => {
    const facts = shopWith({ piece: [aPiece({ madeYear: 1920 })] });
    rule(facts, edit({ field: "madeYear", was: 1920 }));
    expect(facts.get("piece", dresser)).toEqual(aPiece());
  });

  test("moves it to a board in use, is the partners' to make, and finds only pieces that there are", () => {
    const away = edit({ field: "boardId", was: board, value: outside });
    expect(refusalOf(rule(withPiece(), away))).toEqual({ kind: "unknown-thing", field: "boardId" });
    expect(refusalOf(rule(withPiece(), edit({ field: "wood", value: "Oak" }, hanna)))).toEqual({
      kind: "may-not",
      role: "helper",
      needs: ["owner", "partner"],
    });
    expect(refusalOf(rule(shopWith(), edit({ field: "wood", value: "Oak" })))).toEqual({
      kind: "unknown-thing",
      field: "pieceId",
    });
  });

  test("does not reach its stage or its room: those move", () => {
    for (const field of ["stage", "roomId", "number"]) {
      expect(refusalOf(rule(withPiece(), edit({ field, was: "finish", value: "sold" })))).toMatchObject({
        kind: "malformed",
        field: "field",
      });
    }
  });
});

describe("a piece leaves the floor", () => {
  const leave = (by = silas) =>
    envelopeOf("archive-piece", { pieceId: dresser, how: "thrown-out", why: "Worm in every leg" }, by);

  test("when nobody's hand is on it, once", () => {
    const facts = shopWith({ piece: [aPiece()] });
    expect(eventKinds(rule(facts, leave()))).toEqual(["piece-archived"]);
    expect(facts.get("piece", dresser)?.archivedAt).toBe(monday8);
    expect(rule(facts, leave(fern))).toEqual(alreadySo);
  });

  test("not while somebody holds a task of it or a timer runs on it", () => {
    const facts = shopWith({
      piece: [aPiece()],
      task: [aTask({ id: id(201) })],
      claim: [
        aClaim({ id: id(301), taskId: id(201) }),
        aClaim({ id: id(302), taskId: id(201), endedAt: monday8 - dayMs }),
      ],
      entry: [anEntry({ id: id(401) }), anEntry({ id: id(402), endedAt: monday8 - 1 })],
    });
    expect(refusalOf(rule(facts, leave()))).toEqual({
      kind: "still-in-use",
      by: [id(301), id(401)],
      subjectIds: [dresser],
    });
  });

  test("by a partner's hand, and a piece that there is", () => {
    expect(refusalOf(rule(shopWith({ piece: [aPiece()] }), leave(hanna)))).toMatchObject({
      kind: "may-not",
      role: "helper",
    });
    expect(refusalOf(rule(shopWith(), leave()))).toEqual({ kind: "unknown-thing", field: "pieceId" });
  });

  test("and comes back with a reason", () => {
    const facts = shopWith({ piece: [aPiece({ archivedAt: monday8 - dayMs })] });
    const back = { pieceId: dresser, why: "The buyer brought it back" };
    expect(eventKinds(rule(facts, envelopeOf("restore-piece", back, fern)))).toEqual(["piece-restored"]);
    expect(facts.get("piece", dresser)).toEqual(aPiece());
    expect(rule(facts, envelopeOf("restore-piece", back, fern))).toEqual(alreadySo);
    expect(refusalOf(rule(facts, envelopeOf("restore-piece", back, bruno))).kind).toBe("may-not");
    expect(refusalOf(rule(shopWith(), envelopeOf("restore-piece", back, fern)))).toEqual({
      kind: "unknown-thing",
      field: "pieceId",
    });
  });
});

test("a piece that came straight to the loft stands in the loft", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("add-piece", { ...body, roomId: loft, stage: "cure" }, silas));
  expect(facts.get("piece", chair)).toMatchObject({ roomId: loft, stage: "cure" });
});
