import type { Sheet } from "../shop/tables";
import { hourMs, type InstantMs, minuteMs } from "../units";
import { dewPointCelsius } from "./dew-point";
import { airKnownAt, lowestAirCelsius, type RoomAir } from "./history";

/** Wood follows the air slowly: unmeasured, a piece may be as cold as the coldest of these hours. Common practice. */
const surfaceLagMs = 6 * hourMs;

export type AirLimits = Pick<Sheet, "minimumCelsius" | "maximumCelsius" | "humidityLimitPercent" | "dewSpreadCelsius">;

export type FailedLimit =
  | { limit: "minimum"; foundCelsius: number; neededCelsius: number }
  | { limit: "maximum"; foundCelsius: number; neededCelsius: number }
  | { limit: "humidity"; foundPercent: number; neededPercent: number }
  | { limit: "dew-spread"; foundCelsius: number; neededCelsius: number };

type MeasuredAir = {
  readAt: InstantMs;
  airCelsius: number;
  humidityPercent: number;
  surfaceCelsius: number;
  isSurfaceMeasured: boolean;
  dewPointCelsius: number;
  spreadCelsius: number;
};

export type CoatingAir =
  | { state: "unknown"; roomId: RoomAir["roomId"]; lastReadingAt?: InstantMs; gapLimitMin: number }
  | ({ state: "fit"; roomId: RoomAir["roomId"] } & MeasuredAir)
  | ({ state: "unfit"; roomId: RoomAir["roomId"]; failing: FailedLimit[] } & MeasuredAir);

const failingLimits = (limits: AirLimits, air: MeasuredAir): FailedLimit[] => {
  const coldest = Math.min(air.airCelsius, air.surfaceCelsius);
  const warmest = Math.max(air.airCelsius, air.surfaceCelsius);
  const failing: FailedLimit[] = [];
  if (coldest < limits.minimumCelsius)
    failing.push({ limit: "minimum", foundCelsius: coldest, neededCelsius: limits.minimumCelsius });
  if (warmest > limits.maximumCelsius)
    failing.push({ limit: "maximum", foundCelsius: warmest, neededCelsius: limits.maximumCelsius });
  if (limits.humidityLimitPercent !== undefined && air.humidityPercent > limits.humidityLimitPercent)
    failing.push({
      limit: "humidity",
      foundPercent: air.humidityPercent,
      neededPercent: limits.humidityLimitPercent,
    });
  if (air.spreadCelsius < limits.dewSpreadCelsius)
    failing.push({ limit: "dew-spread", foundCelsius: air.spreadCelsius, neededCelsius: limits.dewSpreadCelsius });
  return failing;
};

/**
 * Whether the air of a room is fit for laying this product now, by its last reading, and which limits fail by how much.
 * The surface is the one last measured within the gap limit, else the lowest air of the last six hours. Unknown when no
 * reading is younger than the gap limit. The data sheet of the product in hand outranks the answer.
 *
 * @param at later readings are ignored
 */
export const coatingAir = (limits: AirLimits, wholeAir: RoomAir, at: InstantMs): CoatingAir => {
  const air = airKnownAt(wholeAir, at);
  const { roomId, gapLimitMin, endsAt, last } = air;
  if (endsAt === undefined || !last || at - endsAt > gapLimitMin * minuteMs)
    return { state: "unknown", roomId, ...(endsAt !== undefined && { lastReadingAt: endsAt }), gapLimitMin };
  const measured = air.readings.findLast(
    (reading) => reading.surfaceCelsius !== undefined && at - reading.at <= gapLimitMin * minuteMs,
  )?.surfaceCelsius;
  const surfaceCelsius = measured ?? lowestAirCelsius(air, at - surfaceLagMs, at) ?? last.celsius;
  const dewPoint = dewPointCelsius(last.celsius, last.humidityPercent);
  const found: MeasuredAir = {
    readAt: endsAt,
    airCelsius: last.celsius,
    humidityPercent: last.humidityPercent,
    surfaceCelsius,
    isSurfaceMeasured: measured !== undefined,
    dewPointCelsius: dewPoint,
    spreadCelsius: surfaceCelsius - dewPoint,
  };
  const failing = failingLimits(limits, found);
  return failing.length === 0 ? { state: "fit", roomId, ...found } : { state: "unfit", roomId, failing, ...found };
};
