import type * as z from "zod/mini";
import { coatRow } from "./entities/film";
import { jointRow } from "./entities/glue";
import { noticeRow } from "./entities/notices";
import { invitationRow, memberRow, shopRow } from "./entities/people";
import { pairRow, passedOverRow, pieceRow, promiseRow, roomStayRow, stageMoveRow, surfaceRow } from "./entities/pieces";
import { boardRow, forecastRow, readingRow, roomRow } from "./entities/places";
import { canRow, mixRow, productRow, sheetRow } from "./entities/products";
import { confirmationRow, testRow, wordRow } from "./entities/tests";
import { claimRow, closingRow, entryRow, taskRow } from "./entities/work";

/**
 * The tables of the shop's state: replaying the ledger gives exactly these rows. The order is one in which rows can be
 * written without breaking a foreign key.
 */
export const tables = {
  shop: shopRow,
  member: memberRow,
  invitation: invitationRow,
  board: boardRow,
  room: roomRow,
  reading: readingRow,
  forecast: forecastRow,
  product: productRow,
  sheet: sheetRow,
  can: canRow,
  mix: mixRow,
  piece: pieceRow,
  surface: surfaceRow,
  pair: pairRow,
  promise: promiseRow,
  roomStay: roomStayRow,
  stageMove: stageMoveRow,
  passedOver: passedOverRow,
  coat: coatRow,
  joint: jointRow,
  test: testRow,
  confirmation: confirmationRow,
  word: wordRow,
  task: taskRow,
  claim: claimRow,
  entry: entryRow,
  notice: noticeRow,
  closing: closingRow,
} as const;

export type TableName = keyof typeof tables;
export const tableNames = Object.keys(tables) as TableName[];

/** The entity that a table holds. */
export type Row<Table extends TableName> = z.infer<(typeof tables)[Table]>;

export type Shop = Row<"shop">;
export type Member = Row<"member">;
export type Room = Row<"room">;
export type Reading = Row<"reading">;
export type Forecast = Row<"forecast">;
export type Can = Row<"can">;
export type Mix = Row<"mix">;
export type Joint = Row<"joint">;
export type Confirmation = Row<"confirmation">;
export type Word = Row<"word">;
export type Closing = Row<"closing">;
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
