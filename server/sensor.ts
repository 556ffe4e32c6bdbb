/**
 * Invented readings for a shop that is a demonstration, so that its air does not end with the made-up week. They come
 * through the one door like anybody's, from a device that says what it is.
 */
import { randomBytes } from "node:crypto";
import { derivedId } from "~/core/shop/derived-id";
import type { ShopId } from "~/core/shop/entities/ids";
import { type Intent, schemaVersion } from "~/core/shop/intent";
import { roleAt } from "~/core/shop/roles";
import type { Room } from "~/core/shop/tables";
import { hourMs, type InstantMs, minuteMs } from "~/core/units";
import { database } from "~/data/db";
import { rememberDevice } from "~/data/devices";
import { membersOf } from "~/data/members";
import { findRows } from "~/data/rows";
import type { Hub } from "./hub";

export const sensorName = "invented sensor";
export const sensorEveryMs = 10 * minuteMs;

/** Warmest in the afternoon; a degree and a half either way is a heated workshop in autumn. Invented. */
const swingCelsius = 1.5;
const warmestHour = 20; // of universal time: 16:00 in New York
/** Warmer air of the same moisture is relatively drier, about so much for each degree near room temperature. */
const humidityPercentPerCelsius = 3;

/** The air of a room at a moment, the same whenever it is asked. */
export function inventedAir(
  room: Pick<Room, "usualCelsius" | "usualHumidityPercent">,
  at: InstantMs,
): { airCelsius: number; humidityPercent: number } {
  const hours = at / hourMs - warmestHour;
  const warmer = swingCelsius * Math.cos((hours / 24) * 2 * Math.PI);
  const tenths = (value: number, min: number, max: number) => Math.round(Math.min(max, Math.max(min, value)) * 10) / 10;
  return {
    airCelsius: tenths(room.usualCelsius + warmer, -40, 60),
    humidityPercent: tenths(room.usualHumidityPercent - humidityPercentPerCelsius * warmer, 1, 100),
  };
}

/** Reads every room of a shop that is read. */
export async function recordInventedReadings(hub: Hub, shopId: ShopId, now: InstantMs): Promise<void> {
  const owner = (await membersOf(shopId)).find((member) => roleAt(member, now) === "owner");
  if (!owner) return;
  const deviceId = derivedId(shopId, 1);
  await rememberDevice({ shopId, deviceId, memberId: owner.id, name: sensorName, now });
  const rooms = (await findRows(database(), "room", { shopId })).map(({ row }) => row);
  const read = rooms.filter(({ uses, closedAt }) => closedAt === undefined && !uses.includes("away"));
  const envelopes = read.map(
    (room, index): Intent => ({
      intentId: newId(now),
      kind: "record-reading",
      body: { readingId: newId(now), roomId: room.id, at: now, source: "logger", ...inventedAir(room, now) },
      memberId: owner.id,
      deviceId,
      deviceSeq: index + 1,
      deviceAt: now,
      offsetMs: 0,
      offsetUncertainMs: 0,
      seenSeq: 0,
      schemaVersion,
    }),
  );
  const session = { memberId: owner.id, deviceId, isSharedTablet: false };
  await hub.commit({ shopId, envelopes, session, now });
}

/** A UUID of version 7 (RFC 9562, 5.7). */
function newId(at: InstantMs): string {
  const time = at.toString(16).padStart(12, "0");
  const chance = randomBytes(9).toString("hex");
  return `${time.slice(0, 8)}-${time.slice(8)}-7${chance.slice(0, 3)}-8${chance.slice(3, 6)}-${chance.slice(6, 18)}`;
}
