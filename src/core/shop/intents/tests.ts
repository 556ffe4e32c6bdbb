import * as z from "zod/mini";
import { testedMilestone } from "../../cure/observation";
import type { Picture } from "../../cure/picture";
import { measureOf, subjectsByKind } from "../../cure/test-subject";
import { minuteMs } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { idOf, pieceId, productId } from "../entities/ids";
import type { Role } from "../entities/people";
import { testKinds, testRow } from "../entities/tests";
import type { Change, ShopEvent } from "../event";
import type { Need } from "../facts";
import { pictureOf } from "../picture";
import type { Refusal } from "../refusal";
import { floorHands, partners, roleAt } from "../roles";
import type { HandTest } from "../tables";
import { afterJointTest } from "./joint-rework";
import { lateTest } from "./late-reports";
import { notice } from "./notice";
import { inspection } from "./passed-over";
import { gateNeeds, workNeeds } from "./piece-needs";
import { decided, gateTurned, taught, untaught } from "./test-findings";

/** Source: common practice; a test is remembered well for a day by a helper, three by whoever runs the piece. */
const testBackMin: Partial<Record<Role, number>> = { helper: 24 * 60, partner: 72 * 60, owner: 72 * 60 };

const testId = idOf<"test">();

const testBody = z.object({
  testId,
  /** Left out where a can is tested. */
  pieceId: z.optional(pieceId),
  subject: testRow.shape.subject,
  kind: z.enum(testKinds),
  result: testRow.shape.result,
  measured: testRow.shape.measured,
  note: testRow.shape.note,
});
type TestBody = z.infer<typeof testBody>;

export const recordTest = defineIntent({
  kind: "record-test",
  sort: "report",
  who: floorHands,
  oldestMin: testBackMin,
  outlivesMembership: true,
  body: testBody,
  reads: (body, facts, intent) => [
    { table: "test", id: body.testId },
    ...(body.pieceId ? [...workNeeds(body.pieceId), ...gateNeeds(body.pieceId, facts, intent.deviceAt)] : []),
    ...(body.subject.of === "can" ? ([{ table: "can", id: body.subject.canId }] satisfies Need[]) : []),
    ...(body.subject.of === "patch" ? ([{ table: "product", all: true }] satisfies Need[]) : []),
  ],
  judge: (c) => {
    const picture = c.body.pieceId ? pictureOf(c.facts, c.body.pieceId) : undefined;
    const refusal = unfit(c.body) ?? unknownSubject(c, picture);
    if (refusal) return refused(refusal);
    const piece = picture?.piece;
    if (piece?.archivedAt !== undefined && c.when.happenedAt >= piece.archivedAt) {
      return refused({
        kind: "after-it-left",
        thing: piece.number,
        happenedAt: c.when.happenedAt,
        leftAt: piece.archivedAt,
      });
    }
    if (c.facts.get("test", c.body.testId)) return alreadySo();
    const { testId: id, ...fields } = c.body;
    const told = { id, ...fields, at: c.when.happenedAt, by: c.by.id };
    const test: HandTest = { ...told, ...lateTest(c, told) };
    if (test.takenBackAt !== undefined) {
      const changes = [made("test", test)];
      return accepted({ kind: "test-recorded", pieceId: piece?.id, memberId: c.by.id, changes });
    }
    const events: ShopEvent[] = [
      {
        kind: "test-recorded",
        pieceId: piece?.id,
        memberId: c.by.id,
        changes: [made("test", test), ...decided(c, test), ...(picture ? taught(c, picture, test) : [])],
      },
    ];
    if (picture) events.push(...gateTurned(c, picture, test), ...afterJointTest(c, picture, test));
    if (test.result === "fail") events.push(...afterPassingInGoodFaith(c));
    return accepted(...events);
  },
});

/** Every kind of test has its own subjects, and those with a scale need the number that was read. */
function unfit({ kind, subject: { of }, measured }: TestBody): Refusal | undefined {
  const subjects = subjectsByKind[kind];
  if (!subjects.includes(of)) return { kind: "malformed", field: "subject", expected: subjects.join(" or ") };
  const measure = measureOf(kind);
  if (!measure) return measured && { kind: "malformed", field: "measured", expected: "no number for this test" };
  const { unit, bounds } = measure;
  if (measured?.unit !== unit) return { kind: "malformed", field: "measured", expected: `a number in ${unit}` };
  const { label, min, max } = bounds;
  if (measured.value >= min && measured.value <= max) return undefined;
  return { kind: "out-of-bounds", field: label, found: measured.value, min, max, unit: bounds.unit };
}

/** What is tested is this piece's own, or a can on the shelf. */
function unknownSubject(c: Context<TestBody>, picture: Picture | undefined): Refusal | undefined {
  const about = c.body.subject;
  const unknown = (field: string): Refusal => ({ kind: "unknown-thing", field });
  if (about.of === "can") return c.facts.get("can", about.canId) ? undefined : unknown("canId");
  if (!picture) return unknown("pieceId");
  if (about.of === "pair") return picture.pairs.some(({ id }) => id === about.pairId) ? undefined : unknown("pairId");
  if (about.of === "joint")
    return picture.joints.some(({ id }) => id === about.jointId) ? undefined : unknown("jointId");
  if (about.of === "paint-layer") return undefined;
  if (!picture.surfaces.some(({ id }) => id === about.surfaceId)) return unknown("surfaceId");
  if (about.of !== "patch") return undefined;
  if (!c.facts.get("product", about.productId)) return unknown("productId");
  return about.barrierProductId === undefined || c.facts.get("product", about.barrierProductId)
    ? undefined
    : unknown("barrierProductId");
}

