/**
 * When a room will be fit for a product over the coming days, by the forecast's low and its high humidity: a window that
 * is safe may turn out wider, never narrower than the forecast is right.
 */
import { hourMs, type InstantMs, minuteMs } from "../units";
import { hourAhead } from "./forecast";
import { farthestHours } from "./forecast-fit";
import { type HourAhead, storedHourAt } from "./forecast-hours";
import { airKnownAt, lowestAirCelsius, type RoomAir } from "./history";
import { type AirLimits, type FailedLimit, failingLimits } from "./limits";

/** As for the surface today: wood may be as cold as the coldest of the six hours before. Common practice. */
const surfaceLagHours = 6;

export type AirStretch = { fromAt: InstantMs; toAt: InstantMs } & (
  | {
      isGood: true;
      /** In this room's own cold the piece would still miss a limit: measure it, or let it warm up first. */
      needsWarmPiece: boolean;
    }
  /** The worst found of each limit that fails in it. */
  | { isGood: false; failing: FailedLimit[] }
);

/** The hour as bad as it may be. The last reading still speaks for the hours up to its gap limit that nobody forecast. */
const worstAhead = (air: RoomAir, hourAt: InstantMs, askedAt: InstantMs): HourAhead | undefined => {
  const ahead = hourAhead(air, hourAt);
  const { last, endsAt, gapLimitMin } = air;
  if (!ahead || !last || endsAt === undefined) return ahead;
  const speaksUntilAt = endsAt + gapLimitMin * minuteMs;
  const isForecast = hourAt > askedAt && storedHourAt(air.forecastHours, hourAt) !== undefined;
  if (hourAt >= speaksUntilAt || isForecast) return ahead;
  return {
    ...ahead,
    lowCelsius: Math.min(ahead.lowCelsius, last.celsius),
    likelyCelsius: Math.max(ahead.likelyCelsius, last.celsius),
    highHumidityPercent: Math.max(ahead.highHumidityPercent, last.humidityPercent),
  };
};

type Judged = { isGood: boolean; needsWarmPiece: boolean; failing: FailedLimit[] };

const judged = (limits: AirLimits, hour: HourAhead, coldestBefore: number): Judged => {
  const { lowCelsius: airCelsius, likelyCelsius, highHumidityPercent: humidityPercent } = hour;
  const at = (surfaceCelsius: number) => failingLimits(limits, { airCelsius, humidityPercent, surfaceCelsius });
  // the low decides all but heat: an hour may get as warm as it is likely to
  const heat: FailedLimit[] =
    likelyCelsius > limits.maximumCelsius
      ? [{ limit: "maximum", of: "air", foundCelsius: likelyCelsius, neededCelsius: limits.maximumCelsius }]
      : [];
  const failing = [...at(airCelsius).filter((failed) => failed.limit !== "maximum" || heat.length === 0), ...heat];
  return {
    isGood: failing.length === 0,
    needsWarmPiece: failing.length === 0 && at(Math.min(airCelsius, coldestBefore)).length > 0,
    failing,
  };
};

const missedBy = (failed: FailedLimit) =>
  failed.limit === "humidity"
    ? failed.foundPercent - failed.neededPercent
    : Math.abs(failed.neededCelsius - failed.foundCelsius);

const worstOfEach = (failing: readonly FailedLimit[]): FailedLimit[] => {
  const worst = new Map<FailedLimit["limit"], FailedLimit>();
  for (const failed of failing) {
    const known = worst.get(failed.limit);
    if (!known || missedBy(failed) > missedBy(known)) worst.set(failed.limit, failed);
  }
  return [...worst.values()];
};

const appended = (stretches: AirStretch[], fromAt: InstantMs, toAt: InstantMs, found: Judged) => {
  const last = stretches.at(-1);
  if (last?.toAt === fromAt && last.isGood === found.isGood) {
    last.toAt = toAt;
    if (last.isGood) last.needsWarmPiece ||= found.needsWarmPiece;
    else last.failing = worstOfEach([...last.failing, ...found.failing]);
  } else if (found.isGood) stretches.push({ fromAt, toAt, isGood: true, needsWarmPiece: found.needsWarmPiece });
  else stretches.push({ fromAt, toAt, isGood: false, failing: worstOfEach(found.failing) });
};

