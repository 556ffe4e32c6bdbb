/** A demonstration is a list of lines: who asked what of the shop's rules when, and what they answered. */
import type { RefusalKind } from "~/core/shop/refusal";
import type { InstantMs } from "~/core/units";
import type { Wall, WeekClock } from "./clock";
import { idOf } from "./names";
import type { Hand } from "./people";

export type Line = {
  /** Of this line alone; its intent's id follows from it. */
  name: string;
  intentId: string;
  at: InstantMs;
  by: Hand;
  kind: string;
  body: object;
  happenedAt?: InstantMs;
  /** Made without signal: when the device was heard again. */
  arrivesAt?: InstantMs;
  expect: "accepted" | RefusalKind;
};

type More = Partial<Pick<Line, "happenedAt" | "arrivesAt" | "expect">> & {
  /** Where other lines refer to this one. */
  name?: string;
};

export type Write = (when: Wall | InstantMs, by: Hand, kind: string, body: object, more?: More) => Line;

export const intentIdOf = (lineName: string): string => idOf(`line ${lineName}`);

/** Writes lines of one week. Two lines that would be called the same are told apart by a count. */
export function writerOf(clock: WeekClock): Write {
  const timesUsed = new Map<string, number>();
  return (when, by, kind, body, { name: given, ...more } = {}) => {
    const called = given ?? `${clock.monday} ${when} ${by} ${kind}`;
    const times = (timesUsed.get(called) ?? 0) + 1;
    timesUsed.set(called, times);
    const name = times === 1 ? called : `${called} (${times})`;
    const at = typeof when === "number" ? when : clock.at(when);
    return { name, intentId: intentIdOf(name), at, by, kind, body, expect: "accepted", ...more };
  };
}

export const arrivalAt = (line: Line): InstantMs => line.arrivesAt ?? line.at;

/** In the order in which the server hears of them; what is said at the same time keeps its order. */
export const inOrder = (lines: readonly Line[]): Line[] => [...lines].sort((a, b) => arrivalAt(a) - arrivalAt(b));
