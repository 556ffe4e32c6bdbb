/**
 * What a member's device delivered after the end of the membership, and the owner's answer to it. Until then a coat and a
 * carry stand as told, because a film that may lie there must be waited for; a passed test opens nothing, and a reading is
 * not counted, because a gate could open by them. Hours are answered where hours are corrected.
 */
import * as z from "zod/mini";
import { text } from "../../text";
import { accepted, type Context, changed, defineIntent, made, type Ruling, refused } from "../define";
import { coatId, idOf, testId } from "../entities/ids";
import type { Change } from "../event";
import type { Facts, Need } from "../facts";
import { pictureOf } from "../picture";
import { roleAt } from "../roles";
import type { Coat, HandTest, Reading, RoomStay } from "../tables";
import { afterJointTest } from "./joint-rework";
import { gateNeeds, workNeeds } from "./piece-needs";
import { decided, gateTurned, taught, untaught } from "./test-findings";

const deliveredLate = "delivered-after-the-end";

/** What marks a report that was delivered after the end of its maker's membership; nothing on any other. */
export const lateMark = (c: Pick<Context<unknown>, "isAfterTheEnd">): { needsWord?: typeof deliveredLate } =>
  c.isAfterTheEnd ? { needsWord: deliveredLate } : {};

/** A reading that waits for a word is withdrawn until then: no air is worked out with it. */
export const lateReading = (c: Pick<Context<unknown>, "isAfterTheEnd" | "when">): Partial<Reading> =>
  c.isAfterTheEnd
    ? {
        needsWord: deliveredLate,
        retractedAt: c.when.recordedAt,
        retractedWhy: "delivered after the end of the membership; counts when the owner says so",
      }
    : {};

/** A passed test that waits for a word speaks at no time, like one that was taken back; a fail is heard at once. */
export const lateTest = (
  c: Pick<Context<unknown>, "isAfterTheEnd">,
  { result, at }: Pick<HandTest, "result" | "at">,
): Partial<HandTest> =>
  c.isAfterTheEnd ? { needsWord: deliveredLate, ...(result === "pass" ? { takenBackAt: at } : {}) } : {};

const said = { answer: z.enum(["yes", "no"]), why: z.optional(text(300)) };

const body = z.discriminatedUnion("of", [
  z.object({ of: z.literal("coat"), id: coatId, ...said }),
  z.object({ of: z.literal("test"), id: testId, ...said }),
  z.object({ of: z.literal("reading"), id: idOf<"reading">(), ...said }),
  z.object({ of: z.literal("carry"), id: idOf<"room-stay">(), ...said }),
]);
type Body = z.infer<typeof body>;
type Asked = Context<Body>;

const tableOf = { coat: "coat", test: "test", reading: "reading", carry: "roomStay" } as const;

export const answerLate = defineIntent({
  kind: "answer-late",
  sort: "word",
  who: ["owner"],
  body,
  reads: ({ of, id }, facts, intent) => [{ table: tableOf[of], id }, ...furtherNeeds(of, id, facts, intent.deviceAt)],
  judge: (c) => {
    const row = c.facts.get(tableOf[c.body.of], c.body.id);
    if (!row || row.needsWord === undefined) return refused({ kind: "unknown-thing", field: "id" });
    switch (c.body.of) {
      case "coat":
        return ofCoat(c, row as Coat);
      case "test":
        return ofTest(c, row as HandTest);
      case "reading":
        return ofReading(c, row as Reading);
      case "carry":
        return ofCarry(c, row as RoomStay);
    }
  },
});

function furtherNeeds(of: Body["of"], id: string, facts: Facts, at: number): Need[] {
  if (of === "reading") {
    const reading = facts.get("reading", id);
    return reading ? [{ readingsOf: reading.roomId, fromAt: reading.at }] : [];
  }
  const row = facts.get(tableOf[of] as "coat" | "test" | "roomStay", id);
  const about: Need[] =
    row && "subject" in row && row.subject.of === "can" ? [{ table: "can", id: row.subject.canId }] : [];
  return row?.pieceId ? [...about, ...workNeeds(row.pieceId), ...gateNeeds(row.pieceId, facts, at)] : about;
}

