import fc from "fast-check";
import { describe, expect, test } from "vitest";
import * as Y from "yjs";
import { thinReadings } from "~/core/climate/history";
import { airDayKey, type FloorTable, packAir } from "~/core/shop/floor";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import type { Piece, Row, Shop } from "~/core/shop/tables";
import { dayMs, type InstantMs, minuteMs } from "~/core/units";
import { FloorFacts } from "~/device/floor-facts";
import { OverlayFacts } from "~/device/overlay-facts";
import { type Outlook, outlookHere, outlookOf } from "~/ui/floor/outlook";
import { stripView } from "~/ui/floor/strip-view";
import { safeView } from "~/ui/safe/safe-view";
import type { FloorEntry } from "../../../server/floor-document";
import { coat, l1, o2, pair, reading, stay, surface } from "../../core/cure/week";
import { floorOf } from "../../device/support/floor";
import {
  at,
  body,
  bookcase,
  chairs,
  chest,
  dresser,
  faces,
  finisher,
  fronts,
  handTest,
  helper,
  id,
  loft,
  nightstands,
  now,
  promised,
  rails,
  railsClaim,
  repairer,
  sideboard,
  sprayRoom,
  table,
  theShop,
  top,
  wardrobe,
  wednesday,
  zone,
} from "./wednesday";

const pieces = [dresser, nightstands, table, wardrobe, bookcase, chest, chairs, sideboard];
const stroke = Math.floor(now / minuteMs) * minuteMs;
const window = { seq: 41, airFromAt: now - 13 * dayMs, askedAt: now };

/** A room's day of air with this reading in it. */
const airOf = (shop: MemoryFacts, { roomId, at: readAt }: Row<"reading">): FloorEntry => {
  const key = airDayKey(roomId, readAt);
  const ofDay = thinReadings(shop.readings(roomId, 0)).filter((other) => airDayKey(roomId, other.at) === key);
  return { part: "air", key, value: packAir(ofDay) };
};

/** A phone with the floor of that Wednesday on it, and the server that writes to it. */
function phoneWith(shop: MemoryFacts = wednesday()) {
  const floor = floorOf(shop, window);
  const copy = new Y.Doc();
  const facts = new FloorFacts(copy);
  Y.applyUpdate(copy, floor.since());
  const write = <Table extends FloorTable | "reading">(tableName: Table, row: Row<Table>) => {
    shop.put(tableName, row);
    floor.set([
      tableName === "reading" ? airOf(shop, row as Row<"reading">) : { part: tableName, key: row.id, value: row },
    ]);
    Y.applyUpdate(copy, floor.since());
  };
  return { facts, shop, write };
}

const shopOf = (facts: Pick<FloorFacts, "all">) => facts.all("shop")[0] as Shop;
const shownOn = (facts: FloorFacts | OverlayFacts, when: InstantMs): Map<string, Outlook> =>
  new Map(facts.all("piece").map((piece) => [piece.id, outlookHere(facts, piece, shopOf(facts), when)]));

const others = (before: Map<string, Outlook>, after: Map<string, Outlook>) =>
  pieces.filter(({ id: pieceId }) => before.get(pieceId) !== after.get(pieceId)).map(({ name }) => name);

const claim: Row<"claim"> = { ...railsClaim, id: id(), memberIds: [helper.id], claimedAt: stroke };
const timer: Row<"entry"> = {
  id: id(),
  memberId: repairer.id,
  startedAt: stroke,
  restMin: 0,
  workKind: "bench",
  subjects: [{ pieceId: chairs.id, taskId: rails.id, stage: "repair" }],
  splitRule: "equal",
  source: "timer",
  versions: [],
};
const word = (of: Piece, givenAt: InstantMs): Row<"word"> => ({
  id: id(),
  pieceId: of.id,
  action: "press-together",
  by: finisher.id,
  at: givenAt,
  untilAt: givenAt + dayMs,
  why: "Felt pads lie between them",
});

