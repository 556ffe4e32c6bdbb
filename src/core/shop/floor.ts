/**
 * What of the shop's state the floor document carries to every member's device: pieces not archived and what belongs
 * to them, who works on what now, and the last days of air. No money, no wages, no ended hours, no buyers: those are
 * asked for and never rest on a phone.
 */

import { dayMs, type InstantMs } from "../units";
import type { Reading, Row, TableName } from "./tables";

/** The days of air that a device carries; what a film had earned before that travels as a checkpoint. */
export const floorAirDays = 14;

export const floorTables = [
  "shop",
  "member",
  "board",
  "room",
  "forecast",
  "product",
  "sheet",
  "can",
  "mix",
  "piece",
  "surface",
  "pair",
  "promise",
  "roomStay",
  "coat",
  "joint",
  "test",
  "confirmation",
  "word",
  "task",
  "claim",
  "entry",
  "closing",
] as const satisfies readonly TableName[];
export type FloorTable = (typeof floorTables)[number];

/**
 * The parts of the floor's document: a map per table by row id, with the row as plain JSON; the days of air by
 * `airDayKey`; what each older film had earned before them, by coat id; and the fields of `FloorMeta`.
 */
export const floorParts = [...floorTables, "air", "checkpoint", "meta"] as const;
export type FloorPart = (typeof floorParts)[number];

export type FloorMeta = {
  shopId: string;
  epoch: number;
  /** The ledger number up to which the document tells. */
  seq: number;
  zone: string;
  /** From when on the air is carried; films laid before have a checkpoint. */
  airFromAt: InstantMs;
};

export const isOnFloor = (table: TableName): table is FloorTable => (floorTables as readonly string[]).includes(table);

/**
 * Does this row belong on the floor, given whether its piece has left?
 *
 * @param hasLeft true for the id of an archived piece
 */
export function belongsOnFloor(
  table: FloorTable,
  row: Row<FloorTable>,
  hasLeft: (pieceId: string) => boolean,
): boolean {
  if ("pieceId" in row && row.pieceId !== undefined && hasLeft(row.pieceId)) return false;
  switch (table) {
    case "piece":
      return (row as Row<"piece">).archivedAt === undefined;
    case "entry":
      return (row as Row<"entry">).endedAt === undefined && (row as Row<"entry">).struckAt === undefined;
    case "claim":
      return (row as Row<"claim">).endedAt === undefined;
    case "test":
      return (row as Row<"test">).takenBackAt === undefined;
    case "can":
      return (row as Row<"can">).emptiedAt === undefined;
    case "word":
      return (row as Row<"word">).withdrawnAt === undefined;
    case "promise":
      return (row as Row<"promise">).state === "made";
    default:
      return true;
  }
}

/** One room's readings of one day in columns, thinned: instants, tenths of °C and % RH, and spans where there are any. */
export type AirDay = {
  at: InstantMs[];
  airTenths: number[];
  humidityTenths: number[];
  surfaceTenths: (number | null)[] | null;
  spanFromAt: (InstantMs | null)[] | null;
};

export const airDayKey = (roomId: string, at: InstantMs): string => `${roomId}:${Math.floor(at / dayMs)}`;

export function packAir(readings: readonly Reading[]): AirDay {
  const tenths = (value: number) => Math.round(value * 10);
  const sparse = <Value>(values: (Value | null)[]) => (values.every((value) => value === null) ? null : values);
  return {
    at: readings.map((reading) => reading.at),
    airTenths: readings.map((reading) => tenths(reading.airCelsius)),
    humidityTenths: readings.map((reading) => tenths(reading.humidityPercent)),
    surfaceTenths: sparse(
      readings.map((reading) => (reading.surfaceCelsius === undefined ? null : tenths(reading.surfaceCelsius))),
    ),
    spanFromAt: sparse(readings.map((reading) => reading.spanFromAt ?? null)),
  };
}

export function unpackAir(roomId: string, day: AirDay): Reading[] {
  return day.at.map((at, index) => {
    const surface = day.surfaceTenths?.[index] ?? null;
    const spanFromAt = day.spanFromAt?.[index] ?? null;
    return {
      id: `${roomId}:${at}`,
      roomId,
      at,
      airCelsius: (day.airTenths[index] as number) / 10,
      humidityPercent: (day.humidityTenths[index] as number) / 10,
      source: "logger",
      ...(surface === null ? {} : { surfaceCelsius: surface / 10 }),
      ...(spanFromAt === null ? {} : { spanFromAt }),
    };
  });
}
