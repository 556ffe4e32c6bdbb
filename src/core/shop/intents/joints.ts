import * as z from "zod/mini";
import { dayStartAt } from "../../calendar";
import { jointAnswer } from "../../cure/joint";
import { jointHindrance } from "../../cure/joint-gates";
import { type GluePlace, gluePlace, isGluingRoom } from "../../cure/joint-place";
import { dayMs, type InstantMs } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { jointRow } from "../entities/glue";
import { jointId, pieceId, roomId, sheetId, taskId } from "../entities/ids";
import type { Role } from "../entities/people";
import type { GateEvidence } from "../entities/pieces";
import type { Change } from "../event";
import type { Facts, Need } from "../facts";
import { refusalOfJoint } from "../gate-ruling";
import type { Intent } from "../intent";
import { pictureOf } from "../picture";
import type { Refusal } from "../refusal";
import { floorHands } from "../roles";
import type { Joint, Piece, Sheet } from "../tables";
import { gateNeeds } from "./piece-needs";

const dayMin = 24 * 60;
const jointBackMin: Partial<Record<Role, number>> = { helper: dayMin, partner: 3 * dayMin, owner: 3 * dayMin };

/** What a rule makes by itself has these places among the ids that follow from its intent. */
const ordinal = { passedOver: 2, inspection: 4 } as const;

/** Somebody must pull this joint, or look at its line. */
export const jointInspection = (id: string, joint: Pick<Joint, "id" | "pieceId">, title: string): Change =>
  made("task", {
    id,
    pieceId: joint.pieceId,
    title,
    sort: "inspect",
    methods: [],
    surfaceIds: [],
    jointId: joint.id,
    needsSkills: [],
    needsMembers: 1,
    after: [],
    state: "open",
  });

type Passed = { joint: Pick<Joint, "id" | "pieceId">; evidence: GateEvidence; at: InstantMs; look: string };

/** It was done although the clock or the cold said no: kept as it was, marked, and somebody is asked to look. */
const passedOver = (c: Context<unknown>, { joint, evidence, at, look }: Passed): Change[] => [
  made("passedOver", {
    id: c.newId(ordinal.passedOver),
    pieceId: joint.pieceId,
    intentId: c.intent.intentId,
    by: c.by.id,
    at,
    evidence,
  }),
  jointInspection(c.newId(ordinal.inspection), joint, look),
];

/** A forecast rests on the same hours of the last week. */
const forecastMs = 8 * dayMs;

const jointBody = z.object({
  jointId,
  pieceId,
  name: jointRow.shape.name,
  sheetId,
  /** Where it was glued. It is taken to stay there until the piece is carried. */
  roomId,
  squeeze: jointRow.shape.squeeze,
  isStressed: z._default(z.boolean(), false),
  /** The gluing that this was, if it was a task: should the joint fail, that work is open again. */
  taskId: z.optional(taskId),
  stance: z.enum(["asking", "done"]),
});
type JointBody = z.infer<typeof jointBody>;

const jointNeeds = (body: JointBody, facts: Facts, intent: Intent): Need[] => {
  const fromAt = (intent.happenedAt ?? intent.deviceAt) - forecastMs;
  const sheet = facts.get("sheet", body.sheetId);
  const rooms = facts.all("room").filter((room) => room.id === body.roomId || isGluingRoom(room));
  return [
    { table: "piece", id: body.pieceId },
    { table: "joint", id: body.jointId },
    { table: "sheet", id: body.sheetId },
    ...(sheet ? ([{ table: "product", id: sheet.productId }] satisfies Need[]) : []),
    ...(body.taskId ? ([{ table: "task", id: body.taskId }] satisfies Need[]) : []),
    { table: "room", all: true },
    ...rooms.flatMap(({ id }): Need[] => [
      { table: "forecast", field: "roomId", value: id },
      { readingsOf: id, fromAt },
    ]),
  ];
};

