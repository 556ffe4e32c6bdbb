import { createContext, useContext } from "react";
import type { Facts } from "~/core/shop/facts";
import type { Member, TimeEntry } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import type { WeekAnswer } from "./week-shown";

/** What an entry can be opened for. */
export type OpenedEntry = { act: "correct" | "confirm" | "strike"; entryId: string; suggestedEndAt?: InstantMs };

export type WeekShown = {
  answer: WeekAnswer;
  facts: Facts;
  now: InstantMs;
  zone: string;
  entryById: ReadonlyMap<string, TimeEntry>;
  member: (memberId: string) => Member | undefined;
  numberOf: (pieceId: string) => string;
  /** May this person write in the entry; the rules are asked again when it is sent. */
  mayWrite: (entry: TimeEntry) => boolean;
  /** May this person say the word that an entry waits for. */
  maySettle: boolean;
  open: (opened: OpenedEntry) => void;
};

export const WeekContext = createContext<WeekShown | undefined>(undefined);

export function useWeek(): WeekShown {
  const week = useContext(WeekContext);
  if (!week) throw new Error("useWeek outside of the week's screen");
  return week;
}
