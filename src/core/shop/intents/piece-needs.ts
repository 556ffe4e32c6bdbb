/** The usual bundles of facts about a piece. */
import { dayMs, type InstantMs } from "../../units";
import type { Facts, Need } from "../facts";

/** The piece itself and the people of the shop's tasks on it. */
export const pieceNeeds = (pieceId: string): Need[] => [{ table: "piece", id: pieceId }];

export const workNeeds = (pieceId: string): Need[] => [
  ...pieceNeeds(pieceId),
  { table: "task", field: "pieceId", value: pieceId },
  { table: "claim", field: "pieceId", value: pieceId },
  { running: true },
];

/** The forecast of a room rests on this much of its past. */
const forecastMs = 8 * dayMs;

/** All that a gate rests on: films, joints, tests, sheets, and the air of every room that the piece has stood in. */
export function gateNeeds(pieceId: string, facts: Facts, at: InstantMs): Need[] {
  const rows: Need[] = (
    ["surface", "pair", "coat", "joint", "test", "confirmation", "word", "roomStay", "promise"] as const
  ).map((table) => ({
    table,
    field: "pieceId",
    value: pieceId,
  }));
  const stays = facts.where("roomStay", "pieceId", pieceId);
  const joints = facts.where("joint", "pieceId", pieceId);
  const laidFrom = Math.min(
    at,
    ...facts.where("coat", "pieceId", pieceId).map((coat) => coat.applied?.endedAt ?? at),
    ...joints.map((joint) => joint.gluedAt),
  );
  const roomIds = new Set([...stays, ...joints].map(({ roomId }) => roomId));
  return [
    ...pieceNeeds(pieceId),
    ...rows,
    { table: "room", all: true },
    { table: "product", all: true },
    { table: "sheet", all: true },
    { table: "can", all: true },
    { table: "mix", all: true },
    ...[...roomIds].map((roomId) => ({ table: "forecast" as const, field: "roomId", value: roomId })),
    ...[...roomIds].map((roomId) => ({ readingsOf: roomId, fromAt: Math.min(laidFrom, at - forecastMs) })),
  ];
}
