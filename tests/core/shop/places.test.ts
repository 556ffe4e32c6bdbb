import { expect, test } from "vitest";
import { dayMs } from "~/core/units";
import {
  alreadySo,
  aPiece,
  aRoom,
  bench,
  board,
  bruno,
  dresser,
  envelopeOf,
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

const yard = id(6);
const rack = id(7);

test("a partner puts up a board and renames it", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("add-board", { boardId: yard, name: "Yard" }, silas));
  rule(facts, envelopeOf("edit-board", { boardId: yard, field: "name", was: "Yard", value: "Back yard" }, silas));
  expect(facts.get("board", yard)).toEqual({ id: yard, name: "Back yard" });
});

test.each([
  ["helper", hanna],
  ["bookkeeper", bruno],
])("boards and rooms are not for the %s to arrange", (_, by) => {
  const bodies = {
    "add-board": { boardId: yard, name: "Yard" },
    "edit-board": { boardId: board, field: "name", was: "Floor", value: "Shop" },
    "close-board": { boardId: board },
    "add-room": { roomId: yard, name: "Yard", uses: ["store"], usualCelsius: 12, usualHumidityPercent: 70 },
    "edit-room": { roomId: loft, field: "name", was: "Loft", value: "Attic" },
    "close-room": { roomId: loft },
  };
  for (const [kind, body] of Object.entries(bodies)) {
    expect(refusalOf(rule(shopWith(), envelopeOf(kind, body, by)))).toMatchObject({
      kind: "may-not",
      needs: ["owner", "partner"],
    });
  }
});

test("what is not there is neither edited nor closed", () => {
  const bodies = {
    "edit-board": { boardId: id(99), field: "name", was: "Floor", value: "Shop" },
    "close-board": { boardId: id(99) },
    "edit-room": { roomId: id(99), field: "name", was: "Loft", value: "Attic" },
    "close-room": { roomId: id(99) },
  };
  for (const [kind, body] of Object.entries(bodies)) {
    const field = kind.endsWith("board") ? "boardId" : "roomId";
    expect(refusalOf(rule(shopWith(), envelopeOf(kind, body, fern)))).toEqual({ kind: "unknown-thing", field });
  }
});

test("a board with a piece on it stays up; a piece that has gone does not hold it", () => {
  const facts = shopWith({ piece: [aPiece(), aPiece({ id: id(106), number: "K-202", archivedAt: monday8 - dayMs })] });
  const refusal = refusalOf(rule(facts, envelopeOf("close-board", { boardId: board }, fern)));
  expect(refusal).toEqual({ kind: "still-in-use", by: [dresser] });

  facts.put("piece", aPiece({ archivedAt: monday8 - dayMs }));
  rule(facts, envelopeOf("close-board", { boardId: board }, fern));
  expect(facts.get("board", board)?.closedOn).toBe("2026-10-26");
  expect(rule(facts, envelopeOf("close-board", { boardId: board }, fern))).toEqual(alreadySo);
});

test("a board is closed on the shop's day, not on Greenwich's", () => {
  const facts = shopWith();
  // Monday 22:00 in New York is Tuesday 02:00 in Greenwich
  rule(facts, envelopeOf("close-board", { boardId: board }, fern, { at: Date.UTC(2026, 9, 27, 2) }));
  expect(facts.get("board", board)?.closedOn).toBe("2026-10-26");
});

test("a new room is read every three hours and has no racks and no flame unless that is said", () => {
  const facts = shopWith();
  const yardBody = { roomId: yard, name: "Yard", uses: ["store"], usualCelsius: 12.5, usualHumidityPercent: 70 };
  rule(facts, envelopeOf("add-room", yardBody, fern));
  const { roomId, ...fields } = yardBody;
  expect(facts.get("room", yard)).toEqual({ id: roomId, ...fields, gapLimitMin: 180, racks: [], hasOpenFlame: false });
});

test.each([
  [{ uses: [] }, { kind: "malformed", field: "uses" }],
  [{ usualCelsius: 61 }, { kind: "out-of-bounds", found: 61, max: 60 }],
  [
    { gapLimitMin: 29 },
    { kind: "out-of-bounds", field: "longest gap between readings", found: 29, min: 30, max: 1440 },
  ],
  [
    { racks: [1, 2].map(() => ({ rackId: rack, name: "Rack", squareDecimetres: 60 })) },
    { kind: "malformed", field: "racks" },
  ],
])("a room is not added with %o", (part, expected) => {
  const body = { roomId: yard, name: "Yard", uses: ["store"], usualCelsius: 12, usualHumidityPercent: 70, ...part };
  expect(refusalOf(rule(shopWith(), envelopeOf("add-room", body, fern)))).toMatchObject(expected);
});

test.each([
  ["name", "Loft", "Attic"],
  ["uses", ["spray", "cure"], ["cure"]],
  ["usualCelsius", 20, 18.5],
  ["usualHumidityPercent", 50, 55],
  ["gapLimitMin", 180, 60],
  ["racks", [], [{ rackId: rack, name: "By the window", squareDecimetres: 400 }]],
  ["hasOpenFlame", false, true],
] as const)("a room's %s can be changed, field by field", (field, was, value) => {
  const facts = shopWith();
  rule(facts, envelopeOf("edit-room", { roomId: loft, field, was, value }, silas));
  expect(facts.get("room", loft)?.[field]).toEqual(value);
});

test("a field that another changed meanwhile is not written over", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("edit-room", { roomId: loft, field: "usualCelsius", was: 20, value: 17 }, silas));
  const second = rule(
    facts,
    envelopeOf("edit-room", { roomId: loft, field: "usualCelsius", was: 20, value: 22 }, fern),
  );
  expect(refusalOf(second)).toEqual({ kind: "changed-meanwhile", field: "usualCelsius", was: 20, theirs: 17 });
});

test("a rack is not taken away from under a piece", () => {
  const racks = [{ rackId: rack, name: "By the window", squareDecimetres: 400 }];
  const facts = shopWith({ room: [aRoom({ id: loft, racks })], piece: [aPiece({ rackId: rack })] });
  const refusal = refusalOf(
    rule(facts, envelopeOf("edit-room", { roomId: loft, field: "racks", was: racks, value: [] }, fern)),
  );
  expect(refusal).toEqual({ kind: "still-in-use", by: [dresser] });
});

test("a room in which a piece stands is not closed; an empty one is, once", () => {
  const facts = shopWith({ piece: [aPiece()] });
  expect(refusalOf(rule(facts, envelopeOf("close-room", { roomId: loft }, fern)))).toEqual({
    kind: "still-in-use",
    by: [dresser],
  });
  rule(facts, envelopeOf("close-room", { roomId: bench }, fern));
  expect(facts.get("room", bench)?.closedAt).toBe(monday8);
  expect(rule(facts, envelopeOf("close-room", { roomId: bench }, fern))).toEqual(alreadySo);
});
