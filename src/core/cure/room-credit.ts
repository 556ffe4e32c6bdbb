/**
 * What the air of one room is worth to a film, summed up once per room and kind of film, so that any stretch of it costs
 * two look-ups. Four tracks run over the same air:
 *
 * - `safe` judges: unknown time earns nothing; after the last reading it runs on for at most the gap limit, at the lower
 *   of that reading and the forecast low.
 * - `promise` dates: as safe, but goes on at the forecast low as if readings went on. If the last reading is older than
 *   the gap limit when asked, the time since then will stay unknown, so it starts again at the instant of asking.
 * - `likely` is shown beside it: unknown time counts as the room usually is, the future as it is likely.
 * - `fast` bounds "not after": never slower than real time, uncapped in warmth, real minutes where nothing is known.
 */
import { roomForecast } from "../climate/forecast";
import { type RoomAir, stretchEndAt, stretchIndexAt } from "../climate/history";
import { hourMs, type InstantMs, minuteMs } from "../units";
import { type Air, type CureReference, cureRate, fastRate, lineMinutes } from "./rate";

export type Track = "safe" | "promise" | "likely" | "fast";

type HourlyRates = { rates: readonly number[]; minutesToHour: readonly number[]; minutesPerDay: number };

export type RoomCredit = {
  air: RoomAir;
  /** Minutes earned from the first reading to the start of each stretch, and at last to the end of all. */
  sums: { safe: Float64Array; likely: Float64Array; fast: Float64Array };
  reference: CureReference;
  usualRate: number;
  lastFastRate: number;
  ahead: { low: HourlyRates; lastOrLow: HourlyRates; likely: HourlyRates } | undefined;
};

const hourlyRates = (rates: readonly number[]): HourlyRates => {
  let sum = 0;
  const minutesToHour = rates.map((rate) => {
    const before = sum;
    sum += rate * 60;
    return before;
  });
  return { rates, minutesToHour, minutesPerDay: sum };
};

const hourlyMinutes = ({ rates, minutesToHour, minutesPerDay }: HourlyRates, fromAt: InstantMs, toAt: InstantMs) => {
  if (toAt <= fromAt) return 0;
  const firstDay = Math.floor(fromAt / hourMs / 24);
  const sinceFirstDay = (at: InstantMs) => {
    const hours = at / hourMs - firstDay * 24;
    const hour = Math.floor(hours);
    const hourOfDay = hour % 24;
    const wholeDays = Math.floor(hour / 24) * minutesPerDay;
    return wholeDays + (minutesToHour[hourOfDay] as number) + (hours - hour) * 60 * (rates[hourOfDay] as number);
  };
  return sinceFirstDay(toAt) - sinceFirstDay(fromAt);
};

const usualAir = (air: RoomAir): Air => ({ celsius: air.usualCelsius, humidityPercent: air.usualHumidityPercent });

type Earned = { safe: number; likely: number; fast: number };

/** What the part of a stretch up to `toAt` earns. */
const stretchMinutes = (credit: Omit<RoomCredit, "sums">, index: number, toAt: InstantMs): Earned => {
  const { air, reference, usualRate } = credit;
  const fromAt = air.startsAt[index] as number;
  const realMin = (toAt - fromAt) / minuteMs;
  if (air.isKnown[index] === 0) return { safe: 0, likely: realMin * usualRate, fast: realMin };
  const share = (toAt - fromAt) / (stretchEndAt(air, index) - fromAt);
  const value = (start: Float64Array, end: Float64Array, part: number) =>
    (start[index] as number) + part * ((end[index] as number) - (start[index] as number));
  const airAtShare = (part: number): Air => ({
    celsius: value(air.startCelsius, air.endCelsius, part),
    humidityPercent: value(air.startHumidityPercent, air.endHumidityPercent, part),
  });
  const line = { fromAt, toAt, from: airAtShare(0), to: airAtShare(share) };
  const slow = lineMinutes(line, reference, "slow");
  // warmth is what quickens every law: below the cap at both ends, the fast clock is the real one
  const isBelowCap = fastRate(line.from, reference) === 1 && fastRate(line.to, reference) === 1;
  return { safe: slow, likely: slow, fast: isBelowCap ? realMin : lineMinutes(line, reference, "fast") };
};

const aheadOf = (air: RoomAir, reference: CureReference): RoomCredit["ahead"] => {
  const forecast = roomForecast(air);
  if (!forecast || !air.last) return undefined;
  const last = air.last;
  const at = (celsius: number, humidityPercent: number) => cureRate({ celsius, humidityPercent }, reference);
  const damp = forecast.highHumidityPercent;
  return {
    low: hourlyRates(forecast.lowCelsius.map((low, hour) => at(low, damp[hour] as number))),
    lastOrLow: hourlyRates(
      forecast.lowCelsius.map((low, hour) =>
        at(Math.min(low, last.celsius), Math.max(damp[hour] as number, last.humidityPercent)),
      ),
    ),
    likely: hourlyRates(
      forecast.likelyCelsius.map((likely, hour) => at(likely, forecast.likelyHumidityPercent[hour] as number)),
    ),
  };
};

