import { coldAhead } from "../climate/good-air";
import type { Facts, Need } from "../shop/facts";
import type { Joint } from "../shop/tables";
import { dayMs, type InstantMs, minuteMs } from "../units";

/** Water-borne glue must not fall below its chalk temperature in a joint's first day. Source: common practice. */
export const glueHoldMs = dayMs;

export type ColdJoint = { joint: Joint; roomId: string; chalkCelsius: number; lowCelsius: number; coldAt: InstantMs };

const isInHold = (joint: Joint, at: InstantMs): boolean =>
  joint.gluedAt <= at && at < joint.gluedAt + glueHoldMs && joint.verdict === undefined;

/** Fresh joints that stand where the night may chalk their glue. The glue's own data sheet goes first. */
export const coldJoints = (facts: Facts, at: InstantMs): ColdJoint[] =>
  facts.all("joint").flatMap((joint) => {
    const roomId = facts.get("piece", joint.pieceId)?.roomId;
    const chalkCelsius = facts.get("sheet", joint.sheetId)?.chalkCelsius;
    if (!isInHold(joint, at) || roomId === undefined || chalkCelsius === undefined) return [];
    const leftMin = (joint.gluedAt + glueHoldMs - at) / minuteMs;
    const cold = coldAhead({ minimumCelsius: chalkCelsius }, facts.air(roomId, at), at, leftMin);
    return cold ? [{ joint, roomId, chalkCelsius, lowCelsius: cold.lowCelsius, coldAt: cold.fromAt }] : [];
  });

/** A forecast rests on the same hours of the last week. */
const forecastMs = 8 * dayMs;
/** A device's clock may be corrected between the loading and the judging: joints a little older are loaded too. */
const slackMs = 2 * dayMs;

/** What a list of cold joints rests on: every joint, and the air where the fresh ones stand. */
export const coldGlueNeeds = (facts: Facts, at: InstantMs): Need[] => {
  const roomIds = facts
    .all("joint")
    .filter((joint) => joint.gluedAt > at - glueHoldMs - slackMs)
    .flatMap((joint) => facts.get("piece", joint.pieceId)?.roomId ?? []);
  return [
    { table: "joint", all: true },
    { table: "forecast", all: true },
    ...[...new Set(roomIds)].map((roomId) => ({ readingsOf: roomId, fromAt: at - forecastMs })),
  ];
};
