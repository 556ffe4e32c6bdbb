/**
 * A made-up shop on Wednesday 28 October 2026, 14:40, as facts on a device: pieces drying in two rooms after a night in which
 * the loft's heater tripped. Instants that tests expect of it were worked out by hand from the sheets' hours, the rooms and
 * 2^((T − 25) / 10), as in `tests/core/cure/week.ts`.
 */
import { MemoryFacts } from "~/core/shop/memory-facts";
import type { Coat, Piece, Row, Surface, TableName } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import {
  at,
  coat,
  finisher,
  handTest,
  helper,
  id,
  l1,
  loft,
  made,
  o1,
  o2,
  outlet,
  pair,
  piece,
  repairer,
  sprayRoom,
  stay,
  surface,
  trippedLoft,
  w1,
  w2,
  weekReadings,
} from "../../core/cure/week";

export const zone = "America/New_York";
export const now = at("10-28 14:40 EDT");
const arrived = at("10-20 08:00 EDT");
export const boardId = id();

export const theShop: Row<"shop"> = {
  id: id(),
  name: "The shed",
  zone,
  country: "US",
  currency: "USD",
  weekStartsOn: 1,
  leaseMin: 4320,
  leaseAskMin: 1440,
  helperTestOpens: false,
  partnersSeeHours: true,
  tabletRecheckMin: 60,
  leadBanYear: 1978,
};

const named = (number: string, name: string, more: Partial<Piece>): Piece => ({
  ...piece(),
  boardId,
  number,
  name,
  ...more,
});
const face = (of: Piece, name: string, squareDecimetres: number): Surface => ({
  ...surface(name, of.id),
  squareDecimetres,
});
const planned = (on: Surface, of: typeof w1, position: number): Coat => ({
  id: id(),
  pieceId: on.pieceId,
  surfaceId: on.id,
  position,
  sheetId: of.sheet.id,
  state: "planned",
});

/** Enamelled on Sunday at 14:30, in the loft since 18:00; its drawers wait beside it. */
export const dresser = named("K-201", "Six-drawer dresser", { kind: "dresser", wood: "maple", roomId: loft.id });
export const body = face(dresser, "Body", 310);
export const fronts = face(dresser, "Fronts", 120);
export const drawers = pair([fronts, body]);
/** Lacquered at 09:30 and 11:00 today. */
export const nightstands = named("K-208", "Pair of nightstands", { kind: "nightstand", roomId: sprayRoom.id });
export const faces = face(nightstands, "All faces", 290);
/** Oil varnish, second coat of three at 13:00 today. */
export const table = named("K-203", "Round table", { kind: "table", stage: "finish", roomId: loft.id });
export const top = face(table, "Top", 140);
/** Enamelled a quarter of an hour ago. */
export const wardrobe = named("K-202", "Pine wardrobe", { kind: "wardrobe", roomId: sprayRoom.id });
export const carcass = face(wardrobe, "Carcass", 520);
/** Oil colour on Monday at 10:00, then a water-borne clear that must wait for it. */
export const bookcase = named("K-207", "Glazed bookcase", { kind: "bookcase", stage: "finish", roomId: loft.id });
export const shelves = face(bookcase, "Shelves", 560);
/** Old paint with lead in its second layer. */
export const chest = named("K-206", "Painted chest", { kind: "chest", stage: "acquisition", isPainted: "yes" });
/** Nothing lies on it; two tasks, one of them taken. */
export const chairs = named("K-204", "Ladder chairs", {
  kind: "chair",
  stage: "repair",
  partCount: 4,
  roomId: loft.id,
});
export const rails: Row<"task"> = {
  id: id(),
  pieceId: chairs.id,
  title: "Re-glue the seat rails",
  sort: "repair",
  methods: ["glue"],
  surfaceIds: [],
  needsSkills: [],
  needsMembers: 1,
  after: [],
  state: "held",
};
export const railsClaim: Row<"claim"> = {
  id: id(),
  taskId: rails.id,
  pieceId: chairs.id,
  memberIds: [repairer.id],
  claimedAt: at("10-27 19:00 EDT"),
  claimedSeq: 1,
  lastSignAt: at("10-27 22:58 EDT"),
};
export const sideboard = named("K-209", "Sideboard", { kind: "sideboard", stage: "listed", roomId: outlet.id });

