import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { intentKinds } from "~/core/shop/intents";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { tableNames } from "~/core/shop/tables";
import { takenBackKinds, waysByKind } from "~/core/shop/ways-back";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  aCan,
  aCoat,
  alreadySo,
  aProduct,
  aSheet,
  aSurface,
  aTask,
  aWetCoat,
  bench,
  dresser,
  envelopeOf,
  fern,
  hanna,
  id,
  loft,
  monday8,
  paint,
  paintSheet,
  readEveryHour,
  refusalOf,
  rule,
  shopWithDresser,
  silas,
  top,
} from "../support/shop";

const [first, second, third, onSide] = [id(121), id(122), id(123), id(124)];
const [can, spare, side, newCan, mix, extra] = [id(201), id(202), id(190), id(203), id(204), id(125)];
const at = monday8 + 4 * hourMs;
const washing = id(410);
const closedUp = {
  closingId: id(411),
  answers: (["rags", "flames", "heater", "wipes", "cold-glue", "timers", "unsent"] as const).map((point) => ({
    point,
    answer: "left",
    why: "back in an hour",
  })),
  stance: "done",
};

/** Two faces, painted once and planned for more; a can opened and one that is not; a coat with a flaw. */
const shop = (isOpened = false) =>
  shopWithDresser({
    surface: [aSurface(), aSurface({ id: side, name: "Side", lastWaterAt: monday8 - dayMs })],
    product: [aProduct()],
    sheet: [aSheet({ mechanism: "oxidative", isOilBearing: "yes" })],
    can: [aCan({ id: can, ...(isOpened ? { openedOn: "2026-10-20" } : {}) }), aCan({ id: spare, label: "S-2" })],
    coat: [
      aWetCoat({ id: first }),
      aCoat({ id: second, position: 2 }),
      aCoat({ id: third, position: 3 }),
      aWetCoat({ id: onSide, surfaceId: side, state: "flawed", flaw: { cause: "run", seenAt: monday8 } }),
    ],
    task: [aTask({ id: washing, title: "Wash it", methods: ["wash"] })],
    reading: readEveryHour(monday8 - 8 * hourMs, monday8 + 6 * hourMs),
  });

const coatBody = (coatId: string, more: object = {}) => ({
  coatId,
  startedAt: at - 20 * minuteMs,
  endedAt: at,
  by: [silas],
  roomId: loft,
  stance: "done",
  ...more,
});

/** One way of doing each thing that can be taken back; `more` are others of it. */
const bodies: Record<string, object[]> = {
  "log-coat": [
    coatBody(second),
    coatBody(second, { canIds: [can, spare] }),
    coatBody(extra, { surfaceId: top, sheetId: paintSheet }),
    coatBody(extra, { surfaceId: side, sheetId: paintSheet, roomId: bench }),
  ],
  "log-wiped": [{ coatId: first }, { coatId: onSide }],
  "report-flaw": [
    { coatId: first, cause: "bleed" },
    { coatId: onSide, cause: "dust" },
  ],
  "log-mend": [{ coatId: onSide, mend: "sanded back" }],
  "report-removed": [{ coatId: first, how: "stripped", why: "it bled" }],
  "log-water": [{ pieceId: dresser, surfaceIds: [top, side] }],
  "add-can": [{ canId: newCan, productId: paint, label: "S-3", filledMillilitres: 500, isLabelled: true }],
  "open-can": [{ canId: can, openedOn: "2026-10-02" }, { canId: spare }],
  "count-can": [{ canId: can, millilitres: 300 }],
  "empty-can": [{ canId: can }],
  "log-mix": [{ mixId: mix, sheetId: paintSheet, canIds: [can, spare], millilitres: 400, roomId: loft }],
};

