/** The answers of "May we coat now?" in words. */
import { farthestHours } from "~/core/climate/forecast-fit";
import type { GoodAir } from "~/core/climate/good-air";
import { hourMs, type InstantMs, minuteMs } from "~/core/units";
import { celsius, clockTime, isSameDay, moment } from "../format";
import { acclimatisingWords, limitWords } from "./air-words";
import type { CoatNow } from "./coat-now";

export const answerWords: Record<CoatNow["answer"], string> = {
  yes: "Yes",
  "warm-first": "Warm it first",
  no: "No",
  unread: "Read first",
};

/** "Thu 13:00 to 18:00", "now, until 18:00" */
export function windowWords({ fromAt, toAt }: GoodAir, now: InstantMs, zone: string): string {
  const until = isSameDay(fromAt, toAt - 1, zone) ? clockTime(toAt, zone) : moment(toAt, now, zone);
  return fromAt - now < minuteMs ? `now, until ${until}` : `${moment(fromAt, now, zone)} to ${until}`;
}

/** "Good until 18:00, by the forecast" */
export function untilWords(untilAt: InstantMs, now: InstantMs, zone: string): string {
  if (untilAt - now >= (farthestHours - 1) * hourMs) return "Good for ten days, by the forecast";
  const until = isSameDay(untilAt - 1, now, zone) ? clockTime(untilAt, zone) : moment(untilAt, now, zone);
  return `Good until ${until}, by the forecast`;
}

/** Every line under an answer, the one that decides first. */
export function linesOf(found: CoatNow, now: InstantMs, zone: string): string[] {
  const { answer, failing, acclimatising, next, cold, isLittleKnown, isFlameNear } = found;
  const lines: string[] = [];
  if (answer === "unread") lines.push("Nobody has read this room lately.");
  if (isFlameNear) lines.push("A flame or pilot light burns in here and can light its vapour: put it out first.");
  if (failing.length > 0 && answer === "no") lines.push(`${failing.map(limitWords).join(". ")}.`);
  if (acclimatising && answer === "warm-first") lines.push(acclimatisingWords(acclimatising));
  if (answer === "no" && failing.length > 0 && !next && !isLittleKnown)
    lines.push("No good hour in ten days, by the forecast.");
  if (cold)
    lines.push(
      `It may fall to ${celsius(cold.lowCelsius)} from ${moment(cold.fromAt, now, zone)}: too cold for a coat laid now.`,
    );
  if (acclimatising && answer === "yes") lines.push(acclimatisingWords(acclimatising));
  return lines;
}

export const blushWords: Record<NonNullable<CoatNow["blush"]>, string> = {
  caution: "May turn milky in this air: thin coats, try a panel.",
  stop: "Turns milky in this air without a retarder: try a panel.",
  "hard-stop": "Turns milky in this air, retarder or not.",
};