type Change = { what: string; tableName: FloorTable; row: object; of: Piece };
const changes: Change[] = [
  { what: "a coat", tableName: "coat", row: coat(top, o2, now, { position: 3 }), of: table },
  { what: "a surface", tableName: "surface", row: surface("Back", dresser.id), of: dresser },
  { what: "two faces that touch", tableName: "pair", row: pair([fronts, body], { isApart: false }), of: dresser },
  {
    what: "a hand test",
    tableName: "test",
    row: handTest({
      pieceId: nightstands.id,
      subject: { of: "surface", surfaceId: faces.id },
      kind: "thumb-twist",
      at: now,
      result: "fail",
    }),
    of: nightstands,
  },
  { what: "a word", tableName: "word", row: word(dresser, now), of: dresser },
  { what: "carrying it", tableName: "roomStay", row: stay(bookcase.id, sprayRoom, now), of: bookcase },
  { what: "a task", tableName: "task", row: { ...rails, id: id(), pieceId: chest.id }, of: chest },
  { what: "a claim", tableName: "claim", row: claim, of: chairs },
  { what: "a timer", tableName: "entry", row: timer, of: chairs },
  { what: "a promise", tableName: "promise", row: promised(wardrobe, "delivery", now + dayMs), of: wardrobe },
  { what: "a new name", tableName: "piece", row: { ...sideboard, name: "Sideboard" }, of: sideboard },
];

describe("what a phone shows of a piece", () => {
  test.each(changes)("is asked again after $what on it; of all others it stays the same object", (change) => {
    const { facts, write } = phoneWith();
    const before = shownOn(facts, stroke);
    write(
      change.tableName,
      (change.what === "a new name" ? { ...change.row, name: "Long sideboard" } : change.row) as Row<FloorTable>,
    );
    const after = shownOn(facts, stroke + 40_000);
    expect(others(before, after)).toEqual([change.of.name]);
    expect(after.get(change.of.id)?.at).toBe(stroke + 40_000);
    expect(after.get(change.of.id)).not.toEqual({ ...before.get(change.of.id), at: stroke + 40_000 });
  });

  test("stays the same object while another's work waits on this phone", () => {
    const { facts } = phoneWith();
    const before = shownOn(facts, stroke);
    const laid = new OverlayFacts(facts);
    laid.take([{ table: "word", row: word(dresser, now), isNew: true }]);
    expect(others(before, shownOn(laid, stroke + 40_000))).toEqual([dresser.name]);
  });

  test("is asked again after a reading only where it stands in that room", () => {
    const { facts, write } = phoneWith();
    const before = shownOn(facts, stroke);
    write("reading", reading(loft, now + 10_000, 12));
    const after = shownOn(facts, stroke + 40_000);
    // the wardrobe was carried out of the loft before it
    expect(others(before, after)).toEqual([dresser, table, bookcase, chest, chairs].map(({ name }) => name));
    write("reading", reading(sprayRoom, now + 10_000, 22));
    expect(others(after, shownOn(facts, stroke + 50_000))).toEqual([nightstands, wardrobe].map(({ name }) => name));
  });

  test("is asked again after a reading that comes late wherever it has stood in that room, and nowhere else", () => {
    const { facts, write } = phoneWith();
    const before = shownOn(facts, stroke);
    write("reading", reading(sprayRoom, now - 3 * dayMs - 5 * minuteMs, 9));
    const after = shownOn(facts, stroke + 40_000);
    expect(others(before, after)).toEqual([dresser, nightstands, wardrobe].map(({ name }) => name));
  });

  test("is asked again after a reading in the spray room also where a promise waits for a coat to go on there", () => {
    const promise = [promised(table, "delivery", now + 9 * dayMs)];
    const { facts, write } = phoneWith(wednesday({ promise }));
    const before = shownOn(facts, stroke);
    write("reading", reading(sprayRoom, now + 10_000, 22));
    expect(others(before, shownOn(facts, stroke + 40_000))).toEqual(
      [nightstands, table, wardrobe].map(({ name }) => name),
    );
  });

  test("stays through a can that others pour from and a mix that is not on it", () => {
    const { facts, write } = phoneWith();
    const before = shownOn(facts, stroke);
    const [canId, sheetId] = [id(), l1.sheet.id];
    write("can", { id: canId, productId: l1.product.id, label: "C-1", filledMillilitres: 900, isLabelled: true });
    const mix = { canIds: [canId], millilitres: 300, mixedAt: now, by: finisher.id, roomId: sprayRoom.id };
    write("mix", { id: id(), sheetId, ...mix });
    expect(others(before, shownOn(facts, stroke + 40_000))).toEqual([]);
  });

  test("is asked again with the next minute, and by a clock that was set back", () => {
    const { facts } = phoneWith();
    const before = shownOn(facts, stroke + 30_000);
    expect(others(before, shownOn(facts, stroke + 59_999))).toEqual([]);
    expect(others(before, shownOn(facts, stroke + 29_000))).toHaveLength(pieces.length);
    const later = shownOn(facts, stroke + 59_999);
    expect(others(later, shownOn(facts, stroke + 60_000))).toHaveLength(pieces.length);
  });

  test("counts a word at once, not with the next stroke of the clock", () => {
    const { facts, write } = phoneWith();
    const pressed = (when: InstantMs) =>
      shownOn(facts, when)
        .get(dresser.id)
        ?.byWord.map(({ asked }) => asked.action);
    expect(pressed(stroke)).toEqual([]);
    write("word", word(dresser, stroke + 20_000));
    expect(pressed(stroke + 20_000)).toContain("press-together");
  });
});