const carried = { pieceId: dresser, roomId: bench, carried: "bearers" };
const tested = { pieceId: dresser, subject: { of: "surface", surfaceId: top } };
/** What others do meanwhile, in which they may lean on it. */
const othersWork: { kind: string; body: object }[] = [
  { kind: "log-coat", body: coatBody(second, { stance: "asking" }) },
  { kind: "log-coat", body: coatBody(third, { mixId: mix }) },
  { kind: "move-room", body: { ...carried, stance: "asking" } },
  { kind: "move-room", body: { ...carried, stance: "done" } },
  { kind: "move-stage", body: { pieceId: dresser, fromStage: "finish", toStage: "cure" } },
  { kind: "record-test", body: { testId: id(405), ...tested, kind: "thumb-twist", result: "pass" } },
  { kind: "record-test", body: { testId: id(406), ...tested, kind: "recoat-patch", result: "fail" } },
  {
    kind: "record-test",
    body: { testId: id(407), subject: { of: "can", canId: can }, kind: "drop-on-glass", result: "pass" },
  },
  {
    kind: "promise",
    body: {
      promiseId: id(408),
      pieceId: dresser,
      sort: "delivery",
      toWhom: "buyer",
      due: { at: at + 60 * dayMs },
    },
  },
  { kind: "change-schedule", body: { surfaceId: top, strike: [third] } },
  { kind: "finish-task", body: { taskId: washing } },
  { kind: "add-task", body: { taskId: id(409), pieceId: dresser, title: "Turn the knobs", sort: "prep" } },
  { kind: "close-up", body: closedUp },
  { kind: "edit-piece", body: { pieceId: dresser, field: "name", was: "Tall dresser", value: "Chest" } },
];

const rowsOf = (facts: MemoryFacts) =>
  Object.fromEntries(
    tableNames.map((table) => [table, [...facts.all(table)].sort((a, b) => (a.id < b.id ? -1 : 1))] as const),
  );

const done = (facts: MemoryFacts, kind: string, body: object, by = silas, when = at) => {
  const intent = envelopeOf(kind, body, by, { at: when });
  const ruling = rule(facts, intent);
  if (ruling.verdict === "refused") throw new Error(`${kind}: ${JSON.stringify(ruling.refusal)}`);
  return intent.intentId;
};
const takeBack = (facts: MemoryFacts, intentId: string, by = silas, when = at + minuteMs) =>
  rule(facts, envelopeOf("take-back", { intentId }, by, { at: when }));

describe("every kind of intent", () => {
  test("says how it is undone", () => {
    expect(intentKinds.filter((kind) => waysByKind[kind] === undefined)).toEqual([]);
    expect(Object.keys(waysByKind).filter((kind) => !intentKinds.includes(kind))).toEqual([]);
  });

  test("that is undone by another names one that there is", () => {
    const named = Object.values(waysByKind).flatMap(({ back }) => (back.by === "another" ? back.kinds : []));
    expect(named.filter((kind) => !intentKinds.includes(kind))).toEqual([]);
  });

  test("that may be taken back is tried here", () => {
    expect(Object.keys(bodies).sort()).toEqual([...takenBackKinds].sort());
  });
});

