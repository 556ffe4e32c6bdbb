import { expect, test } from "vitest";
import { withBarrier } from "~/core/coating/schedule-change";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { hourMs } from "~/core/units";
import { everyTenMinutes, shellacBlocker, sprayAir, steadyLoft, w1, weekFrom } from "../../cure/week";
import { aCoat, aPair, aSurface, aTask, envelopeOf, fern, id, refusalOf, rule, silas } from "../../support/shop";
import { at, demoFloor, laid, loft, sprayRoom, standing, wallClock } from "./demo-floor";

// scenario 11: a red-brown desk whose buyer wants it pale
const desk = id(0x205);
const [body, fronts, drawers] = [id(0x251), id(0x252), id(0x253)];
const pale = [0x254, 0x255].map(id) as [string, string];
const frontCoats = [0x256, 0x257].map(id) as [string, string];
const promise = id(0x260);

const clocksBack = at("11-01 02:00 EDT");
/** The spray room keeps its hours by the wall clock, an hour later once the clocks went back. */
const sprayByWall = (now: number) => sprayAir(now < clocksBack ? now : now - hourMs);
const until = at("11-12 00:00 EST");
const readings = [
  ...everyTenMinutes(loft, weekFrom, until, steadyLoft),
  ...everyTenMinutes(sprayRoom, weekFrom, until, sprayByWall),
];

/** The desk in prep with two pale coats planned on body and fronts; its work of prep is done. */
function plannedDesk(sprayUntil: string): MemoryFacts {
  const { piece, roomStay } = standing("K-205", desk, at(sprayUntil));
  const surface = [body, fronts].map((surfaceId) =>
    aSurface({ id: surfaceId, pieceId: desk, isPaleWanted: true, bleedRisk: "unknown", wood: "red-brown, unknown" }),
  );
  const coat = [
    [body, pale],
    [fronts, frontCoats],
  ].flatMap(([surfaceId, ids]) =>
    (ids as [string, string]).map((coatId, index) =>
      aCoat({
        id: coatId,
        pieceId: desk,
        surfaceId: surfaceId as string,
        position: index + 1,
        sheetId: w1.sheet.id,
      }),
    ),
  );
  return demoFloor(
    {
      piece: [{ ...piece, stage: "prep" }],
      roomStay,
      surface,
      coat,
      product: [w1.product, shellacBlocker.product],
      sheet: [w1.sheet, shellacBlocker.sheet],
      pair: [aPair({ id: drawers, pieceId: desk, surfaceA: body, surfaceB: fronts })],
      task: [aTask({ id: id(0x261), pieceId: desk, state: "finished" })],
    },
    readings,
  );
}

const bleedPatch = (testId: string, when: string, result: "pending" | "fail") =>
  envelopeOf(
    "record-test",
    {
      testId,
      pieceId: desk,
      subject: { of: "patch", surfaceId: body, productId: w1.product.id },
      kind: "bleed-patch",
      result,
    },
    fern,
    { at: at(when) },
  );
const toFinish = (when: string) =>
  envelopeOf("move-stage", { pieceId: desk, fromStage: "prep", toStage: "finish" }, silas, { at: at(when) });

/** The barrier goes below everything that is planned on a surface, as the screen's key does it. */
function planBarrier(facts: MemoryFacts, surfaceId: string, belowCoatId: string, when: string): void {
  const coats = facts.where("coat", "pieceId", desk).filter((coat) => coat.surfaceId === surfaceId);
  let made = surfaceId === body ? 0x270 : 0x280;
  const change = withBarrier(
    coats,
    belowCoatId,
    { sheetId: shellacBlocker.sheet.id, why: "The patch bled.", coats: 1 },
    () => id(++made),
  );
  const intent = envelopeOf("change-schedule", { surfaceId, ...change }, silas, { at: at(when) });
  expect(rule(facts, intent).verdict).toBe("accepted");
}