/** Glued: from now on it waits for its clamps, its strength, and warmth for a day. */
export const logJoint = defineIntent({
  kind: "log-joint",
  sort: "report",
  who: floorHands,
  carriesTime: true,
  oldestMin: jointBackMin,
  body: jointBody,
  reads: jointNeeds,
  judge: (c) => {
    const { taskId: task, stance, jointId: id, ...told } = c.body;
    const gluedAt = c.when.happenedAt;
    const piece = c.facts.get("piece", told.pieceId);
    if (!piece) return refused({ kind: "unknown-thing", field: "pieceId" });
    if (c.facts.get("joint", id)) return alreadySo();
    const sheet = c.facts.get("sheet", told.sheetId);
    if (!sheet || c.facts.get("product", sheet.productId)?.family !== "glue")
      return refused({ kind: "unknown-thing", field: "sheetId" });
    const room = c.facts.get("room", told.roomId);
    if (!room || room.closedAt !== undefined) return refused({ kind: "unknown-thing", field: "roomId" });
    const gluing = task ? c.facts.get("task", task) : undefined;
    if (task && (gluing?.pieceId !== piece.id || !gluing.methods.includes("glue")))
      return refused({ kind: "unknown-thing", field: "taskId" });
    const absent = absenceRefusal(c, piece, gluedAt);
    if (absent) return refused(absent);

    const place = gluePlace(sheet, c.facts.air(room.id, gluedAt - forecastMs), gluedAt);
    if (place.state !== "fit" && stance === "asking") return refused(refusalOfPlace(c, sheet, place));
    const evidence: GateEvidence = {
      action: "glue",
      state: place.state === "fit" ? "open" : "shut",
      evidence: "readings",
      sheetId: sheet.id,
    };
    const joint: Joint = { id, ...told, gluedAt, by: c.by.id, evidence };
    const look = "Glued where it may have been too cold: pull it, or look for a white line";
    return accepted({
      kind: "joint-glued",
      pieceId: piece.id,
      memberId: c.by.id,
      changes: [
        made("joint", joint),
        ...(gluing ? [changed("task", gluing.id, { jointId: id })] : []),
        ...(place.state === "fit" ? [] : passedOver(c, { joint, evidence, at: gluedAt, look })),
      ],
    });
  },
});

function absenceRefusal(c: Context<unknown>, piece: Piece, at: InstantMs): Refusal | undefined {
  const cameAt = dayStartAt(piece.acquiredOn, c.shop.zone);
  if (at < cameAt) return { kind: "before-it-existed", thing: piece.number, happenedAt: at, cameAt };
  if (piece.archivedAt === undefined || at < piece.archivedAt) return undefined;
  return { kind: "after-it-left", thing: piece.number, happenedAt: at, leftAt: piece.archivedAt };
}

/** Too cold, with the rooms where it could be done; or nobody knows, because nobody has read the thermometer. */
function refusalOfPlace(c: Context<JointBody>, sheet: Sheet, place: Exclude<GluePlace, { state: "fit" }>): Refusal {
  const at = c.when.happenedAt;
  const { roomId: here } = c.body;
  if (place.state === "unread") {
    const { lastReadingAt, gapLimitMin } = place;
    const gated = { action: "glue", evidence: "readings", needs: [] };
    return { kind: "gate-needs-reading", roomId: here, lastReadingAt, gapLimitMin, ...gated };
  }
  const isFit = (room: string) => gluePlace(sheet, c.facts.air(room, at - forecastMs), at).state === "fit";
  const rooms = c.facts.all("room").filter((room) => room.id !== here && isGluingRoom(room) && isFit(room.id));
  return {
    kind: "glue-too-cold",
    roomId: here,
    lowestCelsius: place.lowestCelsius,
    chalkCelsius: place.leastCelsius,
    holdUntilAt: place.holdUntilAt,
    roomIds: rooms.map((room) => room.id),
  };
}

/** The clamps come off. */
export const releaseJoint = defineIntent({
  kind: "release-joint",
  sort: "report",
  who: floorHands,
  carriesTime: true,
  oldestMin: jointBackMin,
  body: z.object({ jointId, stance: z.enum(["asking", "done"]) }),
  reads: (body, facts, intent) => {
    const piece = facts.get("joint", body.jointId)?.pieceId;
    return [
      { table: "joint", id: body.jointId },
      ...(piece ? gateNeeds(piece, facts, intent.happenedAt ?? intent.deviceAt) : []),
    ];
  },
  judge: (c) => {
    const joint = c.facts.get("joint", c.body.jointId);
    const picture = joint && pictureOf(c.facts, joint.pieceId);
    if (!joint || !picture) return refused({ kind: "unknown-thing", field: "jointId" });
    if (joint.releasedAt !== undefined) return alreadySo();
    const at = c.when.happenedAt;
    if (at < joint.gluedAt)
      return refused({ kind: "before-it-existed", thing: joint.name, happenedAt: at, cameAt: joint.gluedAt });
    const hindrance = jointHindrance(jointAnswer(picture, joint, at), "out-of-clamps");
    const earliestAt = hindrance?.waitsFor?.safeAt;
    if (hindrance && c.body.stance === "asking") return refused({ ...refusalOfJoint(hindrance.need), earliestAt });
    const evidence: GateEvidence = {
      action: "release",
      state: hindrance ? "shut" : "open",
      evidence: "readings",
      safeCreditMin: hindrance?.waitsFor?.safeCreditMin,
      neededMin: hindrance?.waitsFor?.neededMin,
      safeAt: earliestAt,
      sheetId: joint.sheetId,
    };
    const look = `Out of its clamps early: ${joint.name}. Pull it before it goes on`;
    return accepted({
      kind: "joint-released",
      pieceId: joint.pieceId,
      memberId: c.by.id,
      changes: [
        changed("joint", joint.id, { releasedAt: at }),
        ...(hindrance ? passedOver(c, { joint, evidence, at, look }) : []),
      ],
    });
  },
});
