/** An instant as a person types it: a day and a wall time, and which of the two where the clock shows it twice. */
import { shopDayAt, wallTimeAt } from "~/core/calendar";
import { accept, type Result, refuse } from "~/core/result";
import type { InstantMs } from "~/core/units";
import { clockTime } from "../format";
import type { WallTime } from "./instant-field";

export type TypedMoment = WallTime & { pass: "first" | "second" };

export const nothingTyped = (day: string): TypedMoment => ({ day, time: "", pass: "first" });

export function typedMomentOf(at: InstantMs, zone: string): TypedMoment {
  const wall = { day: shopDayAt(at, zone), time: clockTime(at, zone) };
  const second = wallTimeAt(wall.day, wall.time, zone, "second");
  const isSecond = second.ok && second.value.isTwice && second.value.at <= at;
  return { ...wall, pass: isSecond ? "second" : "first" };
}

/** 7:30, 730 and 0730 are what people type for 07:30. */
const wholeTime = (typed: string): string => {
  const digits = typed.trim().replace(/[.:h\s]/g, "");
  if (!/^\d{3,4}$/.test(digits)) return typed.trim();
  const padded = digits.padStart(4, "0");
  return `${padded.slice(0, 2)}:${padded.slice(2)}`;
};

export type MomentRead = { at: InstantMs; isTwice: boolean };

/** The instant of what was typed, or what is wrong with it in words. */
export function readMoment(typed: TypedMoment, zone: string): Result<MomentRead, string> {
  if (typed.time.trim() === "") return refuse("Write the time, such as 14:20.");
  const found = wallTimeAt(typed.day, wholeTime(typed.time), zone, typed.pass);
  if (!found.ok)
    return refuse(found.refusal.field === "day" ? "Choose the day." : "Write the time as 14:20, from 00:00 to 23:59.");
  if (found.value.isSkipped) return refuse("The clocks skip this time that night. Write one before or after.");
  return accept({ at: found.value.at, isTwice: found.value.isTwice });
}
