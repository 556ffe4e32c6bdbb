import * as z from "zod/mini";
import { dayStartAt } from "../../calendar";
import { gate } from "../../cure/gate";
import { oilOf, ragsDueAt } from "../../safety/rags";
import { text } from "../../text";
import { dayMs, type InstantMs, instant, minuteMs, quantity } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, type Ruling, refused } from "../define";
import { canId, coatId, memberId, mixId, roomId, sheetId, surfaceId } from "../entities/ids";
import type { Role } from "../entities/people";
import type { Change } from "../event";
import type { Facts, Need } from "../facts";
import { evidenceOf, refusalOfGate } from "../gate-ruling";
import { pictureOf } from "../picture";
import type { Refusal } from "../refusal";
import { floorHands, roleAt } from "../roles";
import type { Coat, Piece } from "../tables";
import { lateMark } from "./late-reports";
import { opensCans } from "./mixes";
import { passedOver } from "./passed-over";
import { gateNeeds } from "./piece-needs";
import { potNeeds, potOf, potRefusal } from "./pot";

const dayMin = 24 * 60;
const shortBackMin: Partial<Record<Role, number>> = { helper: dayMin, partner: 3 * dayMin, owner: 3 * dayMin };

const coatNeeds = (body: { coatId: string; surfaceId?: string }, facts: Facts, at: InstantMs): Need[] => {
  const coat = facts.get("coat", body.coatId);
  const surface = body.surfaceId ? facts.get("surface", body.surfaceId) : undefined;
  const piece = coat?.pieceId ?? surface?.pieceId;
  return [
    { table: "coat", id: body.coatId },
    ...(body.surfaceId ? ([{ table: "surface", id: body.surfaceId }] satisfies Need[]) : []),
    ...(piece ? gateNeeds(piece, facts, at) : []),
  ];
};

const coatBody = z.object({
  coatId,
  /** For a coat that nobody planned: which surface, which sheet. */
  surfaceId: z.optional(surfaceId),
  sheetId: z.optional(sheetId),
  startedAt: instant,
  endedAt: instant,
  by: z.array(memberId).check(z.minLength(1), z.maxLength(6)),
  roomId,
  wetFilmMicrometres: z.optional(quantity("wetFilmMicrometres")),
  scuffedBefore: z._default(z.boolean(), false),
  /** Out of which mix, or straight from which cans; both may be left out. */
  mixId: z.optional(mixId),
  canIds: z.optional(z.array(canId).check(z.maxLength(12))),
  stance: z.enum(["asking", "done"]),
});
type CoatBody = z.infer<typeof coatBody>;

