import { coldAhead } from "../climate/good-air";
import { chalkOf, jointRooms } from "../cure/joint";
import type { Facts, Need } from "../shop/facts";
import type { Joint } from "../shop/tables";
import { dayMs, type InstantMs, minuteMs } from "../units";

/** Water-borne glue must not fall below its chalk temperature in a joint's first day. Source: common practice. */
export const glueHoldMs = dayMs;

export type ColdJoint = { joint: Joint; roomId: string; chalkCelsius: number; lowCelsius: number; coldAt: InstantMs };

const isInHold = (joint: Joint, at: InstantMs): boolean =>
  joint.gluedAt <= at && at < joint.gluedAt + glueHoldMs && joint.verdict === undefined;

/** Where a joint stands at an instant: where it was glued, until its piece is carried; nothing once that is gone. */
const roomOf = (facts: Facts, joint: Joint, at: InstantMs): string | undefined =>
  jointRooms({ stays: facts.where("roomStay", "pieceId", joint.pieceId) }, joint, at).find(
    ({ fromAt, toAt }) => fromAt <= at && at < toAt,
  )?.roomId;

/** Fresh joints that stand where the night may chalk their glue. The glue's own data sheet goes first. */
export const coldJoints = (facts: Facts, at: InstantMs): ColdJoint[] =>
  facts.all("joint").flatMap((joint) => {
    if (!isInHold(joint, at)) return [];
    const roomId = roomOf(facts, joint, at);
    const sheet = facts.get("sheet", joint.sheetId);
    const chalkCelsius = sheet && chalkOf(sheet);
    if (roomId === undefined || chalkCelsius === undefined) return [];
    const leftMin = (joint.gluedAt + glueHoldMs - at) / minuteMs;
    const cold = coldAhead({ minimumCelsius: chalkCelsius }, facts.air(roomId, at), at, leftMin);
    return cold ? [{ joint, roomId, chalkCelsius, lowCelsius: cold.lowCelsius, coldAt: cold.fromAt }] : [];
  });

/** A forecast rests on the same hours of the last week. */
const forecastMs = 8 * dayMs;
/** A device's clock may be corrected between the loading and the judging: joints a little older are loaded too. */
const slackMs = 2 * dayMs;

/** What a list of cold joints rests on: every joint, where the pieces of the fresh ones stood since, and the air there. */
export const coldGlueNeeds = (facts: Facts, at: InstantMs): Need[] => {
  const fresh = facts.all("joint").filter((joint) => joint.gluedAt > at - glueHoldMs - slackMs);
  const pieceIds = [...new Set(fresh.map((joint) => joint.pieceId))];
  const stays = pieceIds
    .flatMap((pieceId) => facts.where("roomStay", "pieceId", pieceId))
    .filter((stay) => stay.toAt === undefined || stay.toAt > at - slackMs);
  const roomIds = new Set([...fresh, ...stays].map(({ roomId }) => roomId));
  return [
    { table: "joint", all: true },
    { table: "forecast", all: true },
    ...pieceIds.map((pieceId) => ({ table: "roomStay", field: "pieceId", value: pieceId }) as const),
    ...[...roomIds].map((roomId) => ({ readingsOf: roomId, fromAt: at - forecastMs })),
  ];
};
