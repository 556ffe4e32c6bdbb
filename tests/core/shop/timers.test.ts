import { describe, expect, test } from "vitest";
import { taskSecondsComing } from "~/core/shop/intents/timers";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  aClaim,
  alreadySo,
  anEntry,
  aPiece,
  aTask,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  odile,
  type Rows,
  refusalOf,
  rule,
  shopWith,
  silas,
} from "../support/shop";

const [timer, next, scrape, desk, claim] = [id(401), id(402), id(201), id(170), id(301)];
const withWork = (rows: Rows = {}) =>
  shopWith({
    piece: [aPiece(), aPiece({ id: desk, number: "K-202", stage: "repair" })],
    task: [aTask({ id: scrape })],
    ...rows,
  });
const onDresser = [{ pieceId: dresser }];
type Travel = Parameters<typeof envelopeOf>[3];
const start = (more: Record<string, unknown> = {}, by = silas, travel: Travel = {}) =>
  envelopeOf("start-timer", { entryId: next, subjects: onDresser, workKind: "bench", ...more }, by, travel);
const stop = (by = fern, travel: Travel = {}, more: Record<string, unknown> = {}) =>
  envelopeOf("stop-timer", { entryId: timer, ...more }, by, travel);

describe("a timer that starts", () => {
  test("is an entry without an end, on the piece in the stage in which it stands", () => {
    const facts = withWork();
    expect(eventKinds(rule(facts, start()))).toEqual(["timer-started"]);
    expect(facts.get("entry", next)).toEqual(
      anEntry({ id: next, memberId: silas, startedAt: monday8, subjects: [{ pieceId: dresser, stage: "finish" }] }),
    );
    expect(facts.running().map((entry) => entry.id)).toEqual([next]);
  });

  test("may be for the shop, or for several pieces in equal parts unless said otherwise", () => {
    const facts = withWork();
    rule(facts, start({ subjects: [], workKind: "overhead" }));
    expect(facts.get("entry", next)).toMatchObject({ subjects: [], splitRule: "one" });
    const both = [{ pieceId: dresser }, { pieceId: desk, stage: "prep" }];
    const shared = withWork();
    rule(shared, start({ subjects: both, splitRule: "one" }));
    expect(shared.get("entry", next)).toMatchObject({
      splitRule: "equal",
      subjects: [
        { pieceId: dresser, stage: "finish" },
        { pieceId: desk, stage: "prep" },
      ],
    });
    const byArea = withWork();
    rule(byArea, start({ subjects: both, splitRule: "area" }));
    expect(byArea.get("entry", next)?.splitRule).toBe("area");
  });

  test("stops the same person's other timer at the same moment, nobody else's", () => {
    const facts = withWork({ entry: [anEntry({ id: timer, memberId: silas }), anEntry({ id: id(403) })] });
    const happenedAt = monday8 - 10 * minuteMs;
    const ruling = rule(facts, start({}, silas, { happenedAt }));
    expect(eventKinds(ruling)).toEqual(["timer-stopped", "timer-started"]);
    expect(facts.get("entry", timer)?.endedAt).toBe(happenedAt);
    expect(facts.running().map((entry) => entry.id)).toEqual([id(403), next]);
  });

  test("at the very moment of the other leaves nothing of the other", () => {
    const facts = withWork({ entry: [anEntry({ id: timer, memberId: silas, startedAt: monday8 })] });
    rule(facts, start());
    expect(facts.get("entry", timer)?.struckAt).toBe(monday8);
  });

  test("leaves an overlong other one to a word of the owner", () => {
    const forgotten = (ran: number) => {
      const facts = withWork({ entry: [anEntry({ id: timer, memberId: silas, startedAt: monday8 - ran })] });
      rule(facts, start());
      return facts.get("entry", timer)?.needsWord;
    };
    expect(forgotten(16 * hourMs)).toBeUndefined();
    expect(forgotten(16 * hourMs + 1)).toBe("over-sixteen-hours");
  });

  test("and arrives after the one that followed it was itself stopped by that one", () => {
    const late = (startedAt: number) => {
      const facts = withWork({ entry: [anEntry({ id: timer, memberId: silas, startedAt: monday8 })] });
      const ruling = rule(facts, start({}, silas, { at: startedAt }), monday8 + hourMs);
      expect(eventKinds(ruling)).toEqual(["timer-started"]);
      expect(facts.get("entry", timer)?.endedAt).toBeUndefined();
      return facts.get("entry", next);
    };
    expect(late(monday8 - hourMs)).toMatchObject({ startedAt: monday8 - hourMs, endedAt: monday8 });
    expect(late(monday8 - 16 * hourMs)?.needsWord).toBeUndefined();
    expect(late(monday8 - 16 * hourMs - 1)?.needsWord).toBe("over-sixteen-hours");
  });

  test("on a task is a sign of its holder, and of no other", () => {
    const sign = (by: string) => {
      const facts = withWork({ claim: [aClaim({ id: claim, taskId: scrape })] });
      rule(facts, start({ subjects: [{ pieceId: dresser, taskId: scrape }] }, by));
      return facts.get("claim", claim)?.lastSignAt;
    };
    expect([sign(fern), sign(silas)]).toEqual([monday8, monday8 - dayMs]);
  });

  test("names pieces and tasks that are here, a task with its own piece", () => {
    const refuse = (subjects: unknown[]) => refusalOf(rule(withWork(), start({ subjects })));
    expect(refuse([{ pieceId: id(99) }])).toEqual({ kind: "unknown-thing", field: "pieceId" });
    expect(refuse([{ pieceId: desk, taskId: scrape }])).toEqual({ kind: "unknown-thing", field: "taskId" });
    expect(refuse([{ pieceId: dresser, taskId: id(99) }])).toEqual({ kind: "unknown-thing", field: "taskId" });
  });

  test("is every member's, at the shared tablet too, and no outlet's", () => {
    for (const by of [fern, silas, hanna, bruno]) {
      expect(rule(withWork(), start({}, by), monday8, { isSharedTablet: true }).verdict).toBe("accepted");
    }
    expect(refusalOf(rule(withWork(), start({}, odile)))).toEqual({
      kind: "may-not",
      role: "outlet",
      needs: ["owner", "partner", "helper", "bookkeeper"],
    });
  });

  test("on dry sanding of paint that may hold lead is refused", () => {
    const facts = withWork({
      piece: [aPiece({ isPainted: "yes" })],
      task: [aTask({ id: scrape, methods: ["dry-sand"] })],
    });
    const subjects = [{ pieceId: dresser, taskId: scrape }];
    expect(refusalOf(rule(facts, start({ subjects })))).toEqual({
      kind: "lead-locked",
      leadState: "unknown",
      methods: ["dry-sand"],
      banYear: 1978,
      subjectIds: [dresser],
    });
  });
});

