/** What a product's sheet asks of the air, the piece and the can before it is laid, and what of that is missing. */
import type { Sheet } from "../shop/tables";
import { hourMs, type InstantMs, minuteMs } from "../units";
import { dewPointCelsius } from "./dew-point";
import { airKnownAt, lowestAirCelsius, type RoomAir } from "./history";

/** Wood follows the air slowly: unmeasured, a piece may be as cold as the coldest of these hours. Common practice. */
const surfaceLagMs = 6 * hourMs;
/** A piece this close to its room has settled in it. Common practice. */
const settledCelsius = 3;

export type AirLimits = Pick<Sheet, "minimumCelsius" | "maximumCelsius" | "humidityLimitPercent" | "dewSpreadCelsius">;

/** What was too cold or too warm. */
export type MeasuredThing = "air" | "surface" | "product";

export type FailedLimit =
  | { limit: "minimum"; of: MeasuredThing; foundCelsius: number; neededCelsius: number }
  | { limit: "maximum"; of: MeasuredThing; foundCelsius: number; neededCelsius: number }
  | { limit: "humidity"; foundPercent: number; neededPercent: number }
  | { limit: "dew-spread"; foundCelsius: number; neededCelsius: number };

/** Air, piece and, where somebody held a thermometer to it, the can. */
export type AirAround = {
  airCelsius: number;
  humidityPercent: number;
  surfaceCelsius: number;
  productCelsius?: number;
};

type MeasuredAir = AirAround & {
  readAt: InstantMs;
  isSurfaceMeasured: boolean;
  dewPointCelsius: number;
  spreadCelsius: number;
};

/**
 * The room would do, but the piece or the can came in colder: from `atLeastCelsius` on all limits hold, and from
 * `betterCelsius` it has settled in the room.
 */
export type Acclimatising = {
  what: "surface" | "product";
  foundCelsius: number;
  atLeastCelsius: number;
  betterCelsius: number;
};

export type CoatingAir =
  | { state: "unknown"; roomId: RoomAir["roomId"]; lastReadingAt?: InstantMs; gapLimitMin: number }
  | ({ state: "fit"; roomId: RoomAir["roomId"]; acclimatising?: Acclimatising } & MeasuredAir)
  | ({
      state: "unfit";
      roomId: RoomAir["roomId"];
      failing: FailedLimit[];
      /** Only where letting the piece or the can come to the room is all that is missing. */
      acclimatising?: Acclimatising;
    } & MeasuredAir);

const measuredThings = ({ airCelsius, surfaceCelsius, productCelsius }: AirAround) => [
  { of: "air" as const, celsius: airCelsius },
  { of: "surface" as const, celsius: surfaceCelsius },
  ...(productCelsius === undefined ? [] : [{ of: "product" as const, celsius: productCelsius }]),
];

/**
 * Which limits of a sheet this air misses, and by how much. The coldest of air, piece and can counts against the minimum,
 * the warmest against the maximum.
 */
export const failingLimits = (limits: AirLimits, around: AirAround): FailedLimit[] => {
  const things = measuredThings(around);
  const coldest = things.reduce((found, thing) => (thing.celsius < found.celsius ? thing : found));
  const warmest = things.reduce((found, thing) => (thing.celsius > found.celsius ? thing : found));
  const spreadCelsius = around.surfaceCelsius - dewPointCelsius(around.airCelsius, around.humidityPercent);
  const { minimumCelsius, maximumCelsius, humidityLimitPercent, dewSpreadCelsius } = limits;
  const failing: FailedLimit[] = [];
  if (coldest.celsius < minimumCelsius)
    failing.push({
      limit: "minimum",
      of: coldest.of,
      foundCelsius: coldest.celsius,
      neededCelsius: minimumCelsius,
    });
  if (warmest.celsius > maximumCelsius)
    failing.push({
      limit: "maximum",
      of: warmest.of,
      foundCelsius: warmest.celsius,
      neededCelsius: maximumCelsius,
    });
  if (humidityLimitPercent !== undefined && around.humidityPercent > humidityLimitPercent)
    failing.push({
      limit: "humidity",
      foundPercent: around.humidityPercent,
      neededPercent: humidityLimitPercent,
    });
  if (spreadCelsius < dewSpreadCelsius)
    failing.push({ limit: "dew-spread", foundCelsius: spreadCelsius, neededCelsius: dewSpreadCelsius });
  return failing;
};

