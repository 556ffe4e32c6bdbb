import { earliestHonest, type HonestDate, roundUpToFiveMin } from "~/core/cure/next-gate";
import type { Picture } from "~/core/cure/picture";
import type { Unplaced } from "~/core/cure/promise-plan";
import type { PromiseMade } from "~/core/shop/tables";
import { dayMs, type InstantMs } from "~/core/units";
import { dayName, duration, moment } from "~/ui/format";
import { filmMoment } from "../gate-words";

export const promiseSortWords: Record<PromiseMade["sort"], string> = {
  photos: "Photos",
  outlet: "Outlet",
  collection: "Collection",
  delivery: "Delivery",
  market: "Market",
};

export const toWhomWords: Record<PromiseMade["toWhom"], string> = {
  buyer: "a buyer",
  outlet: "an outlet",
  market: "a market",
  ourselves: "ourselves",
};

/** "Mon 2 Nov" for a whole day, which is due when the day is over; "Sat 10:00" for an hour. */
export const dueWords = (
  { dueAt, isWholeDay }: Pick<PromiseMade, "dueAt" | "isWholeDay">,
  now: InstantMs,
  zone: string,
) => (isWholeDay ? dayName(dueAt - 1, zone) : moment(dueAt, now, zone));

const slackWords = (slackMs: number): string => {
  if (slackMs < dayMs) return `${duration(slackMs / 1000)} in hand`;
  const days = Math.floor(slackMs / dayMs);
  return days === 1 ? "a day in hand" : `${days} days in hand`;
};

const shortWords = (shortMs: number): string =>
  shortMs < 2 * dayMs ? `${duration(shortMs / 1000)} short` : `${Math.ceil(shortMs / dayMs)} days short`;

export type PromiseStanding = { text: string; isAtRisk: boolean };

/** A promise with its slack, or by how much it cannot be kept: the slow clock against the date that was given. */
export function promiseStanding(
  promise: Pick<PromiseMade, "sort" | "dueAt" | "isWholeDay">,
  picture: Picture | undefined,
  now: InstantMs,
  zone: string,
): PromiseStanding {
  const start = `${promiseSortWords[promise.sort]} ${dueWords(promise, now, zone)}`;
  if (now > promise.dueAt) return { text: `${start} · ${duration((now - promise.dueAt) / 1000)} over`, isAtRisk: true };
  if (!picture) return { text: start, isAtRisk: false };
  const honest = earliestHonest(picture, promise.sort, now);
  if (honest.safeAt === undefined) return { text: `${start} · no honest date`, isAtRisk: true };
  const slackMs = promise.dueAt - roundUpToFiveMin(honest.safeAt);
  if (slackMs < 0) return { text: `${start} · ${shortWords(-slackMs)}`, isAtRisk: true };
  if (honest.kind === "if") {
    const count = honest.plannedCoatIds.length;
    return { text: `${start} · ${count === 1 ? "a coat" : `${count} coats`} to go on`, isAtRisk: false };
  }
  return { text: `${start} · ${slackWords(slackMs)}`, isAtRisk: false };
}

const unplacedWords: Record<Unplaced["why"], string> = {
  film: "a planned coat does not go on over what lies there, however long it waits.",
  air: "the forecast has no good air for the next coat in ten days.",
  "room-unread": "nobody has read the room in which the next coat would go on.",
};

/** The earliest honest date in one sentence, for somebody on the phone with a buyer. */
export function honestWords(honest: HonestDate, now: InstantMs, zone: string): string {
  if (honest.kind === "never")
    return `There is no honest date: ${honest.unplaced ? unplacedWords[honest.unplaced.why] : "waiting alone will not do it."}`;
  const date = honest.safeAt <= now ? "now" : filmMoment(honest.safeAt, now, zone);
  if (honest.kind === "at") return `Earliest honest date: ${date}.`;
  const count = honest.plannedCoatIds.length;
  const last = filmMoment(Math.max(...honest.coats.map(({ startsAt }) => startsAt)), now, zone);
  return `Earliest honest date: ${date}, if ${count === 1 ? `the coat that is planned goes on by ${last}` : `all ${count} planned coats go on, the last by ${last}`}.`;
}