const base: { [Table in TableName]?: Row<Table>[] } = {
  shop: [theShop],
  board: [{ id: boardId, name: "Floor" }],
  member: [finisher, repairer, helper],
  room: [sprayRoom, loft, outlet],
  product: [w1, w2, o1, o2, l1].map(({ product }, index) => ({
    ...product,
    name: ["W1", "W2", "O1", "O2", "L1"][index] as string,
  })),
  sheet: [w1, w2, o1, o2, l1].map(({ sheet }) => sheet),
  piece: [dresser, nightstands, table, wardrobe, bookcase, chest, chairs, sideboard],
  surface: [body, fronts, faces, top, carcass, shelves, face(sideboard, "Whole", 400)],
  pair: [drawers],
  coat: [
    coat(body, w1, at("10-25 14:30 EDT")),
    coat(fronts, w1, at("10-25 14:30 EDT")),
    coat(faces, l1, at("10-28 09:30 EDT")),
    coat(faces, l1, at("10-28 11:00 EDT"), { position: 2 }),
    coat(top, o2, at("10-27 10:00 EDT")),
    coat(top, o2, at("10-28 13:00 EDT"), { position: 2 }),
    planned(top, o2, 3),
    coat(carcass, w1, at("10-27 11:10 EDT")),
    coat(carcass, w1, at("10-28 14:30 EDT"), { position: 2 }),
    coat(shelves, o1, at("10-26 10:00 EDT")),
    planned(shelves, w2, 2),
    planned(shelves, w2, 3),
  ],
  roomStay: [
    stay(dresser.id, sprayRoom, arrived, at("10-25 18:00 EDT")),
    stay(dresser.id, loft, at("10-25 18:00 EDT")),
    stay(nightstands.id, sprayRoom, arrived),
    stay(table.id, loft, arrived),
    stay(wardrobe.id, sprayRoom, arrived, at("10-27 18:00 EDT")),
    stay(wardrobe.id, loft, at("10-27 18:00 EDT"), at("10-28 14:00 EDT")),
    stay(wardrobe.id, sprayRoom, at("10-28 14:00 EDT")),
    stay(bookcase.id, loft, arrived),
    stay(chest.id, loft, arrived),
    stay(chairs.id, loft, arrived),
    stay(sideboard.id, outlet, at("10-01 10:00 EDT")),
  ],
  test: [
    handTest({
      pieceId: chest.id,
      subject: { of: "paint-layer", layer: "layer two" },
      kind: "lead-swab",
      at: at("10-27 19:40 EDT"),
      by: repairer.id,
      result: "fail",
    }),
  ],
  task: [rails, { ...rails, id: id(), title: "Tighten the backs", state: "open" }],
  claim: [railsClaim],
  reading: weekReadings(now, trippedLoft),
};

/** The shop on that afternoon, with rows added; a row with a known id takes the place of that one. */
export function wednesday(more: { [Table in TableName]?: Row<Table>[] } = {}): MemoryFacts {
  const facts = new MemoryFacts();
  for (const rows of [base, more]) {
    for (const [tableName, found] of Object.entries(rows)) {
      for (const row of found) facts.put(tableName as TableName, row as Row<TableName>);
    }
  }
  return facts;
}

/** A date given for one of the pieces. */
export const promised = (
  of: Piece,
  sort: Row<"promise">["sort"],
  dueAt: InstantMs,
  isWholeDay = false,
): Row<"promise"> => ({
  id: id(),
  pieceId: of.id,
  sort,
  dueAt,
  isWholeDay,
  toWhom: "buyer",
  state: "made",
  isKnowinglyEarly: false,
});

export { at, finisher, handTest, helper, id, loft, made, repairer, sprayRoom };
