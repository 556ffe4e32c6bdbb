import { describe, expect, test } from "vitest";
import { dayMs, hourMs } from "~/core/units";
import {
  aPiece,
  aProduct,
  aSheet,
  aSurface,
  aTask,
  aWetCoat,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  paint,
  paintSheet,
  type Rows,
  readEveryHour,
  refusalOf,
  rule,
  shopWithDresser,
  silas,
  top,
} from "../support/shop";

const [leg, wash] = [id(105), id(201)];
const stripped = (rows: Rows = {}) =>
  shopWithDresser({
    piece: [aPiece({ stage: "prep" })],
    surface: [aSurface(), aSurface({ id: leg, name: "Legs" })],
    reading: readEveryHour(monday8 - 40 * hourMs, monday8 + 39 * hourMs),
    ...rows,
  });
const wetAt = (facts: ReturnType<typeof stripped>) =>
  [top, leg].map((surface) => facts.get("surface", surface)?.lastWaterAt);
const finish = (happenedAt = monday8) => envelopeOf("finish-task", { taskId: wash }, hanna, { happenedAt });

describe("a finished task that was washing, stripping or wet sanding", () => {
  test.each(["wash", "strip", "wet-sand"] as const)(
    "leaves the whole piece wet where it names no surface: %s",
    (method) => {
      const facts = stripped({ task: [aTask({ id: wash, methods: [method] })] });
      rule(facts, finish(monday8 - hourMs));
      expect(wetAt(facts)).toEqual([monday8 - hourMs, monday8 - hourMs]);
    },
  );

  test("leaves wet what it names alone, and nothing where it was dry work", () => {
    const one = stripped({ task: [aTask({ id: wash, methods: ["wash"], surfaceIds: [leg] })] });
    rule(one, finish());
    expect(wetAt(one)).toEqual([undefined, monday8]);
    const dry = stripped({ task: [aTask({ id: wash, methods: ["dry-sand", "clean"] })] });
    rule(dry, finish());
    expect(wetAt(dry)).toEqual([undefined, undefined]);
  });

  test("told late never makes wood drier than it was", () => {
    const facts = stripped({
      surface: [aSurface({ lastWaterAt: monday8 - hourMs }), aSurface({ id: leg })],
      task: [aTask({ id: wash, methods: ["wash"] })],
    });
    rule(facts, finish(monday8 - 5 * hourMs));
    expect(wetAt(facts)).toEqual([monday8 - hourMs, monday8 - 5 * hourMs]);
  });
});

describe("water without a task", () => {
  const water = (surfaceIds: string[], by = hanna, travel: Parameters<typeof envelopeOf>[3] = {}) =>
    envelopeOf("log-water", { pieceId: dresser, surfaceIds }, by, travel);

  test("is told of by whoever works on the floor, with when it was", () => {
    const facts = stripped();
    expect(eventKinds(rule(facts, water([top], hanna, { happenedAt: monday8 - 2 * hourMs })))).toEqual([
      "water-logged",
    ]);
    expect(wetAt(facts)).toEqual([monday8 - 2 * hourMs, undefined]);
    expect(rule(facts, water([top], silas, { happenedAt: monday8 - 3 * hourMs })).events).toEqual([]);
    expect(refusalOf(rule(facts, water([top], bruno)))).toMatchObject({ kind: "may-not" });
    expect(refusalOf(rule(facts, water([top], hanna, { happenedAt: monday8 - dayMs - 1 })))).toMatchObject({
      kind: "too-far-back",
      role: "helper",
    });
  });

  test("is refused on surfaces that are not the piece's, on none, and on a piece that has left", () => {
    expect(refusalOf(rule(stripped(), water([id(99)])))).toEqual({ kind: "unknown-thing", field: "surfaceIds" });
    expect(rule(stripped(), water([])).verdict).toBe("refused");
    const gone = stripped({ piece: [aPiece({ archivedAt: monday8 - hourMs })] });
    expect(refusalOf(rule(gone, water([top])))).toMatchObject({ kind: "after-it-left" });
  });
});

describe("a piece on its way to its finish", () => {
  const toFinish = (at: number) =>
    envelopeOf("move-stage", { pieceId: dresser, fromStage: "prep", toStage: "finish" }, fern, { at });
  const wet = [aSurface({ lastWaterAt: monday8 - 20 * hourMs }), aSurface({ id: leg })];

  test("waits while washed wood is wet, with when it may be dry, and goes on once it is", () => {
    const facts = stripped({ surface: wet });
    expect(refusalOf(rule(facts, toFinish(monday8)))).toMatchObject({
      kind: "wood-wet",
      surfaceId: top,
      lastWaterAt: monday8 - 20 * hourMs,
      safeAt: monday8 + 4 * hourMs,
      earliestAt: monday8 + 4 * hourMs,
    });
    expect(rule(facts, toFinish(monday8 + 4 * hourMs)).verdict).toBe("accepted");
  });

  test("goes sooner by a meter, which a helper may read", () => {
    const facts = stripped({ surface: wet });
    const meter = {
      testId: id(601),
      pieceId: dresser,
      subject: { of: "washed", surfaceId: top },
      kind: "moisture-meter",
      result: "pass",
      measured: { value: 10, unit: "percent" },
    };
    expect(eventKinds(rule(facts, envelopeOf("record-test", meter, hanna)))).toEqual([
      "test-recorded",
      "gate-opened-by-test",
    ]);
    expect(rule(facts, toFinish(monday8)).verdict).toBe("accepted");
  });

  test("waits for filler to take a coat", () => {
    const facts = stripped({
      product: [aProduct({ family: "filler" })],
      sheet: [aSheet({ mechanism: "filler" })],
      coat: [aWetCoat({ id: id(171) })],
    });
    expect(refusalOf(rule(facts, toFinish(monday8)))).toMatchObject({
      kind: "gate-shut",
      action: "sand",
      neededMin: 240,
    });
    // four hours at its own 21 °C from 07:00
    expect(rule(facts, toFinish(monday8 + 3 * hourMs)).verdict).toBe("accepted");
  });

  test("the first coat on wet wood is refused to whoever asks, and recorded when it is done", () => {
    const coat = (stance: string) =>
      envelopeOf(
        "log-coat",
        {
          coatId: id(172),
          surfaceId: top,
          sheetId: paintSheet,
          startedAt: monday8,
          endedAt: monday8,
          by: [fern],
          roomId: id(3),
          stance,
        },
        fern,
      );
    const facts = stripped({ surface: wet });
    expect(refusalOf(rule(facts, coat("asking")))).toMatchObject({ kind: "wood-wet", surfaceId: top });
    expect(rule(facts, coat("done")).verdict).toBe("accepted");
    expect(facts.where("passedOver", "pieceId", dresser)).toHaveLength(1);
    expect(facts.get("product", paint)).toBeDefined();
  });
});
