import { stretchEndAt, stretchIndexAt } from "../climate/history";
import { type UnknownStretch, unknownCountBefore } from "../climate/lineage";
import { hourMs, type InstantMs, minuteMs } from "../units";
import { rateAhead } from "./hours-ahead";
import type { Leg } from "./leg";
import type { Film, Hardening } from "./progress";
import { rateIn, slowClock } from "./rate";
import type { RoomCredit } from "./room-credit";

export type FilmSpan = {
  fromAt: InstantMs;
  toAt: InstantMs;
  kind: "earned" | "lost" | "unknown" | "assumed";
  roomId: string;
};

const kindAt = (
  { air, filmLaw, usualRate, ahead }: RoomCredit,
  countsAway: boolean,
  at: InstantMs,
): FilmSpan["kind"] => {
  if (air.isAway) return countsAway ? (usualRate > 0 ? "assumed" : "lost") : "unknown";
  if (air.endsAt === undefined || !ahead) return "unknown";
  if (at >= air.endsAt) {
    if (at >= air.endsAt + air.gapLimitMin * minuteMs) return "unknown";
    return rateAhead(ahead.lastOrLow, at) > 0 ? "earned" : "lost";
  }
  const index = stretchIndexAt(air, at);
  if (index < 0 || air.isKnown[index] === 0) return "unknown";
  const share = (at - (air.startsAt[index] as number)) / (stretchEndAt(air, index) - (air.startsAt[index] as number));
  const along = (start: Float64Array, end: Float64Array) =>
    (start[index] as number) + share * ((end[index] as number) - (start[index] as number));
  const now = {
    celsius: along(air.startCelsius, air.endCelsius),
    humidityPercent: along(air.startHumidityPercent, air.endHumidityPercent),
  };
  return rateIn(filmLaw.law, slowClock, now) > 0 ? "earned" : "lost";
};

/** Instants inside a leg at which the kind of time may change, in order. */
const cutsOf = ({ credit }: Leg, fromAt: InstantMs, toAt: InstantMs): InstantMs[] => {
  const { air, filmLaw } = credit;
  const cuts = [fromAt];
  const add = (at: InstantMs) => {
    if (at > (cuts.at(-1) as number) && at < toAt) cuts.push(at);
  };
  for (let index = Math.max(0, stretchIndexAt(air, fromAt)); index < air.startsAt.length; index += 1) {
    const [start, end] = [air.startsAt[index] as number, stretchEndAt(air, index)];
    if (start >= toAt) break;
    add(start);
    const [from, to] = [air.startCelsius[index] as number, air.endCelsius[index] as number];
    const share = (filmLaw.law.nothingBelowCelsius - from) / (to - from);
    if (share > 0 && share < 1) add(start + share * (end - start));
  }
  if (air.endsAt !== undefined) {
    const limitAt = air.endsAt + air.gapLimitMin * minuteMs;
    add(air.endsAt);
    for (let at = (Math.floor(air.endsAt / hourMs) + 1) * hourMs; at < Math.min(limitAt, toAt); at += hourMs) add(at);
    add(limitAt);
  }
  return [...cuts, toAt];
};

/**
 * The time of a film up to the instant of asking, by what it was worth: earned, lost to cold, unknown for want of a
 * reading, or assumed. Time that no stay covers is unknown.
 */
export const filmSpans = (film: Film): FilmSpan[] => {
  const spans: FilmSpan[] = [];
  const add = (span: FilmSpan) => {
    const last = spans.at(-1);
    if (last && last.kind === span.kind && last.roomId === span.roomId && last.toAt === span.fromAt)
      last.toAt = span.toAt;
    else spans.push(span);
  };
  for (const leg of film.legs) {
    const toAt = Math.min(leg.toAt, film.asked.at);
    if (toAt <= leg.fromAt) continue;
    const cuts = cutsOf(leg, leg.fromAt, toAt);
    for (let index = 1; index < cuts.length; index += 1) {
      const [start, end] = [cuts[index - 1] as number, cuts[index] as number];
      const kind = kindAt(leg.credit, film.asked.countsAway, (start + end) / 2);
      add({ fromAt: start, toAt: end, kind, roomId: leg.credit.air.roomId });
    }
  }
  return spans;
};

/** Only the unknown time of a film up to the instant of asking, without looking at every reading. */
export const unknownSpans = (film: Hardening): FilmSpan[] => {
  const spans: FilmSpan[] = [];
  for (const { credit, fromAt, toAt: legEndsAt } of film.legs) {
    const { air } = credit;
    const toAt = Math.min(legEndsAt, film.asked.at);
    const add = (start: InstantMs, end: InstantMs) => {
      const [from, to] = [Math.max(start, fromAt), Math.min(end, toAt)];
      if (from < to) spans.push({ fromAt: from, toAt: to, kind: "unknown", roomId: air.roomId });
    };
    if (air.isAway && film.asked.countsAway) continue;
    if (air.isAway || air.endsAt === undefined) {
      add(fromAt, toAt);
      continue;
    }
    add(Number.NEGATIVE_INFINITY, air.startsAt[0] ?? air.endsAt);
    const stretches = air.startsAt.length;
    const { unknown } = air.lineage;
    const first = unknownCountBefore(air.lineage, stretchIndexAt(air, fromAt));
    for (let nth = first; nth < unknown.length; nth += 1) {
      const { index } = unknown[nth] as UnknownStretch;
      if (index >= stretches || (air.startsAt[index] as number) >= toAt) break;
      add(air.startsAt[index] as number, stretchEndAt(air, index));
    }
    add(air.endsAt + air.gapLimitMin * minuteMs, Number.POSITIVE_INFINITY);
  }
  return spans;
};
