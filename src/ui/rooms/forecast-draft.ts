/** A forecast while it is typed: a few rows, each from an hour on, spread over the whole hours that are stored. */
import { roomForecast } from "~/core/climate/forecast";
import { farthestHours } from "~/core/climate/forecast-fit";
import type { ForecastHour } from "~/core/climate/forecast-hours";
import type { RoomAir } from "~/core/climate/history";
import { accept, type Result, refuse } from "~/core/result";
import { hourMs, type InstantMs } from "~/core/units";
import { readMoment, type TypedMoment, typedMomentOf } from "../kit/typed-moment";

export type ForecastRow = {
  id: number;
  from: TypedMoment;
  lowCelsius: number;
  highHumidityPercent: number;
  /** NaN: as the room's own pattern has it, within the two above. */
  likelyCelsius: number;
  likelyHumidityPercent: number;
};

export type ForecastDraft = { rows: ForecastRow[]; until: TypedMoment };

export type RowErrors = Partial<Record<"from" | "low" | "high" | "likely", string>>;
export type ForecastErrors = { rows: RowErrors[]; until?: string };

const nothingWritten = {
  lowCelsius: Number.NaN,
  highHumidityPercent: Number.NaN,
  likelyCelsius: Number.NaN,
  likelyHumidityPercent: Number.NaN,
};

const hourAfter = (at: InstantMs) => Math.ceil(at / hourMs) * hourMs;

/** From the coming hour on, for a day. */
export const newForecast = (now: InstantMs, zone: string): ForecastDraft => ({
  rows: [{ id: 1, from: typedMomentOf(hourAfter(now), zone), ...nothingWritten }],
  until: typedMomentOf(hourAfter(now) + 24 * hourMs, zone),
});

/** Another row, six hours after the last one: people say "from noon", "in the night". */
export function withRow(draft: ForecastDraft, zone: string): ForecastDraft {
  const last = draft.rows.at(-1);
  const lastFrom = last && readMoment(last.from, zone);
  const from = lastFrom?.ok ? typedMomentOf(lastFrom.value.at + 6 * hourMs, zone) : draft.until;
  const id = Math.max(0, ...draft.rows.map((row) => row.id)) + 1;
  return { ...draft, rows: [...draft.rows, { id, from, ...nothingWritten }] };
}

type Stretch = { fromAt: InstantMs; toAt: InstantMs; row: ForecastRow };

/** The rows end to end, or what is wrong with each. */
function stretchesOf({ rows, until }: ForecastDraft, now: InstantMs, zone: string): Result<Stretch[], ForecastErrors> {
  const errors: ForecastErrors = { rows: rows.map(() => ({})) };
  const fromAts = rows.map((row) => readMoment(row.from, zone));
  const end = readMoment(until, zone);
  rows.forEach((row, index) => {
    const error = errors.rows[index] as RowErrors;
    const from = fromAts[index];
    const before = fromAts[index - 1];
    if (from && !from.ok) error.from = from.refusal;
    if (from?.ok && before?.ok && from.value.at <= before.value.at)
      error.from = "Later than the row above: mend one of the two.";
    if (Number.isNaN(row.lowCelsius)) error.low = "Write the lowest it may get.";
    if (Number.isNaN(row.highHumidityPercent)) error.high = "Write the dampest it may get.";
    if (row.likelyCelsius < row.lowCelsius) error.likely = "Likely cannot be colder than the lowest.";
    if (row.likelyHumidityPercent > row.highHumidityPercent) error.likely = "Likely cannot be damper than the highest.";
  });
  const last = fromAts.at(-1);
  if (!end.ok) errors.until = end.refusal;
  else if (last?.ok && end.value.at <= last.value.at) errors.until = "Later than the last row: mend one of the two.";
  else if (end.value.at <= now) errors.until = "That is over already.";
  else if (end.value.at > now + farthestHours * hourMs) errors.until = "At most ten days ahead.";
  if (errors.until !== undefined || errors.rows.some((error) => Object.keys(error).length > 0) || !end.ok)
    return refuse(errors);
  const starts = fromAts.map((from) => (from.ok ? from.value.at : end.value.at));
  return accept(
    rows.map((row, index) => ({
      fromAt: starts[index] as InstantMs,
      toAt: starts[index + 1] ?? end.value.at,
      row,
    })),
  );
}

const toTenth = (value: number) => Math.round(value * 10) / 10;

/** What the room's own pattern says of a whole hour; nothing for a room that was never read. */
const patternOf = (air: RoomAir, hourAt: InstantMs) => {
  const pattern = roomForecast(air);
  const hourOfDay = Math.floor(hourAt / hourMs) % 24;
  return (
    pattern && {
      lowCelsius: pattern.lowCelsius[hourOfDay] as number,
      highHumidityPercent: pattern.highHumidityPercent[hourOfDay] as number,
      likelyCelsius: pattern.likelyCelsius[hourOfDay] as number,
      likelyHumidityPercent: pattern.likelyHumidityPercent[hourOfDay] as number,
    }
  );
};

const hourOf = (air: RoomAir, fromAt: InstantMs, over: readonly Stretch[]): ForecastHour => {
  const low = Math.min(...over.map(({ row }) => row.lowCelsius));
  const high = Math.max(...over.map(({ row }) => row.highHumidityPercent));
  const middle = over.find(({ toAt }) => toAt > fromAt + hourMs / 2) ?? (over.at(-1) as Stretch);
  const pattern = patternOf(air, fromAt);
  const likely = (typed: number, usual: number | undefined, edge: number) =>
    Number.isNaN(typed) ? (usual ?? edge) : typed;
  return {
    fromAt,
    lowCelsius: toTenth(low),
    likelyCelsius: toTenth(Math.max(low, likely(middle.row.likelyCelsius, pattern?.likelyCelsius, low))),
    likelyHumidityPercent: toTenth(
      Math.min(high, likely(middle.row.likelyHumidityPercent, pattern?.likelyHumidityPercent, high)),
    ),
    highHumidityPercent: toTenth(high),
  };
};

/** The hours to store: an hour in which two rows meet is as bad as the worse of them. Hours over already are left out. */
export function forecastHoursOf(
  draft: ForecastDraft,
  air: RoomAir,
  now: InstantMs,
  zone: string,
): Result<ForecastHour[], ForecastErrors> {
  const stretches = stretchesOf(draft, now, zone);
  if (!stretches.ok) return stretches;
  const firstAt = Math.floor((stretches.value[0] as Stretch).fromAt / hourMs) * hourMs;
  const lastAt = (stretches.value.at(-1) as Stretch).toAt;
  const hours: ForecastHour[] = [];
  for (let hourAt = firstAt; hourAt < lastAt; hourAt += hourMs) {
    const over = stretches.value.filter(({ fromAt, toAt }) => fromAt < hourAt + hourMs && toAt > hourAt);
    if (over.length > 0 && hourAt + hourMs > now) hours.push(hourOf(air, hourAt, over));
  }
  return accept(hours);
}

export type Overridden = { lowestCelsius: number; highestPercent: number };

/** What the room's own pattern says of the hours that a forecast takes over. */
export function overriddenBy(hours: readonly ForecastHour[], air: RoomAir): Overridden | undefined {
  const patterns = hours.flatMap((hour) => patternOf(air, hour.fromAt) ?? []);
  if (patterns.length === 0) return undefined;
  return {
    lowestCelsius: Math.min(...patterns.map((hour) => hour.lowCelsius)),
    highestPercent: Math.max(...patterns.map((hour) => hour.highHumidityPercent)),
  };
}
