import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Moments } from "~/core/shop/moments";
import { momentsOf } from "~/core/shop/moments";
import { dayMs, hourMs, minuteMs, secondMs } from "~/core/units";
import { aPiece, dresser, envelopeOf, fern, id, monday8, refusalOf, rule, shopWith, silas } from "../support/shop";

type Travel = Parameters<typeof envelopeOf>[3];
const made = (travel: Travel) => envelopeOf("stop-timer", {}, silas, travel);
function moments(travel: Travel, recordedAt: number, lastMadeAt?: number, cameAlone = true): Moments {
  const found = momentsOf(made(travel), recordedAt, lastMadeAt, cameAlone);
  if (!found.ok) throw new Error(`refused: ${found.refusal.kind}`);
  return found.value;
}
const ten = monday8 + 2 * hourMs;

describe("a clock that was measured", () => {
  test.each([-2 * dayMs, -172_800_000, 37 * minuteMs, 400 * dayMs])("off by %d ms is corrected", (offsetMs) => {
    expect(moments({ at: monday8 - offsetMs, offsetMs }, ten)).toEqual({
      madeAt: monday8,
      happenedAt: monday8,
      recordedAt: ten,
      isClockTrusted: true,
    });
  });

  test("cannot have made anything after the shop heard of it", () => {
    expect(moments({ at: ten + hourMs }, ten).madeAt).toBe(ten);
  });

  test("makes nothing before what the same device made last", () => {
    expect(moments({ at: monday8 }, ten, monday8 + hourMs).madeAt).toBe(monday8 + hourMs);
    expect(moments({ at: monday8 + hourMs }, ten, monday8).madeAt).toBe(monday8 + hourMs);
  });

  test("within ten seconds of the shop's is the shop's", () => {
    expect(moments({ at: ten - 10 * secondMs }, ten).madeAt).toBe(ten);
    expect(moments({ at: ten - 10 * secondMs - 1 }, ten).madeAt).toBe(ten - 10 * secondMs - 1);
  });

  test("keeps the seconds between two that come together, for a timer may have run in them", () => {
    const started = moments({ at: ten - 9 * secondMs }, ten, undefined, false).madeAt;
    const stopped = moments({ at: ten - 2 * secondMs }, ten, started, false).madeAt;
    expect(stopped - started).toBe(7 * secondMs);
  });
});

describe("a clock that was never measured", () => {
  test("says nothing: what it made was made when the shop heard of it", () => {
    expect(moments({ at: monday8, offsetMs: null }, ten)).toEqual({
      madeAt: ten,
      happenedAt: ten,
      recordedAt: ten,
      isClockTrusted: false,
    });
  });

  test("is believed in a time that a person typed", () => {
    expect(moments({ at: monday8 + 50 * dayMs, offsetMs: null, happenedAt: monday8 }, ten)).toMatchObject({
      madeAt: ten,
      happenedAt: monday8,
    });
  });

  const coat = {
    coatId: id(121),
    surfaceId: id(102),
    sheetId: id(112),
    startedAt: monday8,
    endedAt: monday8,
    by: [fern],
    roomId: id(3),
    stance: "done",
  };
  const untrusted = [
    ["start-timer", { entryId: id(401), subjects: [], workKind: "bench" }],
    ["stop-timer", { entryId: id(401) }],
    ["log-coat", coat],
    ["log-wiped", { coatId: id(121) }],
    ["move-room", { pieceId: dresser, roomId: id(3), carried: "hands", stance: "done" }],
  ] as const;
  test.each(untrusted)("is asked when it was, for %s", (kind, body) => {
    const facts = shopWith({ piece: [aPiece()] });
    const intent = { ...envelopeOf(kind, body, fern, { offsetMs: null }), offsetUncertainMs: 900 };
    expect(refusalOf(rule(facts, intent))).toEqual({
      kind: "clock-not-trusted",
      deviceAt: monday8,
      uncertainMs: 900,
    });
  });

  test("claims and plans all the same: they go by the shop's own time", () => {
    const facts = shopWith({ piece: [aPiece({ stage: "repair" })] });
    const wood = { pieceId: dresser, field: "wood", value: "Oak" };
    expect(rule(facts, envelopeOf("edit-piece", wood, fern, { offsetMs: null })).verdict).toBe("accepted");
    const stage = { pieceId: dresser, fromStage: "repair", toStage: "prep" };
    const moved = envelopeOf("move-stage", stage, fern, { at: monday8 - 90 * dayMs, offsetMs: null });
    rule(facts, moved, ten);
    expect(facts.get("piece", dresser)).toMatchObject({ stage: "prep", stageSinceAt: ten });
  });
});

describe("what happened", () => {
  test("up to two minutes after it was told is taken for now", () => {
    expect(moments({ at: monday8, happenedAt: monday8 + 120 * secondMs }, ten).happenedAt).toBe(monday8);
  });

  test("more than two minutes after it was told is still to come", () => {
    const later = momentsOf(made({ at: monday8, happenedAt: monday8 + 120 * secondMs + 1 }), ten);
    expect(later).toEqual({
      ok: false,
      refusal: { kind: "in-the-future", happenedAt: monday8 + 120 * secondMs + 1, latestAt: monday8 },
    });
  });

  test("long before it was told is kept as it was told", () => {
    expect(moments({ at: monday8, happenedAt: monday8 - 400 * dayMs }, ten).happenedAt).toBe(monday8 - 400 * dayMs);
  });
});

test("whatever a device's clock does, nothing is made after the shop heard of it nor before what it made last", () => {
  const around = fc.integer({ min: -3 * dayMs, max: 3 * dayMs });
  fc.assert(
    fc.property(fc.array(fc.record({ drift: around, offsetMs: fc.option(around) }), { maxLength: 20 }), (clocks) => {
      let lastMadeAt: number | undefined;
      clocks.forEach(({ drift, offsetMs }, index) => {
        const recordedAt = monday8 + index * minuteMs;
        const { madeAt, happenedAt } = moments({ at: recordedAt + drift, offsetMs }, recordedAt, lastMadeAt);
        expect(madeAt).toBeLessThanOrEqual(recordedAt);
        expect(madeAt).toBeGreaterThanOrEqual(lastMadeAt ?? 0);
        expect(happenedAt).toBeLessThanOrEqual(madeAt);
        lastMadeAt = madeAt;
      });
    }),
  );
});