describe("a timer that stops", () => {
  const running = (row: Partial<ReturnType<typeof anEntry>> = {}) =>
    withWork({ entry: [anEntry({ id: timer, ...row })] });

  test("ends when its person said, with the rest that they had", () => {
    const facts = running();
    const happenedAt = monday8 - 5 * minuteMs;
    expect(eventKinds(rule(facts, stop(fern, { happenedAt }, { restMin: 10 })))).toEqual(["timer-stopped"]);
    expect(facts.get("entry", timer)).toMatchObject({ endedAt: happenedAt, restMin: 10, versions: [] });
    expect(facts.running()).toEqual([]);
    expect(rule(facts, stop(fern, { happenedAt }))).toEqual(alreadySo);
  });

  test("is one's own, and there", () => {
    expect(refusalOf(rule(running(), stop(silas)))).toEqual({
      kind: "may-not",
      role: "partner",
      needs: ["owner", "bookkeeper"],
    });
    expect(refusalOf(rule(withWork(), stop()))).toEqual({ kind: "unknown-thing", field: "entryId" });
    const struck = rule(running({ struckAt: monday8 }), stop());
    expect(refusalOf(struck)).toEqual({ kind: "unknown-thing", field: "entryId" });
  });

  test("does not stop before it started", () => {
    const startedAt = monday8 - hourMs;
    expect(refusalOf(rule(running(), stop(fern, { happenedAt: startedAt })))).toEqual({
      kind: "ends-before-start",
      startedAt,
      endedAt: startedAt,
    });
  });

  test("after sixteen hours stops all the same, and waits for a word", () => {
    const ran = (length: number) => {
      const facts = running({ startedAt: monday8 - length });
      rule(facts, stop());
      return facts.get("entry", timer);
    };
    expect(ran(16 * hourMs)?.needsWord).toBeUndefined();
    expect(ran(16 * hourMs + 1)).toMatchObject({ endedAt: monday8, needsWord: "over-sixteen-hours" });
  });

  test("earlier after all needs no word any more", () => {
    const facts = running({ startedAt: monday8 - 20 * hourMs });
    rule(facts, stop());
    rule(facts, stop(fern, { happenedAt: monday8 - 12 * hourMs }));
    expect(facts.get("entry", timer)).toMatchObject({
      endedAt: monday8 - 12 * hourMs,
      versions: [{ by: fern, was: { endedAt: monday8 } }],
    });
    expect(facts.get("entry", timer)?.needsWord).toBeUndefined();
  });
});

test.each(["start-timer", "stop-timer"])("%s from a clock that was never measured asks when it was", (kind) => {
  const facts = withWork({ entry: [anEntry({ id: timer })] });
  const body = { entryId: kind === "start-timer" ? next : timer, subjects: onDresser, workKind: "bench" };
  expect(refusalOf(rule(facts, envelopeOf(kind, body, fern, { offsetMs: null })))).toEqual({
    kind: "clock-not-trusted",
    deviceAt: monday8,
  });
  const said = envelopeOf(kind, body, fern, { offsetMs: null, happenedAt: monday8 - minuteMs });
  expect(rule(facts, said).verdict).toBe("accepted");
});

test("the work on a task that a queue still carries is counted in corrected seconds, other work is not", () => {
  const subjects = [{ pieceId: dresser, taskId: scrape }];
  const coming = [
    start({ subjects }, silas, { at: monday8 + 2 * dayMs, offsetMs: -2 * dayMs }),
    envelopeOf("stop-timer", { entryId: next }, silas, { at: monday8 + 25 * minuteMs }),
    start({ entryId: timer }, silas, { at: monday8 + 30 * minuteMs }),
    envelopeOf("stop-timer", { entryId: timer }, silas, { at: monday8 + hourMs }),
    // a timer that still runs has no seconds to tell yet
    start({ entryId: id(405), subjects }, silas, { at: monday8 + 2 * hourMs }),
  ];
  expect(taskSecondsComing(scrape, coming)).toBe(1500);
  expect(taskSecondsComing(desk, coming)).toBe(0);
});
