"use client";
import dynamic from "next/dynamic";
import type { Room } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { ReadingSheet } from "./reading-sheet";
import { RoomSheet } from "./room-sheet";
import type { RoomShown } from "./room-shown";

const ForecastSheet = dynamic(() => import("./forecast-sheet").then((file) => file.ForecastSheet));
/** Reading a logger's file is a good deal of code, for few evenings a year. */
const LoggerSheet = dynamic(() => import("./logger-sheet").then((file) => file.LoggerSheet));

export type RoomAct =
  | { act: "read" | "import" | "edit"; room: Room }
  | { act: "forecast"; shown: RoomShown }
  | { act: "add" };

type RoomSheetsProps = { opened: RoomAct; now: InstantMs; zone: string; close: () => void };

export function RoomSheets({ opened, now, zone, close }: RoomSheetsProps) {
  if (opened.act === "add") return <RoomSheet close={close} />;
  if (opened.act === "forecast") {
    const { room, air, forecast } = opened.shown;
    return <ForecastSheet room={room} air={air} stored={forecast} now={now} zone={zone} close={close} />;
  }
  const { room } = opened;
  if (opened.act === "edit") return <RoomSheet room={room} close={close} />;
  if (opened.act === "read") return <ReadingSheet room={room} now={now} zone={zone} close={close} />;
  return <LoggerSheet room={room} now={now} zone={zone} close={close} />;
}
