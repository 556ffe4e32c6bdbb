import { dewPointCelsius } from "~/core/climate/dew-point";
import type { RoomAir } from "~/core/climate/history";
import { type AirLimits, coatingAir } from "~/core/climate/limits";
import type { Facts } from "~/core/shop/facts";
import type { Forecast, Piece, Room } from "~/core/shop/tables";
import { dayMs, type InstantMs, minuteMs } from "~/core/units";
import { type AirCurve, airCurve } from "./air-curve";
import { type CoatNow, coatNow } from "./coat-now";

export type RoomReading = {
  at: InstantMs;
  airCelsius: number;
  humidityPercent: number;
  surfaceCelsius?: number;
  /** Older than the room may go unread: films earn nothing for that time. */
  isOld: boolean;
  dewPointCelsius: number;
  /** How far the surfaces lie above the dew point; only while the reading is young enough to say. */
  spread?: { celsius: number; isSurfaceMeasured: boolean };
};

/** The strictest of the products that lie, young, on pieces in a room. */
export type RoomMinimum = { celsius: number; products: string[] };

export type RoomShown = {
  room: Room;
  isAway: boolean;
  reading?: RoomReading;
  pieces: Piece[];
  minimum?: RoomMinimum;
  curve: AirCurve;
  air: RoomAir;
  forecast?: Forecast;
  coats: CoatNow[];
};

/** The days of air that are drawn. */
export const curveDays = 7;

/** A film older than this has mostly done what the air can do to it (common practice). */
const youngFilmMs = 30 * dayMs;

/** Where work is done comes first; what only stands somewhere else comes last. */
const placeOf = ({ uses }: Room) => (uses.includes("away") ? 2 : uses.some((use) => use !== "store") ? 0 : 1);

/** Rooms in use: those that are worked in first, by name, and last what is away from the shop. */
export const roomsShown = (facts: Facts, now: InstantMs): RoomShown[] =>
  facts
    .all("room")
    .filter((room) => room.closedAt === undefined)
    .sort((one, other) => placeOf(one) - placeOf(other) || one.name.localeCompare(other.name))
    .map((room) => {
      const air = facts.air(room.id, now);
      const pieces = facts.where("piece", "roomId", room.id).filter((piece) => piece.archivedAt === undefined);
      return {
        room,
        isAway: room.uses.includes("away"),
        reading: lastReading(air, now),
        pieces,
        minimum: minimumOf(facts, pieces, now),
        curve: airCurve(air, now - curveDays * dayMs, now),
        air,
        forecast: facts.where("forecast", "roomId", room.id)[0],
        coats: coatNow(facts, room, now),
      };
    });

/** Only the spread is wanted of the coating rules: no limit fails. */
const noLimits: AirLimits = { minimumCelsius: -100, maximumCelsius: 100, dewSpreadCelsius: -100 };

function lastReading(air: RoomAir, now: InstantMs): RoomReading | undefined {
  const { last, endsAt } = air;
  if (!last || endsAt === undefined) return undefined;
  const found = coatingAir(noLimits, air, now);
  const newest = air.readings.findLast((reading) => reading.at === endsAt);
  return {
    at: endsAt,
    airCelsius: last.celsius,
    humidityPercent: last.humidityPercent,
    surfaceCelsius: newest?.surfaceCelsius,
    isOld: now - endsAt > air.gapLimitMin * minuteMs,
    dewPointCelsius: dewPointCelsius(last.celsius, last.humidityPercent),
    spread:
      found.state === "unknown"
        ? undefined
        : { celsius: found.spreadCelsius, isSurfaceMeasured: found.isSurfaceMeasured },
  };
}

function minimumOf(facts: Facts, pieces: readonly Piece[], now: InstantMs): RoomMinimum | undefined {
  const young = pieces
    .flatMap((piece) => facts.where("coat", "pieceId", piece.id))
    .filter(
      ({ state, applied, removed }) => state !== "struck" && !removed && applied && now - applied.endedAt < youngFilmMs,
    );
  const sheets = young.flatMap((coat) => facts.get("sheet", coat.sheetId) ?? []);
  if (sheets.length === 0) return undefined;
  const celsius = Math.max(...sheets.map((sheet) => sheet.minimumCelsius));
  const strictest = sheets.filter((sheet) => sheet.minimumCelsius === celsius);
  const names = strictest.flatMap((sheet) => facts.get("product", sheet.productId)?.name ?? []);
  return { celsius, products: [...new Set(names)] };
}

export const roomUseWords: Record<Room["uses"][number], string> = {
  spray: "spraying",
  cure: "curing",
  bench: "bench work",
  store: "storing",
  away: "away",
};