/** A missed limit as it is told: one figure found and one needed, in one unit. */
export type MissedLimit = {
  limit: FailedLimit["limit"];
  of?: MeasuredThing;
  found: number;
  needed: number;
  unit: "°C" | "% RH";
};

/** To a tenth, away from what is needed: a limit that was missed must not read as if it were met. */
const toMissedTenth = (found: number, needed: number) =>
  (found < needed ? Math.floor(found * 10 + 1e-6) : Math.ceil(found * 10 - 1e-6)) / 10;

export const missedLimit = (failed: FailedLimit): MissedLimit => {
  if (failed.limit === "humidity") {
    const { limit, foundPercent, neededPercent: needed } = failed;
    return { limit, found: toMissedTenth(foundPercent, needed), needed, unit: "% RH" };
  }
  const { limit, foundCelsius, neededCelsius: needed } = failed;
  const of = failed.limit === "dew-spread" ? undefined : failed.of;
  return { limit, ...(of && { of }), found: toMissedTenth(foundCelsius, needed), needed, unit: "°C" };
};

/** Whether waiting in this room is all that a cold piece or can needs. */
const acclimatisingOf = (limits: AirLimits, around: AirAround): Acclimatising | undefined => {
  const { airCelsius, humidityPercent, surfaceCelsius, productCelsius = airCelsius } = around;
  if (failingLimits(limits, { airCelsius, humidityPercent, surfaceCelsius: airCelsius }).length > 0) return undefined;
  const what = productCelsius < surfaceCelsius ? "product" : "surface";
  const foundCelsius = Math.min(productCelsius, surfaceCelsius);
  const betterCelsius = airCelsius - settledCelsius;
  const dryFromCelsius = dewPointCelsius(airCelsius, humidityPercent) + limits.dewSpreadCelsius;
  const atLeastCelsius = what === "surface" ? Math.max(limits.minimumCelsius, dryFromCelsius) : limits.minimumCelsius;
  if (foundCelsius >= betterCelsius && foundCelsius >= atLeastCelsius) return undefined;
  return { what, foundCelsius, atLeastCelsius, betterCelsius: Math.max(betterCelsius, atLeastCelsius) };
};

/** What somebody measured on the piece or in the can for this very question. */
export type MeasuredFor = { surfaceCelsius?: number; productCelsius?: number };

/**
 * Whether the air of a room is fit for laying this product now, by its last reading, and which limits fail by how much.
 * Unless measured for this question, the surface is the one last measured within the gap limit, else the lowest air of
 * the last six hours. Unknown when no reading is younger than the gap limit. The data sheet of the product in hand
 * outranks the answer.
 *
 * @param at later readings are ignored
 * @param measured °C of the piece and of the product in its can, where somebody held a thermometer to them
 */
export const coatingAir = (
  limits: AirLimits,
  wholeAir: RoomAir,
  at: InstantMs,
  measured: MeasuredFor = {},
): CoatingAir => {
  const air = airKnownAt(wholeAir, at);
  const { roomId, gapLimitMin, endsAt, last } = air;
  if (endsAt === undefined || !last || at - endsAt > gapLimitMin * minuteMs)
    return { state: "unknown", roomId, ...(endsAt !== undefined && { lastReadingAt: endsAt }), gapLimitMin };
  const measuredSurface =
    measured.surfaceCelsius ??
    air.readings.findLast(
      (reading) => reading.surfaceCelsius !== undefined && at - reading.at <= gapLimitMin * minuteMs,
    )?.surfaceCelsius;
  const surfaceCelsius = measuredSurface ?? lowestAirCelsius(air, at - surfaceLagMs, at) ?? last.celsius;
  const dewPoint = dewPointCelsius(last.celsius, last.humidityPercent);
  const found: MeasuredAir = {
    readAt: endsAt,
    airCelsius: last.celsius,
    humidityPercent: last.humidityPercent,
    surfaceCelsius,
    ...(measured.productCelsius !== undefined && { productCelsius: measured.productCelsius }),
    isSurfaceMeasured: measuredSurface !== undefined,
    dewPointCelsius: dewPoint,
    spreadCelsius: surfaceCelsius - dewPoint,
  };
  const failing = failingLimits(limits, found);
  const acclimatising = acclimatisingOf(limits, found);
  const waits = acclimatising && { acclimatising };
  return failing.length === 0
    ? { state: "fit", roomId, ...found, ...waits }
    : { state: "unfit", roomId, failing, ...found, ...waits };
};