const answered = (c: Asked, pieceId: string | undefined, changes: Change[]) => ({
  kind: c.body.answer === "yes" ? "late-report-confirmed" : "late-report-denied",
  pieceId,
  memberId: c.by.id,
  changes,
});

/** A coat that was never laid is one still to be laid, unless another lies over it by now. */
function ofCoat(c: Asked, coat: Coat): Ruling {
  if (c.body.answer === "yes")
    return accepted(answered(c, coat.pieceId, [changed("coat", coat.id, { needsWord: null })]));
  const over = c.facts
    .where("coat", "pieceId", coat.pieceId)
    .filter((other) => other.surfaceId === coat.surfaceId && other.position > coat.position && other.applied);
  if (over.length > 0)
    return refused({ kind: "malformed", field: "answer", expected: "yes, with a coat over this one" });
  const unlaid = { state: "planned" as const, applied: null, wiped: null, flaw: null, removed: null, needsWord: null };
  return accepted(answered(c, coat.pieceId, [changed("coat", coat.id, unlaid)]));
}

function ofTest(c: Asked, late: HandTest): Ruling {
  const pieceId = late.pieceId;
  if (c.body.answer === "no") {
    const changes = [changed("test", late.id, { takenBackAt: late.at, needsWord: null })];
    return accepted(answered(c, pieceId, [...changes, ...untaught(c.facts, late)]));
  }
  const heard = changed("test", late.id, { takenBackAt: null, needsWord: null });
  if (late.result !== "pass") return accepted(answered(c, pieceId, [changed("test", late.id, { needsWord: null })]));
  const { takenBackAt: _, needsWord: __, ...test } = late;
  const picture = pieceId ? pictureOf(c.facts, pieceId) : undefined;
  const changes = [heard, ...decided(c, test), ...(picture ? taught(c, picture, test) : []), ...confirmation(c, test)];
  const after = picture ? [...gateTurned(c, picture, test), ...afterJointTest(c, picture, test)] : [];
  return accepted(answered(c, pieceId, changes), ...after);
}

/** The owner's yes to what a helper's hand has found is the confirmation that a helper's test may need. */
function confirmation(c: Asked, { id, pieceId, by, at }: HandTest): Change[] {
  const tester = c.facts.get("member", by);
  if (!pieceId || !tester || roleAt(tester, at) !== "helper") return [];
  const confirmed = { id: c.newId(1), pieceId, testId: id, by: c.by.id, at: Math.max(c.when.madeAt, at) };
  return [made("confirmation", confirmed)];
}

function ofReading(c: Asked, late: Reading): Ruling {
  if (c.body.answer === "no") {
    return accepted(answered(c, undefined, [changed("reading", late.id, { needsWord: null })]));
  }
  const other = c.facts
    .readings(late.roomId, late.at)
    .find(
      ({ id, at, source, retractedAt }) => id !== late.id && at === late.at && source === late.source && !retractedAt,
    );
  if (other) {
    const { roomId, at, airCelsius, humidityPercent } = other;
    return refused({ kind: "reading-differs", roomId, at, airCelsius, humidityPercent });
  }
  const counts = changed("reading", late.id, { needsWord: null, retractedAt: null, retractedWhy: null });
  return accepted(answered(c, undefined, [counts]));
}

/** Carried nowhere, the piece stood all that time where it had stood before. */
function ofCarry(c: Asked, stay: RoomStay): Ruling {
  const settled = { needsWord: null };
  if (c.body.answer === "yes") return accepted(answered(c, stay.pieceId, [changed("roomStay", stay.id, settled)]));
  const stays = c.facts.where("roomStay", "pieceId", stay.pieceId);
  const before = stays.filter(({ fromAt }) => fromAt < stay.fromAt).sort((one, other) => other.fromAt - one.fromAt)[0];
  if (!before) return refused({ kind: "unknown-thing", field: "id" });
  const there = { roomId: before.roomId, rackId: before.rackId ?? null };
  const isLast = !stays.some(({ fromAt }) => fromAt > stay.fromAt);
  return accepted(
    answered(c, stay.pieceId, [
      changed("roomStay", stay.id, { ...there, ...settled }),
      ...(isLast ? [changed("piece", stay.pieceId, there)] : []),
    ]),
  );
}