/**
 * The coming hours of a room as stretches in which a product may be laid and such in which it may not, with what fails.
 * Nothing is known of the piece yet: it is taken to have settled in the room, and each good stretch says whether that
 * must be looked after.
 *
 * @param at the hour that holds it comes first, cut at it
 * @param hours 1…240
 * @returns end to end; empty for a room that was never read and has no forecast, and for rooms that nobody reads
 */
export const airAhead = (limits: AirLimits, wholeAir: RoomAir, at: InstantMs, hours = farthestHours): AirStretch[] => {
  const air = airKnownAt(wholeAir, at);
  const stretches: AirStretch[] = [];
  if (air.isAway) return stretches;
  const firstHour = Math.floor(at / hourMs);
  const untilAt = at + Math.min(hours, farthestHours) * hourMs;
  const lowestBefore = lowestAirCelsius(air, at - surfaceLagHours * hourMs, at);
  const lows = lowestBefore === undefined ? [] : [lowestBefore];
  for (let hour = firstHour; hour * hourMs < untilAt; hour += 1) {
    const ahead = worstAhead(air, hour * hourMs, at);
    // a stored forecast may leave out hours of a room that has no pattern to fill them with
    if (!ahead) continue;
    const judgement = judged(limits, ahead, Math.min(...lows.slice(-surfaceLagHours), ahead.lowCelsius));
    lows.push(ahead.lowCelsius);
    appended(stretches, Math.max(at, hour * hourMs), Math.min(untilAt, (hour + 1) * hourMs), judgement);
  }
  return stretches;
};

export type GoodAir = { fromAt: InstantMs; toAt: InstantMs; needsWarmPiece: boolean };

/**
 * The next windows in which a product may be laid in a room.
 *
 * @param lastsMin shorter windows are left out: minutes for the work itself
 * @returns in order; a window that is open already starts at `at`
 */
export const nextGoodAir = (
  limits: AirLimits,
  air: RoomAir,
  at: InstantMs,
  { hours = farthestHours, lastsMin = 0 }: { hours?: number; lastsMin?: number } = {},
): GoodAir[] =>
  airAhead(limits, air, at, hours).flatMap((stretch) =>
    stretch.isGood && stretch.toAt - stretch.fromAt >= lastsMin * minuteMs
      ? [{ fromAt: stretch.fromAt, toAt: stretch.toAt, needsWarmPiece: stretch.needsWarmPiece }]
      : [],
  );

/**
 * The first instant from which a room passes for some minutes on end, by the forecast, on a piece that has settled in it.
 *
 * @param air as known when asked
 * @param between from when on the work may start, and until when it must be done
 * @param lastsMin minutes that the work takes
 */
export const firstGoodAt = (
  limits: AirLimits,
  air: RoomAir,
  askedAt: InstantMs,
  between: { fromAt: InstantMs; toAt: InstantMs },
  lastsMin: number,
): InstantMs | undefined => {
  if (air.isAway) return undefined;
  let goodSince: InstantMs | undefined;
  for (let hourAt = Math.floor(between.fromAt / hourMs) * hourMs; hourAt < between.toAt; hourAt += hourMs) {
    const ahead = worstAhead(air, hourAt, askedAt);
    if (!ahead || !judged(limits, ahead, ahead.lowCelsius).isGood) {
      goodSince = undefined;
      continue;
    }
    goodSince ??= Math.max(between.fromAt, hourAt);
    if (Math.min(between.toAt, hourAt + hourMs) - goodSince >= lastsMin * minuteMs) return goodSince;
  }
  return undefined;
};

/**
 * The first coming hour that may be too cold for a film that is laid now to form.
 *
 * @param withinMin how long the film must be kept from the cold, in minutes
 */
export const coldAhead = (
  { minimumCelsius }: Pick<AirLimits, "minimumCelsius">,
  wholeAir: RoomAir,
  at: InstantMs,
  withinMin: number,
): { fromAt: InstantMs; lowCelsius: number } | undefined => {
  const air = airKnownAt(wholeAir, at);
  const untilAt = at + withinMin * minuteMs;
  for (let hourAt = Math.floor(at / hourMs) * hourMs; hourAt < untilAt; hourAt += hourMs) {
    const ahead = hourAhead(air, hourAt);
    if (ahead && ahead.lowCelsius < minimumCelsius)
      return { fromAt: Math.max(at, hourAt), lowCelsius: ahead.lowCelsius };
  }
  return undefined;
};
