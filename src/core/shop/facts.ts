/**
 * What a rule may look at. The edge loads exactly what an intent declares that it reads (`Need`) and hands it over as
 * `Facts`; asking for anything else is a bug on the server, and "cannot tell here" on a device that carries only a part.
 */
import type { RoomAir } from "../climate/history";
import type { Checkpoint } from "../cure/picture";
import type { InstantMs } from "../units";
import type { CoatId, MemberId, RoomId } from "./entities/ids";
import type { Past } from "./past";
import type { Row, TableName } from "./tables";

/** Fields by which rows are looked up; each has an index in the database. */
export const lookUpFields = {
  shop: [],
  member: [],
  invitation: ["secretSha256"],
  board: [],
  room: [],
  reading: ["importId"],
  forecast: ["roomId"],
  product: [],
  sheet: ["productId"],
  can: ["productId"],
  mix: ["sheetId"],
  piece: ["boardId", "roomId", "number"],
  surface: ["pieceId"],
  pair: ["pieceId"],
  promise: ["pieceId"],
  roomStay: ["pieceId"],
  stageMove: ["pieceId"],
  passedOver: ["pieceId"],
  coat: ["pieceId", "sheetId"],
  joint: ["pieceId"],
  test: ["pieceId"],
  confirmation: ["pieceId"],
  word: ["pieceId"],
  task: ["pieceId"],
  claim: ["taskId", "pieceId"],
  entry: [],
  notice: ["memberId"],
  closing: ["day"],
} as const satisfies Record<TableName, readonly string[]>;

export type LookUpField<Table extends TableName> = (typeof lookUpFields)[Table][number];

export type Need =
  | { table: TableName; id: string }
  | { table: TableName; all: true }
  | { table: TableName; field: string; value: string }
  /** Readings of a room from some time on, and the last one before it. */
  | { readingsOf: RoomId; fromAt: InstantMs }
  /** Open entries of everybody: the running timers. */
  | { running: true }
  /** Entries of a member that end after some time, and running ones. */
  | { entriesOf: MemberId; fromAt: InstantMs }
  /** What an intent did, and all that was ruled after it. */
  | { pastFrom: string };

export interface Facts {
  get<Table extends TableName>(table: Table, id: string): Row<Table> | undefined;
  /** Rows whose field has this value, in the order in which they were made. */
  where<Table extends TableName>(table: Table, field: LookUpField<Table>, value: string): Row<Table>[];
  all<Table extends TableName>(table: Table): Row<Table>[];
  running(): Row<"entry">[];
  entries(memberId: MemberId, fromAt: InstantMs): Row<"entry">[];
  readings(roomId: RoomId, fromAt: InstantMs): Row<"reading">[];
  /** The history of the air of a room, at least from this time on. */
  air(roomId: RoomId, fromAt: InstantMs): RoomAir;
  /** Where a device's history starts, and what each film had earned by then; empty on the server. */
  checkpoints(): ReadonlyMap<CoatId, Checkpoint>;
  /** What the ledger says of an intent; undefined when nothing was accepted under that id, or nothing came of it. */
  past(intentId: string): Past | undefined;
}

/** Thrown by facts that do not carry what is asked: the device answers "cannot tell here" instead of guessing. */
export class CannotTellHere extends Error {
  constructor(readonly missing: string) {
    super(`this device does not carry ${missing}`);
  }
}