/** The coats of a surface from the wood up, at their hours. */
function layCoats(facts: MemoryFacts, surfaceId: string, hours: readonly string[]): void {
  const planned = facts
    .where("coat", "pieceId", desk)
    .filter((coat) => coat.surfaceId === surfaceId && coat.state === "planned")
    .sort((lower, upper) => lower.position - upper.position);
  expect(planned).toHaveLength(hours.length);
  const surface = facts.get("surface", surfaceId);
  if (!surface) throw new Error("no surface");
  for (const [index, coat] of planned.entries()) {
    const of = coat.sheetId === w1.sheet.id ? w1 : shellacBlocker;
    facts.put("coat", laid(surface, of, at(hours[index] as string), coat.id, coat.position));
  }
}

const pressing = (when: string) =>
  envelopeOf("press-together", { pairId: drawers, stance: "asking" }, fern, { at: at(when) });
const promising = (when: string) =>
  envelopeOf(
    "promise",
    { promiseId: promise, pieceId: desk, sort: "collection", due: { day: "2026-11-07" }, toWhom: "buyer" },
    silas,
    { at: at(when) },
  );

test("the failed patch keeps the desk from its finish until a barrier is planned below the pale coats", () => {
  const facts = plannedDesk("10-31 18:00 EDT");
  rule(facts, bleedPatch(id(0x262), "10-27 17:30 EDT", "pending"));
  // not answered yet: nothing goes on, and the refusal says when the patch tells
  expect(refusalOf(rule(facts, toFinish("10-28 08:00 EDT")))).toMatchObject({
    kind: "bleed-open",
    surfaceId: body,
    patchDueAt: at("10-28 17:30 EDT"),
    findings: [{ kind: "bleed", cause: "red-stain" }],
  });
  rule(facts, bleedPatch(id(0x263), "10-28 17:30 EDT", "fail"));
  const refusal = refusalOf(rule(facts, toFinish("10-29 08:00 EDT")));
  expect(refusal).toMatchObject({
    kind: "bleed-open",
    subjectIds: [desk, body],
    findings: [
      {
        kind: "bleed",
        cause: "patch-failed",
        coatIds: [pale[0]],
        mends: [{ mend: "insert-barrier", families: ["shellac-blocker", "shellac"], belowCoatId: pale[0], coats: 1 }],
      },
    ],
  });
  expect(refusal).not.toHaveProperty("patchDueAt");
  planBarrier(facts, body, pale[0], "10-29 09:00 EDT");
  // the fronts are of the same wood
  expect(refusalOf(rule(facts, toFinish("10-29 09:01 EDT")))).toMatchObject({ kind: "bleed-open", surfaceId: fronts });
  planBarrier(facts, fronts, frontCoats[0], "10-29 09:02 EDT");
  expect(rule(facts, toFinish("10-29 09:03 EDT")).verdict).toBe("accepted");
  expect(facts.get("piece", desk)?.stage).toBe("finish");
});

// 96 h at 25 °C from Saturday 09:30: 8.5 h at 19 °C in the spray room, the rest at 18 °C in the loft, each hour worth
// 2^((T − 25) / 10); worked out by hand
test.each([
  { last: "10-31 09:30 EDT", sprayUntil: "10-31 18:00 EDT", shut: "Fri 6, 19:55 EST", stands: true },
  { last: "11-02 09:30 EST", sprayUntil: "11-02 18:00 EST", shut: "Sun 8, 20:55 EST", stands: false },
])("with its last coat at $last the drawers go in on $shut", ({ last, sprayUntil, shut, stands }) => {
  const facts = plannedDesk(sprayUntil);
  planBarrier(facts, body, pale[0], "10-29 09:00 EDT");
  planBarrier(facts, fronts, frontCoats[0], "10-29 09:02 EDT");
  expect(rule(facts, toFinish("10-29 09:03 EDT")).verdict).toBe("accepted");
  for (const surfaceId of [body, fronts]) layCoats(facts, surfaceId, ["10-30 09:00 EDT", "10-30 11:00 EDT", last]);
  const asked = "11-03 08:00 EST";
  expect(wallClock(refusalOf(rule(facts, pressing(asked))).earliestAt)).toBe(shut);
  const promised = rule(facts, promising(asked));
  if (stands) expect(promised.verdict).toBe("accepted");
  else {
    const refusal = refusalOf(promised);
    expect(refusal).toMatchObject({ kind: "promise-too-early", heldBy: { pairId: drawers } });
    expect(wallClock(refusal.kind === "promise-too-early" ? refusal.safeAt : undefined)).toBe(shut);
  }
});
