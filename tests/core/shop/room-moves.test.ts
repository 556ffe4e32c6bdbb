import { describe, expect, test } from "vitest";
import { dayMs, hourMs } from "~/core/units";
import {
  alreadySo,
  aPiece,
  aProduct,
  aRoom,
  aSheet,
  aStay,
  aSurface,
  aWetCoat,
  bench,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  hanna,
  id,
  loft,
  monday8,
  type Rows,
  readEveryHour,
  refusalOf,
  rule,
  shopWith,
  silas,
  van,
} from "../support/shop";

const [rack, closed] = [id(150), id(151)];
const arrivedAt = monday8 - 25 * dayMs;
const unpainted = (rows: Rows = {}) =>
  shopWith({
    piece: [aPiece()],
    roomStay: [aStay()],
    room: [
      aRoom({
        id: bench,
        name: "Bench room",
        uses: ["bench"],
        racks: [{ rackId: rack, name: "Wall", squareDecimetres: 400 }],
      }),
      aRoom({ id: closed, closedAt: monday8 - dayMs }),
    ],
    ...rows,
  });
const move = (more: Record<string, unknown> = {}, by = silas, at = monday8, happenedAt?: number) =>
  envelopeOf("move-room", { pieceId: dresser, roomId: bench, carried: "hands", stance: "asking", ...more }, by, {
    at,
    happenedAt,
  });

describe("a piece that is carried", () => {
  test("stands in the room to which it was carried, from when it was", () => {
    const facts = unpainted();
    expect(eventKinds(rule(facts, move({ rackId: rack })))).toEqual(["room-moved"]);
    expect(facts.get("piece", dresser)).toMatchObject({ roomId: bench, rackId: rack });
    expect(facts.where("roomStay", "pieceId", dresser)).toMatchObject([
      { roomId: loft, fromAt: arrivedAt, toAt: monday8 },
      { roomId: bench, rackId: rack, fromAt: monday8, how: "hands" },
    ]);
    expect(rule(facts, move({ rackId: rack }))).toEqual(alreadySo);
  });

  test("is where the later of two moves says, in any order of arrival", () => {
    const [nine, ten] = [monday8 + hourMs, monday8 + 2 * hourMs];
    const toBench = () => move({}, hanna, nine);
    const toVan = () => move({ roomId: van }, silas, ten);
    const [inOrder, swapped] = [unpainted(), unpainted()];
    rule(inOrder, toBench(), ten);
    rule(inOrder, toVan(), ten);
    rule(swapped, toVan(), ten);
    rule(swapped, toBench(), ten + hourMs);
    for (const facts of [inOrder, swapped]) {
      expect(facts.get("piece", dresser)?.roomId).toBe(van);
      const stays = facts.where("roomStay", "pieceId", dresser).sort((one, other) => one.fromAt - other.fromAt);
      expect(stays.map(({ roomId, fromAt, toAt }) => [roomId, fromAt, toAt])).toEqual([
        [loft, arrivedAt, nine],
        [bench, nine, ten],
        [van, ten, undefined],
      ]);
    }
  });

  test("at one moment to two rooms stands in the one that was told of last", () => {
    const facts = unpainted();
    rule(facts, move({}, hanna));
    rule(facts, move({ roomId: van }, silas));
    expect(facts.get("piece", dresser)?.roomId).toBe(van);
    expect(facts.where("roomStay", "pieceId", dresser)).toHaveLength(2);
  });
});

