import { addDays, wallTimeAt } from "~/core/calendar";
import { accept, type Result, refuse } from "~/core/result";
import type { InstantMs, ShopDay } from "~/core/units";
import { dayName } from "~/ui/format";
import type { WallTime } from "~/ui/kit/instant-field";

/** When something happened, as a person says it: just now, or a wall time of one of the last days. */
export type TypedWhen = { isEarlier: boolean; wall: WallTime; choice: "first" | "second" };

export const justNow = (today: ShopDay): TypedWhen => ({
  isEarlier: false,
  wall: { day: today, time: "" },
  choice: "first",
});

export type WhenFound = { at: InstantMs | undefined; isTwice: boolean };

/**
 * The instant that was meant; none for "just now". A wall time that the clock shows twice that night is the first unless
 * the second was chosen.
 */
export function whenTyped(
  { isEarlier, wall, choice }: TypedWhen,
  now: InstantMs,
  zone: string,
): Result<WhenFound, string> {
  if (!isEarlier) return accept({ at: undefined, isTwice: false });
  const found = wallTimeAt(wall.day, clockDigits(wall.time), zone, choice);
  if (!found.ok) return refuse("Write the time as on the shop wall, 14:20.");
  const { at, isTwice, isSkipped } = found.value;
  if (isSkipped) return refuse("The clocks skipped that hour. Which time was it?");
  if (at > now + 60_000) return refuse("That is still to come.");
  return accept({ at, isTwice });
}

/** "1420", "9:05" and "14.20" are how people in gloves type 14:20 and 09:05. */
export function clockDigits(typed: string): string {
  const parts = /^\s*(\d{1,2})[:.h ]?(\d{2})\s*$/.exec(typed);
  return parts ? `${(parts[1] as string).padStart(2, "0")}:${parts[2]}` : typed;
}

/** Today and the days before it, as one would say them. */
export const lastDays = (today: ShopDay, now: InstantMs, zone: string, count = 4): { id: string; words: string }[] =>
  Array.from({ length: count }, (_, back) => {
    const day = addDays(today, -back);
    const noon = wallTimeAt(day, "12:00", zone);
    const name = dayName(noon.ok ? noon.value.at : now, zone);
    return { id: day, words: back === 0 ? `today, ${name}` : back === 1 ? `yesterday, ${name}` : name };
  });