export const logCoat = defineIntent({
  kind: "log-coat",
  sort: "report",
  who: floorHands,
  carriesTime: true,
  outlivesMembership: true,
  body: coatBody,

  reads: (body, facts) => [...coatNeeds(body, facts, body.startedAt), ...airNeeds(body), ...potNeeds(body, facts)],
  judge: (c) => {
    const { body } = c;
    const planned = c.facts.get("coat", body.coatId);
    const surface = c.facts.get("surface", planned?.surfaceId ?? body.surfaceId ?? "");
    const picture = surface && pictureOf(c.facts, surface.pieceId);
    if (!surface || !picture) return refused({ kind: "unknown-thing", field: planned ? "coatId" : "surfaceId" });
    const sheet = picture.sheetById.get(planned?.sheetId ?? body.sheetId ?? "");
    if (!sheet) return refused({ kind: "unknown-thing", field: "sheetId" });
    const room = c.facts.get("room", body.roomId);
    if (!room || room.closedAt !== undefined) return refused({ kind: "unknown-thing", field: "roomId" });
    const wrong = coatTimeRefusal(c) ?? absenceRefusal(c, picture.piece) ?? coatStateRefusal(planned, picture.coats);
    if (wrong) return refused(wrong);
    if (c.role === "helper" && !c.by.skills.some((skill) => skill === "spray" || skill === "brush")) {
      return refused({ kind: "skill-missing", skills: ["spray", "brush"], membersWith: [] });
    }
    const flawed = picture.coats.filter((coat) => coat.surfaceId === surface.id && coat.state === "flawed");
    if (flawed.length > 0 && body.stance === "asking") {
      return refused({ kind: "flaw-open", coatIds: flawed.map((coat) => coat.id), subjectIds: [surface.id] });
    }
    const pot = potOf(c, sheet);
    if ("kind" in pot) return refused(pot);
    const spent = body.stance === "asking" ? potRefusal(pot) : undefined;
    if (spent) return refused(spent);
    const recoat = gate(
      {
        ...picture,
        airByRoomId: new Map([...picture.airByRoomId, [room.id, c.facts.air(room.id, body.startedAt - dayMs)]]),
      },
      {
        action: "recoat",
        surfaceId: surface.id,
        sheetId: sheet.id,
        scuffedBefore: body.scuffedBefore,
        roomId: room.id,
      },
      body.startedAt,
    );
    if (recoat.state !== "open" && body.stance === "asking") return refused(refusalOfGate(recoat, picture));
    const applied = {
      startedAt: body.startedAt,
      endedAt: body.endedAt,
      by: body.by,
      roomId: room.id,
      wetFilmMicrometres: body.wetFilmMicrometres,
      scuffedBefore: body.scuffedBefore,
      ...(pot.mix && { mixId: pot.mix.id }),
      ...(pot.straight.length > 0 && { canIds: pot.straight.map((can) => can.id) }),
      ...(pot.past.length > 0 && { isFromDeadCan: true }),
      evidence: evidenceOf(recoat),
    };
    // laid with a mix that was already setting, a film stays soft: somebody mends it before the next coat
    const state = pot.isOver
      ? { state: "flawed" as const, flaw: { cause: "soft", seenAt: body.endedAt }, ...lateMark(c) }
      : { state: "applied" as const, ...lateMark(c) };
    const ofSurface = picture.coats.filter((coat) => coat.surfaceId === surface.id);
    const changes: Change[] = planned
      ? [changed("coat", planned.id, { ...state, applied })]
      : extraCoat(ofSurface, {
          id: body.coatId,
          pieceId: surface.pieceId,
          surfaceId: surface.id,
          sheetId: sheet.id,
          ...state,
          applied,
        });
    changes.push(...opensCans(pot.straight, body.startedAt, c.shop.zone));
    changes.push(
      ...passedOver(c, {
        pieceId: surface.pieceId,
        gate: recoat,
        at: body.startedAt,
        look: "Coated before it was ready: test before the next coat",
        surfaceIds: [surface.id],
      }),
    );
    const cans = (pot.mix?.canIds ?? pot.straight.map(({ id }) => id)).flatMap((id) => c.facts.get("can", id) ?? []);
    const ragsAt = ragsDueAt(oilOf(sheet, cans), body.endedAt);
    if (ragsAt !== undefined) changes.push(closeOut(c, surface.pieceId, ragsAt));
    return accepted({ kind: "coat-applied", pieceId: surface.pieceId, memberId: c.by.id, changes });
  },
});

/** A coat that nobody planned lies over all that lie already, and what is still planned moves up to make room. */
function extraCoat(ofSurface: readonly Coat[], coat: Omit<Coat, "position">): Change[] {
  const standing = ofSurface.filter((other) => other.state !== "struck");
  const laid = standing.filter((other) => other.state !== "planned");
  const position = 1 + Math.max(0, ...laid.map((other) => other.position));
  const toCome = standing.filter((other) => other.state === "planned");
  const isTaken = toCome.some((other) => other.position === position);
  return [
    ...(isTaken ? toCome.map((other) => changed("coat", other.id, { position: other.position + 1 })) : []),
    made("coat", { ...coat, position }),
  ];
}

/** Nothing was coated here before the day on which it came, nor after it left. */
function absenceRefusal(c: Context<CoatBody>, piece: Piece): Refusal | undefined {
  const { startedAt } = c.body;
  const cameAt = dayStartAt(piece.acquiredOn, c.shop.zone);
  if (startedAt < cameAt) return { kind: "before-it-existed", thing: piece.number, happenedAt: startedAt, cameAt };
  if (piece.archivedAt === undefined || startedAt < piece.archivedAt) return undefined;
  return { kind: "after-it-left", thing: piece.number, happenedAt: startedAt, leftAt: piece.archivedAt };
}

const airNeeds = (body: { roomId: string; startedAt: InstantMs }): Need[] => [
  { readingsOf: body.roomId, fromAt: body.startedAt - 8 * dayMs },
];

function coatTimeRefusal(c: Context<CoatBody>): Refusal | undefined {
  const { startedAt, endedAt, by } = c.body;
  if (endedAt < startedAt) return { kind: "ends-before-start", startedAt, endedAt };
  if (endedAt > c.when.madeAt + 2 * minuteMs)
    return { kind: "in-the-future", happenedAt: endedAt, latestAt: c.when.madeAt };
  const people = by.map((id) => c.facts.get("member", id));
  if (people.some((member) => !member || roleAt(member, startedAt) === undefined)) {
    return { kind: "unknown-thing", field: "by" };
  }
  const oldestAt = c.when.madeAt - dayMs;
  if (c.role === "helper" && startedAt < oldestAt) {
    return { kind: "too-far-back", happenedAt: startedAt, oldestAt, role: c.role, mayAsk: ["partner", "owner"] };
  }
  return undefined;
}