describe("a fresh film", () => {
  /** Painted until seven at the sheet's own air: tack-free after 60 min, handled after 1440. */
  const painted = () =>
    unpainted({
      surface: [aSurface()],
      product: [aProduct()],
      sheet: [aSheet()],
      coat: [aWetCoat({ id: id(121) })],
      reading: readEveryHour(monday8 - 9 * dayMs, monday8 + 2 * dayMs),
    });
  const handled = monday8 - hourMs + dayMs;

  test("is carried on bearers once it is tack-free, gripped only when it may be handled", () => {
    expect(rule(painted(), move({ carried: "bearers" })).verdict).toBe("accepted");
    expect(refusalOf(rule(painted(), move({ carried: "bearers" }, silas, monday8 - 1)))).toMatchObject({
      kind: "gate-shut",
      action: "move",
      heldBy: { milestone: "tack-free" },
      safeAt: monday8,
    });
    expect(refusalOf(rule(painted(), move({}, silas, handled - 1)))).toMatchObject({
      kind: "gate-shut",
      heldBy: { milestone: "handle" },
      safeAt: handled,
      earliestAt: handled,
    });
    expect(rule(painted(), move({}, silas, handled)).verdict).toBe("accepted");
  });

  test("that was gripped early all the same is where it was carried, and somebody looks for marks", () => {
    const facts = painted();
    rule(facts, move({ stance: "done" }, hanna));
    expect(facts.get("piece", dresser)?.roomId).toBe(bench);
    expect(facts.where("passedOver", "pieceId", dresser)).toMatchObject([
      { by: hanna, at: monday8, evidence: { action: "move", state: "shut", safeAt: handled } },
    ]);
    expect(facts.where("task", "pieceId", dresser)).toMatchObject([{ sort: "inspect", state: "open" }]);
    const ids = new Set(
      [...facts.all("task"), ...facts.all("roomStay"), ...facts.all("passedOver")].map((row) => row.id),
    );
    expect(ids.size).toBe(4);
  });
});

describe("a move is refused", () => {
  test("to or of what is not here", () => {
    expect(refusalOf(rule(shopWith(), move()))).toEqual({ kind: "unknown-thing", field: "pieceId" });
    for (const roomId of [closed, id(99)]) {
      expect(refusalOf(rule(unpainted(), move({ roomId })))).toEqual({ kind: "unknown-thing", field: "roomId" });
    }
    expect(refusalOf(rule(unpainted(), move({ roomId: van, rackId: rack })))).toEqual({
      kind: "unknown-thing",
      field: "rackId",
    });
  });

  test("before the piece came or after it left", () => {
    const soon = unpainted({ roomStay: [aStay({ fromAt: monday8 - hourMs })] });
    expect(refusalOf(rule(soon, move({}, silas, monday8, monday8 - hourMs - 1)))).toEqual({
      kind: "before-it-existed",
      thing: "K-201",
      happenedAt: monday8 - hourMs - 1,
      cameAt: monday8 - hourMs,
    });
    const gone = unpainted({ piece: [aPiece({ archivedAt: monday8 - hourMs })] });
    expect(refusalOf(rule(gone, move({}, silas, monday8, monday8 - hourMs)))).toEqual({
      kind: "after-it-left",
      thing: "K-201",
      happenedAt: monday8 - hourMs,
      leftAt: monday8 - hourMs,
    });
    expect(rule(gone, move({}, silas, monday8, monday8 - hourMs - 1)).verdict).toBe("accepted");
  });

  test("further back than a day to a helper and a fortnight to a partner", () => {
    expect(rule(unpainted(), move({}, hanna, monday8, monday8 - dayMs)).verdict).toBe("accepted");
    expect(refusalOf(rule(unpainted(), move({}, hanna, monday8, monday8 - dayMs - 1)))).toEqual({
      kind: "too-far-back",
      happenedAt: monday8 - dayMs - 1,
      oldestAt: monday8 - dayMs,
      role: "helper",
      mayAsk: ["owner", "partner"],
    });
    expect(rule(unpainted(), move({}, silas, monday8, monday8 - 14 * dayMs)).verdict).toBe("accepted");
    expect(refusalOf(rule(unpainted(), move({}, silas, monday8, monday8 - 14 * dayMs - 1)))).toMatchObject({
      kind: "too-far-back",
      role: "partner",
    });
  });

  test("to the office", () => {
    expect(refusalOf(rule(unpainted(), move({}, bruno)))).toMatchObject({ kind: "may-not", role: "bookkeeper" });
  });
});
