import * as z from "zod/mini";
import { dayEndAt, isShopDay } from "../../calendar";
import { earliestHonest } from "../../cure/next-gate";
import { accept, type Result, refuse } from "../../result";
import { text } from "../../text";
import { dayMs, type InstantMs, instant, shopDay } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { idOf, pieceId } from "../entities/ids";
import { promiseRow } from "../entities/pieces";
import type { Facts, Need } from "../facts";
import type { Intent } from "../intent";
import { pictureOf } from "../picture";
import type { Refusal } from "../refusal";
import { partners } from "../roles";
import type { Piece, PromiseMade } from "../tables";
import { gateNeeds } from "./piece-needs";

const promiseId = idOf<"promise">();

/** Two years, with a leap day in them. */
const furthestMs = 731 * dayMs;

/** A promise to a day is kept until that day is over; one to an hour, until then. */
const dueBody = z.union([z.object({ day: shopDay }), z.object({ at: instant })]);
type Due = z.infer<typeof dueBody>;
type DueAsked = { due: Due; knowingly?: boolean; why?: string };

const dueFields = { due: dueBody, knowingly: z.optional(z.boolean()), why: z.optional(text(300)) };

function dueAtOf(due: Due, zone: string): Result<InstantMs, Refusal> {
  if ("at" in due) return accept(due.at);
  if (!isShopDay(due.day)) return refuse({ kind: "malformed", field: "due.day", expected: "a day that exists" });
  return accept(dayEndAt(due.day, zone));
}

type DueGiven = Pick<PromiseMade, "dueAt" | "isWholeDay" | "isKnowinglyEarly">;

/**
 * When the promise is due. Earlier than the films allow is possible only knowingly and with a reason: it is then on the
 * board as one that is at risk.
 */
function dueGiven(c: Context<DueAsked>, piece: Piece, sort: PromiseMade["sort"]): Result<DueGiven, Refusal> {
  const asked = dueAtOf(c.body.due, c.shop.zone);
  if (!asked.ok) return asked;
  const dueAt = asked.value;
  const [min, max] = [c.when.madeAt, c.when.madeAt + furthestMs];
  if (dueAt < min || dueAt > max) return refuse({ kind: "out-of-bounds", field: "due", found: dueAt, min, max });
  const early = tooEarly(c, piece, sort, dueAt);
  if (early && !c.body.knowingly) return refuse(early);
  if (early && c.body.why === undefined) return refuse({ kind: "reason-missing", reasons: ["why"] });
  return accept({ dueAt, isWholeDay: "day" in c.body.due, isKnowinglyEarly: early !== undefined });
}

/**
 * The films that lie must have cured by then. Coats still planned come on top of that, and nobody knows yet when: a date
 * that is too early for what lies is certainly too early, and one that is not may be.
 */
function tooEarly(c: Context<unknown>, piece: Piece, sort: PromiseMade["sort"], dueAt: InstantMs): Refusal | undefined {
  const picture = pictureOf(c.facts, piece.id);
  if (!picture?.coats.some((coat) => coat.applied !== undefined && coat.removed === undefined)) return undefined;
  const lying = { ...picture, coats: picture.coats.filter((coat) => coat.state !== "planned") };
  const honest = earliestHonest(lying, sort, c.when.madeAt);
  const safeAt = honest.kind === "at" ? honest.safeAt : undefined;
  const heldBy = honest.kind === "if" ? undefined : honest.heldBy;
  if (safeAt !== undefined && safeAt <= dueAt) return undefined;
  return { kind: "promise-too-early", dueAt, safeAt, heldBy, earliestAt: safeAt };
}

const unlessOnFloor = (piece: Piece | undefined, c: Context<unknown>): Refusal | undefined => {
  if (!piece) return { kind: "unknown-thing", field: "pieceId" };
  if (piece.archivedAt === undefined) return undefined;
  return { kind: "after-it-left", thing: piece.number, happenedAt: c.when.happenedAt, leftAt: piece.archivedAt };
};