/** What the screens say of it; sums of minutes that were added up in another order differ far behind the comma. */
const said = (outlook: Outlook) =>
  JSON.stringify([stripView(outlook, { zone, looking: [] }), safeView(outlook, outlook.at, zone)], (_, value) =>
    typeof value === "number" ? Number(value.toFixed(3)) : value,
  );

const anyChange = fc.oneof(
  fc.record({
    room: fc.constantFrom(loft, sprayRoom),
    minutes: fc.integer({ min: -30, max: 40 }),
    celsius: fc.integer({ min: 4, max: 30 }),
  }),
  fc.record({ number: fc.integer({ min: 0, max: changes.length - 1 }) }),
);

test("whatever is written to the floor, what a phone has kept is what it would be told if it asked anew", () => {
  const from = at("10-28 14:00 EDT");
  fc.assert(
    fc.property(
      fc.array(fc.tuple(anyChange, fc.integer({ min: 1, max: 90 })), { minLength: 1, maxLength: 6 }),
      (steps) => {
        const { facts, shop, write } = phoneWith(
          wednesday({
            promise: [promised(table, "delivery", now + 9 * dayMs), promised(dresser, "photos", now + dayMs)],
          }),
        );
        let when = stroke;
        shownOn(facts, when);
        for (const [change, seconds] of steps) {
          when += seconds * 1000;
          if ("room" in change)
            write("reading", reading(change.room, from + change.minutes * minuteMs + when - stroke, change.celsius));
          else {
            const { tableName, row } = changes[change.number] as Change;
            write(tableName, row as Row<FloorTable>);
          }
          const anew = phoneWith(shop).facts;
          for (const [pieceId, kept] of shownOn(facts, when)) {
            const piece = anew.get("piece", pieceId) as Piece;
            expect(said(kept)).toBe(said(outlookOf(anew, piece, shopOf(anew), kept.at)));
          }
        }
      },
    ),
    { numRuns: 10 },
  );
}, 60_000);

test("nothing is kept of a piece for another shop's hands", () => {
  const [one, other] = [phoneWith().facts, phoneWith(wednesday({ shop: [{ ...theShop, zone: "UTC" }] })).facts];
  const [here, there] = [shownOn(one, stroke), shownOn(other, stroke)];
  expect(others(here, there)).toHaveLength(pieces.length);
});