describe("what is done and taken back leaves every row as it was", () => {
  test.each(Object.entries(bodies).flatMap(([kind, all]) => all.map((body) => ({ kind, body }))))(
    "$kind $body",
    ({ kind, body }) => {
      const facts = shop();
      const before = rowsOf(facts);
      const intentId = done(facts, kind, body);
      expect(rowsOf(facts)).not.toEqual(before);
      const ruling = takeBack(facts, intentId);
      expect(ruling).toMatchObject({ verdict: "accepted" });
      expect(ruling.events.every(({ takesBack }) => takesBack?.intentId === intentId)).toBe(true);
      expect(rowsOf(facts)).toEqual(before);
    },
  );

  test("however many things were done, the last first", () => {
    const acts = Object.entries(bodies).flatMap(([kind, all]) => all.map((body) => ({ kind, body })));
    let landed = 0;
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(...acts), { minLength: 2, maxLength: 6 }),
        fc.boolean(),
        (some, isOpened) => {
          const facts = shop(isOpened);
          const before = rowsOf(facts);
          const ids = some.flatMap(({ kind, body }, index) => {
            const intent = envelopeOf(kind, body, silas, { at: at + index * minuteMs });
            const ruling = rule(facts, intent);
            return ruling.verdict === "accepted" && ruling.events.length > 0 ? [intent.intentId] : [];
          });
          landed += ids.length;
          for (const intentId of ids.reverse()) {
            expect(takeBack(facts, intentId, silas, at + hourMs)).toMatchObject({ verdict: "accepted" });
          }
          expect(rowsOf(facts)).toEqual(before);
        },
      ),
      { numRuns: 60, seed: 20261125 },
    );
    expect(landed).toBeGreaterThan(100);
  }, 30_000);

  test("and where the first of many is let go while the others stand, no later one had leaned on it", () => {
    const acts = Object.entries(bodies).flatMap(([kind, all]) => all.map((body) => ({ kind, body })));
    let letGo = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...acts),
        fc.array(fc.constantFrom(...acts, ...othersWork), { minLength: 1, maxLength: 3 }),
        (earlier, later) => {
          const [facts, without] = [shop(), shop()];
          const intentId = done(facts, earlier.kind, earlier.body);
          const intents = later.map(({ kind, body }, index) =>
            envelopeOf(kind, body, fern, { at: at + (1 + index) * minuteMs }),
          );
          const accepted = intents.filter((intent) => rule(facts, intent).verdict === "accepted");
          if (takeBack(facts, intentId, silas, at + hourMs).verdict === "refused") return;
          letGo += 1;
          // the shop in which it never was: what was accepted is, and leaves the same rows
          for (const intent of accepted)
            expect(rule(without, intent), intent.kind).toMatchObject({ verdict: "accepted" });
          expect(rowsOf(facts)).toEqual(rowsOf(without));
        },
      ),
      { numRuns: 200, seed: 20261125 },
    );
    expect(letGo).toBeGreaterThan(40);
  }, 30_000);
});

describe("who may, and until when", () => {
  test("its maker, for a day to the millisecond", () => {
    const facts = shop();
    const intentId = done(facts, "log-wiped", { coatId: first });
    expect(refusalOf(takeBack(facts, intentId, fern))).toMatchObject({ kind: "may-not" });
    expect(refusalOf(takeBack(facts, intentId, silas, at + dayMs + 1))).toEqual({
      kind: "too-late-to-take-back",
      itsKind: "log-wiped",
      untilAt: at + dayMs,
    });
    expect(takeBack(facts, intentId, silas, at + dayMs).verdict).toBe("accepted");
  });

  test("twice is once, and a taking back is not taken back", () => {
    const facts = shop();
    const intentId = done(facts, "open-can", { canId: spare });
    const back = envelopeOf("take-back", { intentId }, silas, { at });
    expect(rule(facts, back).verdict).toBe("accepted");
    expect(takeBack(facts, intentId)).toEqual(alreadySo);
    expect(refusalOf(takeBack(facts, back.intentId))).toEqual({
      kind: "not-taken-back",
      itsKind: "take-back",
      insteadKinds: [],
    });
  });

  test("what has its own way of being undone is not unwritten: hours, claims, carries", () => {
    const facts = shop();
    const entryId = id(301);
    const intentId = done(facts, "start-timer", { entryId, workKind: "bench", subjects: [] });
    expect(refusalOf(takeBack(facts, intentId))).toEqual({
      kind: "not-taken-back",
      itsKind: "start-timer",
      insteadKinds: ["correct-entry"],
    });
    expect(refusalOf(takeBack(facts, id(0xfff)))).toEqual({ kind: "unknown-thing", field: "intentId" });
  });
});

/** Something is done, then another thing, then the first is taken back. */
const followed = (kind: string, body: object, laterKind: string, laterBody: object, facts = shop()) => {
  const intentId = done(facts, kind, body);
  const later = done(facts, laterKind, laterBody, hanna, at + minuteMs);
  return { facts, earlier: intentId, later, ruling: takeBack(facts, intentId, silas, at + hourMs) };
};
const rests = ({ ruling, later }: Pick<ReturnType<typeof followed>, "ruling" | "later">) => {
  expect(refusalOf(ruling)).toMatchObject({ kind: "something-rests-on-it", intentIds: [later] });
};

