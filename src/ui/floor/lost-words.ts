import type { FilmSpan } from "~/core/cure/film-spans";
import type { Picture } from "~/core/cure/picture";
import { dayMs, hourMs, type InstantMs, minuteMs } from "~/core/units";
import { clockTime, dayName, duration, isSameDay, moment } from "~/ui/format";

/** Shorter losses are not told: they move nothing that is shown. */
const shortestMs = 30 * minuteMs;
/** Older losses are in the film's gap and in its date; nobody in front of a rack needs them again. */
const oldestMs = 4 * dayMs;

/** Longer than a night, a span is told from its beginning. */
const longestNightMs = 16 * hourMs;

/** "last night" for a span that ends this morning, else its day. */
function whenWords({ fromAt, toAt }: FilmSpan, now: InstantMs, zone: string): string {
  if (toAt - fromAt > longestNightMs) return `from ${moment(fromAt, now, zone)}`;
  const endsThisMorning = isSameDay(toAt, now, zone) && Number(clockTime(toAt, zone).slice(0, 2)) < 12;
  if (endsThisMorning && (!isSameDay(fromAt, now, zone) || Number(clockTime(fromAt, zone).slice(0, 2)) < 6))
    return "last night";
  if (isSameDay(fromAt, now, zone)) return `today from ${clockTime(fromAt, zone)}`;
  return `on ${dayName(fromAt, zone)}`;
}

/** "The loft was cold for 5 h 30 last night." and what no reading told: why the date is later than one would think. */
export function lostWords(spans: readonly FilmSpan[], picture: Picture, now: InstantMs, zone: string): string[] {
  const room = (span: FilmSpan) => picture.roomById.get(span.roomId)?.name.toLowerCase() ?? "room";
  const told = spans.filter(({ fromAt, toAt }) => toAt - fromAt >= shortestMs && toAt > now - oldestMs);
  const lost = told.filter(({ kind }) => kind === "lost").at(-1);
  const unknown = told.filter(({ kind }) => kind === "unknown").at(-1);
  const length = ({ fromAt, toAt }: FilmSpan) => duration(Math.round((toAt - fromAt) / minuteMs / 5) * 300);
  return [
    lost && `The ${room(lost)} was cold for ${length(lost)} ${whenWords(lost, now, zone)}.`,
    unknown &&
      unknown.toAt - unknown.fromAt >= hourMs / 2 &&
      `Nobody read the ${room(unknown)} for ${length(unknown)} ${whenWords(unknown, now, zone)}: no hours earned.`,
  ].filter((words) => typeof words === "string");
}