const summed = (air: RoomAir, reference: CureReference): RoomCredit => {
  const credit = {
    air,
    reference,
    usualRate: cureRate(usualAir(air), reference),
    lastFastRate: air.last ? fastRate(air.last, reference) : 1,
    ahead: aheadOf(air, reference),
  };
  const stretches = air.startsAt.length;
  const sums = {
    safe: new Float64Array(stretches + 1),
    likely: new Float64Array(stretches + 1),
    fast: new Float64Array(stretches + 1),
  };
  for (let index = 0; index < stretches; index += 1) {
    const earned = stretchMinutes(credit, index, stretchEndAt(air, index));
    for (const track of ["safe", "likely", "fast"] as const)
      sums[track][index + 1] = (sums[track][index] as number) + earned[track];
  }
  return { ...credit, sums };
};

const creditsByAir = new WeakMap<RoomAir, Map<string, RoomCredit>>();

export const roomCredit = (air: RoomAir, reference: CureReference): RoomCredit => {
  const { mechanism, referenceCelsius, referenceHumidityPercent, minimumCelsius } = reference;
  const key = [mechanism, referenceCelsius, referenceHumidityPercent, minimumCelsius].join(" ");
  const credits = creditsByAir.get(air) ?? new Map<string, RoomCredit>();
  creditsByAir.set(air, credits);
  const kept = credits.get(key) ?? summed(air, reference);
  credits.set(key, kept);
  return kept;
};

/** Minutes from the end of the history to `toAt`. */
const minutesAhead = (credit: RoomCredit, track: Track, toAt: InstantMs, askedAt: InstantMs): number => {
  const { air, ahead } = credit;
  const endsAt = air.endsAt as InstantMs;
  if (!ahead) return 0;
  const limitAt = endsAt + air.gapLimitMin * minuteMs;
  const tail = () => hourlyMinutes(ahead.lastOrLow, endsAt, Math.min(toAt, limitAt));
  switch (track) {
    case "safe":
      return tail();
    case "promise":
      return askedAt > limitAt
        ? hourlyMinutes(ahead.low, askedAt, toAt)
        : tail() + hourlyMinutes(ahead.low, limitAt, toAt);
    case "likely":
      return hourlyMinutes(ahead.likely, endsAt, toAt);
    case "fast": {
      const inTailMs = Math.min(toAt, limitAt) - endsAt;
      return (inTailMs * credit.lastFastRate + Math.max(0, toAt - limitAt)) / minuteMs;
    }
  }
};

/**
 * Minutes earned from a fixed instant of this room to `at`; only differences mean something.
 *
 * @param countsAway whether time in a room that nobody reads counts as that room is stated to be
 */
const earnedTo = (credit: RoomCredit, track: Track, at: InstantMs, askedAt: InstantMs, countsAway: boolean): number => {
  const { air, sums } = credit;
  if (air.isAway || air.endsAt === undefined) {
    const isCounted = track === "likely" || (air.isAway && countsAway);
    return track === "fast" ? at / minuteMs : isCounted ? (at / minuteMs) * credit.usualRate : 0;
  }
  const startsAt = air.startsAt[0] ?? air.endsAt;
  const column = sums[track === "promise" ? "safe" : track];
  if (at <= startsAt) {
    const realMin = (at - startsAt) / minuteMs;
    return track === "fast" ? realMin : track === "likely" ? realMin * credit.usualRate : 0;
  }
  if (at > air.endsAt) return (column[column.length - 1] as number) + minutesAhead(credit, track, at, askedAt);
  const index = Math.min(stretchIndexAt(air, at), air.startsAt.length - 1);
  const partial = stretchMinutes(credit, index, at);
  return (column[index] as number) + partial[track === "promise" ? "safe" : track];
};

/** Minutes that this room earns between two instants on one track. */
export const earnedBetween = (
  credit: RoomCredit,
  track: Track,
  fromAt: InstantMs,
  toAt: InstantMs,
  asked: { at: InstantMs; countsAway: boolean },
): number =>
  earnedTo(credit, track, toAt, asked.at, asked.countsAway) -
  earnedTo(credit, track, fromAt, asked.at, asked.countsAway);

/** Whether this track can still earn anything, however long one waits from the instant of asking. */
export const earnsAhead = (credit: RoomCredit, track: Track, countsAway: boolean): boolean => {
  if (track === "fast") return true;
  if (credit.air.isAway || credit.air.endsAt === undefined)
    return credit.usualRate > 0 && (track === "likely" || (credit.air.isAway && countsAway));
  if (track === "safe" || !credit.ahead) return false;
  return credit.ahead[track === "promise" ? "low" : "likely"].minutesPerDay > 0;
};