/** A fail that shuts what somebody has already passed in good faith: that stands, and the piece wants looking at. */
function afterPassingInGoodFaith(c: Context<TestBody>): ShopEvent[] {
  const { subject: about, pieceId: piece } = c.body;
  if (about.of !== "pair" || !piece || testedMilestone(c.body.kind) !== "press-together") return [];
  const pair = c.facts.get("pair", about.pairId);
  if (!pair || pair.isApart) return [];
  const told: Change[] = c.facts
    .all("member")
    .filter((member) => member.id !== c.by.id && member.roleSpans.at(-1)?.toAt === undefined)
    .filter((member) => ["owner", "partner"].includes(member.roleSpans.at(-1)?.role ?? ""))
    .map((member, index) => notice(c, index, member.id, "test-after-passing", { pieceId: piece }));
  return [
    {
      kind: "inspection-asked",
      pieceId: piece,
      memberId: c.by.id,
      changes: [
        inspection(c, piece, "Pressed together, and the test says no: look for prints", [pair.surfaceA, pair.surfaceB]),
        ...told,
      ],
    },
  ];
}

/** Its maker may take a test back within this time; afterwards another test answers it. */
const takeBackMs = 10 * minuteMs;

export const takeBackTest = defineIntent({
  kind: "take-back-test",
  sort: "report",
  who: floorHands,
  body: z.object({ testId }),
  reads: (body, facts) => {
    const about = facts.get("test", body.testId)?.subject;
    return [
      { table: "test", id: body.testId },
      { table: "product", all: true },
      ...(about?.of === "can" ? ([{ table: "can", id: about.canId }] satisfies Need[]) : []),
      ...(about?.of === "joint" ? ([{ table: "joint", id: about.jointId }] satisfies Need[]) : []),
    ];
  },
  judge: (c) => {
    const test = c.facts.get("test", c.body.testId);
    if (!test) return refused({ kind: "unknown-thing", field: "testId" });
    if (test.takenBackAt !== undefined) return alreadySo();
    if (test.by !== c.by.id) return refused({ kind: "may-not", role: c.role, needs: [] });
    const untilAt = test.at + takeBackMs;
    if (c.when.madeAt > untilAt) return refused({ kind: "too-late-to-take-back", itsKind: "record-test", untilAt });
    return accepted({
      kind: "test-taken-back",
      pieceId: test.pieceId,
      memberId: c.by.id,
      changes: [changed("test", test.id, { takenBackAt: c.when.madeAt }), ...untaught(c.facts, test)],
    });
  },
});

/** A partner says that what a helper's hand found counts. A fail needs nobody's leave. */
export const confirmTest = defineIntent({
  kind: "confirm-test",
  sort: "word",
  who: partners,
  body: z.object({ confirmationId: idOf<"confirmation">(), testId }),
  reads: (body, facts) => {
    const piece = facts.get("test", body.testId)?.pieceId;
    return [
      { table: "test", id: body.testId },
      ...(piece ? ([{ table: "confirmation", field: "pieceId", value: piece }] satisfies Need[]) : []),
    ];
  },
  judge: (c) => {
    const test = c.facts.get("test", c.body.testId);
    if (!test?.pieceId || test.takenBackAt !== undefined) return refused({ kind: "unknown-thing", field: "testId" });
    if (test.result !== "pass") return refused({ kind: "malformed", field: "testId", expected: "a passed test" });
    const tester = c.facts.get("member", test.by);
    const isHelpers = tester !== undefined && roleAt(tester, test.at) === "helper";
    const confirmed = c.facts.where("confirmation", "pieceId", test.pieceId);
    if (!isHelpers || confirmed.some((yes) => yes.testId === test.id)) return alreadySo();
    return accepted({
      kind: "test-confirmed",
      pieceId: test.pieceId,
      memberId: c.by.id,
      changes: [
        made("confirmation", {
          id: c.body.confirmationId,
          pieceId: test.pieceId,
          testId: test.id,
          by: c.by.id,
          at: Math.max(c.when.madeAt, test.at),
        }),
      ],
    });
  },
});

/** Whether estimates go by what tests have taught of a product. It is still learnt while it is off. */
export const setFactor = defineIntent({
  kind: "set-factor",
  sort: "plan",
  who: partners,
  body: z.object({ productId, isFactorOn: z.boolean() }),
  reads: (body) => [{ table: "product", id: body.productId }],
  judge: (c) => {
    const product = c.facts.get("product", c.body.productId);
    if (!product) return refused({ kind: "unknown-thing", field: "productId" });
    if ((product.isFactorOn ?? true) === c.body.isFactorOn) return alreadySo();
    return accepted({
      kind: c.body.isFactorOn ? "factor-switched-on" : "factor-switched-off",
      memberId: c.by.id,
      changes: [changed("product", product.id, { isFactorOn: c.body.isFactorOn })],
    });
  },
});