export const promise = defineIntent({
  kind: "promise",
  sort: "word",
  who: partners,
  body: z.object({ promiseId, pieceId, sort: promiseRow.shape.sort, toWhom: promiseRow.shape.toWhom, ...dueFields }),
  reads: (body, facts, intent) => gateNeeds(body.pieceId, facts, intent.deviceAt),
  judge: (c) => {
    const { promiseId: id, sort, toWhom, why } = c.body;
    const piece = c.facts.get("piece", c.body.pieceId);
    const gone = unlessOnFloor(piece, c);
    if (gone || !piece) return refused(gone ?? { kind: "unknown-thing", field: "pieceId" });
    const stands = c.facts
      .where("promise", "pieceId", piece.id)
      .find((other) => other.sort === sort && other.state === "made");
    if (stands) return refused({ kind: "promise-stands", promiseId: stands.id, dueAt: stands.dueAt });
    const given = dueGiven(c, piece, sort);
    if (!given.ok) return refused(given.refusal);
    return accepted({
      kind: "promised",
      pieceId: piece.id,
      memberId: c.by.id,
      changes: [made("promise", { id, pieceId: piece.id, sort, toWhom, ...given.value, state: "made", why })],
    });
  },
});

const promiseNeeds = (body: { promiseId: string }): Need[] => [{ table: "promise", id: body.promiseId }];

/** A promise is kept, moved or dropped once; whoever comes second is told what it is now. */
const unlessMade = (found: PromiseMade | undefined): Refusal | undefined => {
  if (!found) return { kind: "unknown-thing", field: "promiseId" };
  return found.state === "made"
    ? undefined
    : { kind: "changed-meanwhile", field: "state", was: "made", theirs: found.state };
};

export const movePromise = defineIntent({
  kind: "move-promise",
  sort: "word",
  who: partners,
  body: z.object({
    promiseId,
    newPromiseId: promiseId,
    ...dueFields,
    why: text(300),
    /** When it was due, as the device knew it. */
    was: instant,
  }),
  reads: (body, facts: Facts, intent: Intent) => {
    const pieceOf = facts.get("promise", body.promiseId)?.pieceId;
    return [...promiseNeeds(body), ...(pieceOf ? gateNeeds(pieceOf, facts, intent.deviceAt) : [])];
  },
  judge: (c) => {
    const before = c.facts.get("promise", c.body.promiseId);
    const piece = before && c.facts.get("piece", before.pieceId);
    const changedSince = unlessMade(before);
    if (changedSince || !before || !piece)
      return refused(changedSince ?? { kind: "unknown-thing", field: "promiseId" });
    const gone = unlessOnFloor(piece, c);
    if (gone) return refused(gone);
    if (before.dueAt !== c.body.was) {
      return refused({ kind: "changed-meanwhile", field: "dueAt", was: c.body.was, theirs: before.dueAt });
    }
    const given = dueGiven(c, piece, before.sort);
    if (!given.ok) return refused(given.refusal);
    const { sort, toWhom } = before;
    const id = c.body.newPromiseId;
    return accepted({
      kind: "promise-moved",
      pieceId: piece.id,
      memberId: c.by.id,
      changes: [
        made("promise", { id, pieceId: piece.id, sort, toWhom, ...given.value, state: "made", why: c.body.why }),
        changed("promise", before.id, { state: "moved", movedTo: id }),
      ],
    });
  },
});

export const dropPromise = defineIntent({
  kind: "drop-promise",
  sort: "word",
  who: partners,
  body: z.object({ promiseId, why: text(300) }),
  reads: promiseNeeds,
  judge: (c) => endedAs(c, "dropped", c.body.why),
});

export const keepPromise = defineIntent({
  kind: "keep-promise",
  sort: "word",
  who: partners,
  body: z.object({ promiseId }),
  reads: promiseNeeds,
  judge: (c) => endedAs(c, "kept"),
});

function endedAs(c: Context<{ promiseId: string }>, state: "kept" | "dropped", why?: string) {
  const found = c.facts.get("promise", c.body.promiseId);
  if (found?.state === state) return alreadySo();
  const otherwise = unlessMade(found);
  if (otherwise || !found) return refused(otherwise ?? { kind: "unknown-thing", field: "promiseId" });
  return accepted({
    kind: `promise-${state}`,
    pieceId: found.pieceId,
    memberId: c.by.id,
    changes: [changed("promise", found.id, { state, ...(why === undefined ? {} : { why }) })],
  });
}
