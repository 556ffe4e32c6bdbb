/** A stretch of work as somebody types it: a day, from and to on the wall clock. */
import { addDays, wallTimeAt } from "~/core/calendar";
import { accept, type Result, refuse } from "~/core/result";
import type { InstantMs, ShopDay } from "~/core/units";
import { clockDigits } from "~/ui/floor/acts/typed-when";

export type TypedStretch = { day: ShopDay; from: string; to: string; choice: "first" | "second" };

export type StretchFound = {
  startedAt: InstantMs;
  endedAt: InstantMs;
  /** It ran past midnight: `to` is on the day after. */
  isPastMidnight: boolean;
  /** One of the two times comes twice that night: the person says which. */
  isTwice: boolean;
};
export type StretchFault = { field: "from" | "to"; sentence: string };

const faultWords = "Write the time as on the shop wall, 14:20.";

/** An end that is not after the start is on the next day: people who work late type 19:30 to 00:15. */
export function stretchTyped(
  { day, from, to, choice }: TypedStretch,
  zone: string,
): Result<StretchFound, StretchFault> {
  const start = wallTimeAt(day, clockDigits(from), zone, choice);
  if (!start.ok) return refuse({ field: "from", sentence: faultWords });
  const sameDay = wallTimeAt(day, clockDigits(to), zone, choice);
  if (!sameDay.ok) return refuse({ field: "to", sentence: faultWords });
  const isPastMidnight = clockDigits(to) <= clockDigits(from);
  const end = isPastMidnight ? wallTimeAt(addDays(day, 1), clockDigits(to), zone, choice) : sameDay;
  if (!end.ok) return refuse({ field: "to", sentence: faultWords });
  if (start.value.isSkipped)
    return refuse({ field: "from", sentence: "The clocks skipped that hour. Which time was it?" });
  if (end.value.isSkipped) return refuse({ field: "to", sentence: "The clocks skipped that hour. Which time was it?" });
  const { at: startedAt } = start.value;
  return accept({
    startedAt,
    endedAt: end.value.at,
    isPastMidnight,
    isTwice: start.value.isTwice || end.value.isTwice,
  });
}