describe("a coat is not taken back under what rests on it", () => {
  const coat = ["log-coat", coatBody(second)] as const;
  const carry = { pieceId: dresser, roomId: bench, carried: "bearers", stance: "done" };

  test.each([
    ["the next coat on the same face", "log-coat", coatBody(third, { startedAt: at, endedAt: at })],
    ["a flaw seen in it", "report-flaw", { coatId: second, cause: "dust" }],
    ["a carry, whose gate had it in view though no field was written over", "move-room", carry],
    [
      "a hand test of that face",
      "record-test",
      {
        testId: id(401),
        pieceId: dresser,
        subject: { of: "surface", surfaceId: top },
        kind: "thumb-twist",
        result: "fail",
      },
    ],
  ])("%s", (_, kind, body) => {
    rests(followed(...coat, kind, body));
  });

  test("nor under the rags that somebody put away", () => {
    const facts = shop();
    const intentId = done(facts, ...coat);
    const rags = facts.all("task").find(({ sort }) => sort === "close-out");
    const later = done(facts, "close-out-rags", { taskId: rags?.id, how: "water-can" }, hanna, at + minuteMs);
    rests({ later, ruling: takeBack(facts, intentId, silas, at + hourMs) });
  });

  test("but under work on another face, hours, names and words of another kind it is", () => {
    const others: [string, object][] = [
      ["log-coat", coatBody(extra, { surfaceId: side, sheetId: paintSheet })],
      ["log-wiped", { coatId: onSide }],
      ["start-timer", { entryId: id(402), workKind: "bench", subjects: [{ pieceId: dresser }] }],
      ["add-task", { taskId: id(403), pieceId: dresser, title: "Turn the knobs", sort: "prep" }],
    ];
    for (const [kind, body] of others) {
      expect(followed(...coat, kind, body).ruling.verdict, kind).toBe("accepted");
    }
  });

  test("once what rested on it is taken back itself, it is", () => {
    const { facts, earlier, later, ruling } = followed(...coat, "report-flaw", { coatId: second, cause: "dust" });
    expect(ruling.verdict).toBe("refused");
    expect(takeBack(facts, later, hanna).verdict).toBe("accepted");
    expect(takeBack(facts, earlier).verdict).toBe("accepted");
  });

  test("a hand test that was itself taken back does not hold it", () => {
    const facts = shop();
    const intentId = done(facts, ...coat);
    const subject = { of: "surface", surfaceId: top };
    done(facts, "record-test", { testId: id(404), pieceId: dresser, subject, kind: "thumb-twist", result: "unclear" });
    done(facts, "take-back-test", { testId: id(404) });
    expect(takeBack(facts, intentId).verdict).toBe("accepted");
  });
});

describe("cans and mixes", () => {
  const mixed = ["log-mix", bodies["log-mix"]?.[0] as object] as const;

  test("a mix that went onto a piece is no mistake any more", () => {
    rests(followed(...mixed, "log-coat", coatBody(second, { mixId: mix, startedAt: at, endedAt: at })));
  });

  test("nor is the day on which a can was opened, once something came out of a mix that may have been its", () => {
    const facts = shop();
    done(facts, ...mixed, fern, at - hourMs);
    const intentId = done(facts, "open-can", { canId: can, openedOn: "2026-10-02" });
    const later = done(facts, "log-coat", coatBody(second, { mixId: mix, startedAt: at, endedAt: at }), hanna);
    rests({ later, ruling: takeBack(facts, intentId) });
  });
});

test("somebody who reported the same and was told that it is so already is not left unheard", () => {
  const facts = shop();
  const intentId = done(facts, "log-wiped", { coatId: first });
  const later = envelopeOf("log-wiped", { coatId: first }, hanna, { at });
  expect(rule(facts, later)).toEqual(alreadySo);
  expect(refusalOf(takeBack(facts, intentId))).toMatchObject({
    kind: "something-rests-on-it",
    intentIds: [later.intentId],
    resting: [{ kind: "log-wiped", byMemberId: hanna, at }],
  });
});
