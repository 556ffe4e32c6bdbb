import * as z from "zod/mini";
import { testedMilestone } from "../../cure/observation";
import { text } from "../../text";
import { minuteMs } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { idOf, pairId, pieceId, surfaceId } from "../entities/ids";
import type { Role } from "../entities/people";
import { testKinds } from "../entities/tests";
import type { Change, ShopEvent } from "../event";
import { floorHands } from "../roles";
import { notice } from "./notice";
import { inspection } from "./passed-over";
import { workNeeds } from "./piece-needs";

/** Source: common practice; a test is remembered well for a day by a helper, three by whoever runs the piece. */
const testBackMin: Partial<Record<Role, number>> = { helper: 24 * 60, partner: 72 * 60, owner: 72 * 60 };

const testId = idOf<"test">();

export const recordTest = defineIntent({
  kind: "record-test",
  sort: "report",
  who: floorHands,
  oldestMin: testBackMin,
  body: z.object({
    testId,
    pieceId,
    subject: z.discriminatedUnion("of", [
      z.object({ of: z.literal("surface"), surfaceId }),
      z.object({ of: z.literal("pair"), pairId }),
      z.object({ of: z.literal("paint-layer"), layer: text(40) }),
    ]),
    kind: z.enum(testKinds),
    result: z.enum(["pass", "fail", "unclear", "pending"]),
    note: z.optional(text(300)),
  }),
  reads: (body) => [
    ...workNeeds(body.pieceId),
    { table: "surface", field: "pieceId", value: body.pieceId },
    { table: "pair", field: "pieceId", value: body.pieceId },
  ],
  judge: (c) => {
    const piece = c.facts.get("piece", c.body.pieceId);
    if (!piece) return refused({ kind: "unknown-thing", field: "pieceId" });
    if (piece.archivedAt !== undefined && c.when.happenedAt >= piece.archivedAt) {
      return refused({
        kind: "after-it-left",
        thing: piece.number,
        happenedAt: c.when.happenedAt,
        leftAt: piece.archivedAt,
      });
    }
    const { subject } = c.body;
    if (subject.of === "surface" && c.facts.get("surface", subject.surfaceId)?.pieceId !== piece.id) {
      return refused({ kind: "unknown-thing", field: "surfaceId" });
    }
    if (subject.of === "pair" && c.facts.get("pair", subject.pairId)?.pieceId !== piece.id) {
      return refused({ kind: "unknown-thing", field: "pairId" });
    }
    const { testId: id, ...test } = c.body;
    const events: ShopEvent[] = [
      {
        kind: "test-recorded",
        pieceId: piece.id,
        memberId: c.by.id,
        changes: [made("test", { id, ...test, at: c.when.happenedAt, by: c.by.id })],
      },
    ];
    if (test.result === "fail") events.push(...afterPassingInGoodFaith(c));
    return accepted(...events);
  },
});

type TestBody = z.infer<typeof recordTest.body>;

/** A fail that shuts what somebody has already passed in good faith: that stands, and the piece wants looking at. */
function afterPassingInGoodFaith(c: Context<TestBody>): ShopEvent[] {
  const { subject, pieceId: piece } = c.body;
  if (subject.of !== "pair" || testedMilestone(c.body.kind) !== "press-together") return [];
  const pair = c.facts.get("pair", subject.pairId);
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
  reads: (body) => [{ table: "test", id: body.testId }],
  judge: (c) => {
    const test = c.facts.get("test", c.body.testId);
    if (!test) return refused({ kind: "unknown-thing", field: "testId" });
    if (test.takenBackAt !== undefined) return alreadySo();
    if (test.by !== c.by.id) return refused({ kind: "may-not", role: c.role, needs: [] });
    const untilAt = test.at + takeBackMs;
    if (c.when.madeAt > untilAt) return refused({ kind: "too-late-to-take-back", untilAt });
    return accepted({
      kind: "test-taken-back",
      pieceId: test.pieceId,
      memberId: c.by.id,
      changes: [changed("test", test.id, { takenBackAt: c.when.madeAt })],
    });
  },
});
