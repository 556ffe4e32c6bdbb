/** A shop of four and an outlet, with a board and three rooms: every test starts from these rows and adds its own. */
import type { Role } from "~/core/shop/entities/people";
import { MemoryFacts } from "~/core/shop/memory-facts";
import { type Row, type TableName, tableNames } from "~/core/shop/tables";
import { dayMs, type InstantMs } from "~/core/units";

/** Monday 26 October 2026, 08:00 in the shop (UTC−4 until 1 November). Source: IANA time zone data. */
export const monday8: InstantMs = Date.UTC(2026, 9, 26, 12);

/** A made-up id of a device: a UUID of version 7. */
export const id = (number: number): string => `01900000-0000-7000-8000-${number.toString(16).padStart(12, "0")}`;

/** Rows of a whole shop: what a test adds to or puts in place of the usual ones. */
export type Rows = { [Table in TableName]?: Row<Table>[] };

const member = (memberId: string, name: string, role: Role, skills: Row<"member">["skills"] = []): Row<"member"> => ({
  id: memberId,
  name,
  markLetter: name.slice(0, 1),
  markOutline: "disc",
  roleSpans: [{ role, fromAt: monday8 - 300 * dayMs }],
  skills,
  seesOffice: role === "partner",
});

export const shopId = id(1);
export const board = id(2);
/** Where films are laid and cure. */
export const loft = id(3);
export const bench = id(4);
/** Rooms away from the shop are not read. */
export const van = id(5);

/** Owner, partner, helper, bookkeeper and outlet. */
export const fern = id(11);
export const silas = id(12);
export const hanna = id(13);
export const bruno = id(14);
export const odile = id(15);

export const theShop: Row<"shop"> = {
  id: shopId,
  name: "Mill Lane Furniture",
  zone: "America/New_York",
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

export const aRoom = (row: Partial<Row<"room">> & { id: string }): Row<"room"> => ({
  name: "Loft",
  uses: ["cure"],
  usualCelsius: 20,
  usualHumidityPercent: 50,
  gapLimitMin: 180,
  racks: [],
  hasOpenFlame: false,
  ...row,
});

const usualRows: Rows = {
  shop: [theShop],
  member: [
    member(fern, "Fern", "owner", ["spray", "brush", "glue"]),
    member(silas, "Silas", "partner", ["spray", "brush"]),
    member(hanna, "Hanna", "helper", ["brush", "strip"]),
    member(bruno, "Bruno", "bookkeeper"),
    member(odile, "Odile", "outlet"),
  ],
  board: [{ id: board, name: "Floor" }],
  room: [
    aRoom({ id: loft, name: "Loft", uses: ["spray", "cure"] }),
    aRoom({ id: bench, name: "Bench room", uses: ["bench"] }),
    aRoom({ id: van, name: "Van", uses: ["away"] }),
  ],
};

/** The usual shop with rows added; a row with the id of a usual one takes its place. */
export function shopWith(rows: Rows = {}): MemoryFacts {
  const facts = new MemoryFacts();
  for (const table of tableNames) {
    for (const row of [...(usualRows[table] ?? []), ...(rows[table] ?? [])]) facts.put(table, row as Row<typeof table>);
  }
  return facts;
}