function coatStateRefusal(planned: Coat | undefined, coats: readonly Coat[]): Refusal | undefined {
  if (!planned) return undefined;
  if (planned.applied && planned.state !== "removed") {
    return {
      kind: "coat-already-applied",
      coatId: planned.id,
      appliedAt: planned.applied.startedAt,
      byMemberId: planned.applied.by[0] as string,
    };
  }
  if (planned.state !== "planned") return { kind: "coat-is-over", coatId: planned.id, state: planned.state };
  const below = coats.filter(
    (coat) => coat.surfaceId === planned.surfaceId && coat.position < planned.position && coat.state === "planned",
  );
  return below.length > 0 ? { kind: "coat-out-of-order", coatIds: below.map((coat) => coat.id) } : undefined;
}

/** Rags wetted with drying oil can light themselves: somebody puts them away, by name, before the last one leaves. */
const closeOut = (c: Context<CoatBody>, piece: string, dueAt: InstantMs): Change =>
  made("task", {
    id: c.newId(3),
    pieceId: piece,
    title: "Put the oily rags away",
    sort: "close-out",
    methods: [],
    surfaceIds: [],
    coatId: c.body.coatId,
    needsSkills: [],
    needsMembers: 1,
    after: [],
    dueAt,
    state: "open",
  });

const appliedCoat = (c: Context<{ coatId: string }>): Coat | Ruling => {
  const coat = c.facts.get("coat", c.body.coatId);
  if (!coat) return refused({ kind: "unknown-thing", field: "coatId" });
  if (!coat.applied || coat.state === "removed" || coat.state === "struck") {
    return refused({ kind: "coat-is-over", coatId: coat.id, state: coat.state });
  }
  const at = c.when.happenedAt;
  if (at < coat.applied.startedAt) {
    return refused({ kind: "before-it-existed", thing: "coat", happenedAt: at, cameAt: coat.applied.startedAt });
  }
  return coat;
};

const changeCoat = (
  c: Context<{ coatId: string }>,
  kind: string,
  coat: Coat,
  set: Parameters<typeof changed<"coat">>[2],
) => accepted({ kind, pieceId: coat.pieceId, memberId: c.by.id, changes: [changed("coat", coat.id, set)] });

const coatReads = (body: { coatId: string }): Need[] => [{ table: "coat", id: body.coatId }];

export const logWiped = defineIntent({
  kind: "log-wiped",
  sort: "report",
  who: floorHands,
  carriesTime: true,
  oldestMin: shortBackMin,
  body: z.object({ coatId }),
  reads: coatReads,
  judge: (c) => {
    const coat = appliedCoat(c);
    if ("verdict" in coat) return coat;
    if (coat.wiped) return alreadySo();
    // wiping mends no flaw
    const state = coat.state === "applied" ? "wiped" : coat.state;
    return changeCoat(c, "coat-wiped", coat, { state, wiped: { at: c.when.happenedAt, by: c.by.id } });
  },
});

export const flaws = ["bleed", "wrinkle", "blush", "run", "dust", "fish-eye", "soft", "print"] as const;

export const reportFlaw = defineIntent({
  kind: "report-flaw",
  sort: "report",
  who: floorHands,
  body: z.object({ coatId, cause: z.enum(flaws) }),
  reads: coatReads,
  judge: (c) => {
    const coat = appliedCoat(c);
    if ("verdict" in coat) return coat;
    return changeCoat(c, "coat-flawed", coat, {
      state: "flawed",
      flaw: { cause: c.body.cause, seenAt: c.when.happenedAt },
    });
  },
});

export const logMend = defineIntent({
  kind: "log-mend",
  sort: "report",
  who: floorHands,
  body: z.object({ coatId, mend: text(300) }),
  reads: coatReads,
  judge: (c) => {
    const coat = appliedCoat(c);
    if ("verdict" in coat) return coat;
    if (!coat.flaw || coat.state !== "flawed") return alreadySo();
    const flaw = { ...coat.flaw, mendedAt: c.when.happenedAt, mend: c.body.mend };
    return changeCoat(c, "coat-mended", coat, { state: "mended", flaw });
  },
});

export const reportRemoved = defineIntent({
  kind: "report-removed",
  sort: "report",
  who: floorHands,
  body: z.object({ coatId, how: z.enum(["sanded", "stripped", "wiped-off"]), why: text(300) }),
  reads: coatReads,
  judge: (c) => {
    const coat = appliedCoat(c);
    if ("verdict" in coat) return coat;
    const removed = { at: c.when.happenedAt, how: c.body.how, why: c.body.why };
    return changeCoat(c, "coat-removed", coat, { state: "removed", removed });
  },
});
