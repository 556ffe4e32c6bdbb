import type * as z from "zod/mini";
import * as entity from "./entities";

/**
 * The tables of the shop's state: replaying the ledger gives exactly these rows. The order is one in which rows can be
 * written without breaking a foreign key.
 */
export const tables = {
  shop: entity.shopRow,
  member: entity.memberRow,
  invitation: entity.invitationRow,
  board: entity.boardRow,
  room: entity.roomRow,
  reading: entity.readingRow,
  product: entity.productRow,
  sheet: entity.sheetRow,
  piece: entity.pieceRow,
  surface: entity.surfaceRow,
  pair: entity.pairRow,
  promise: entity.promiseRow,
  roomStay: entity.roomStayRow,
  stageMove: entity.stageMoveRow,
  passedOver: entity.passedOverRow,
  coat: entity.coatRow,
  test: entity.testRow,
  task: entity.taskRow,
  claim: entity.claimRow,
  entry: entity.entryRow,
  notice: entity.noticeRow,
} as const;

export type TableName = keyof typeof tables;
export const tableNames = Object.keys(tables) as TableName[];

/** The entity that a table holds. */
export type Row<Table extends TableName> = z.infer<(typeof tables)[Table]>;

export type Shop = Row<"shop">;
export type Member = Row<"member">;
export type Room = Row<"room">;
export type Reading = Row<"reading">;
export type Piece = Row<"piece">;
export type Surface = Row<"surface">;
export type ContactPair = Row<"pair">;
export type PromiseMade = Row<"promise">;
export type RoomStay = Row<"roomStay">;
export type Sheet = Row<"sheet">;
export type Product = Row<"product">;
export type Coat = Row<"coat">;
export type HandTest = Row<"test">;
export type Task = Row<"task">;
export type Claim = Row<"claim">;
export type TimeEntry = Row<"entry">;
export type Notice = Row<"notice">;
