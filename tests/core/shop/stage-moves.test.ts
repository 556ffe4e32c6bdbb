import { describe, expect, test } from "vitest";
import { backReasons } from "~/core/shop/intents/stage-moves";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  aCoat,
  aPiece,
  aProduct,
  aSheet,
  aStay,
  aSurface,
  aTask,
  aWetCoat,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  hanna,
  id,
  monday8,
  type Rows,
  readEveryHour,
  refusalOf,
  rule,
  shopWith,
  silas,
  top,
} from "../support/shop";

type Stage = ReturnType<typeof aPiece>["stage"];
const [task, coat] = [id(201), id(121)];
const inStage = (stage: Stage, rows: Rows = {}) =>
  shopWith({ piece: [aPiece({ stage })], surface: [aSurface()], roomStay: [aStay()], ...rows });
const move = (fromStage: Stage, toStage: Stage, more: Record<string, unknown> = {}, by = silas, at = monday8) =>
  envelopeOf("move-stage", { pieceId: dresser, fromStage, toStage, ...more }, by, { at });

describe("a piece moves on", () => {
  test("from stage to stage, with who and when", () => {
    const facts = inStage("repair");
    expect(eventKinds(rule(facts, move("repair", "prep", { why: "Rails are sound" }, hanna)))).toEqual(["stage-moved"]);
    expect(facts.get("piece", dresser)).toMatchObject({ stage: "prep", stageSinceAt: monday8 });
    expect(facts.where("stageMove", "pieceId", dresser)).toMatchObject([
      { from: "repair", to: "prep", by: hanna, happenedAt: monday8, why: "Rails are sound" },
    ]);
    expect(rule(facts, move("repair", "prep"))).toEqual({ verdict: "accepted", events: [] });
  });

  test("a piece sold as found goes from acquisition to listed at once: no task, no surface, no coat", () => {
    const facts = inStage("acquisition", { surface: [] });
    rule(facts, move("acquisition", "listed"));
    expect(facts.get("piece", dresser)?.stage).toBe("listed");
    expect(facts.where("stageMove", "pieceId", dresser)[0]?.evidence).toMatchObject({ action: "move", state: "open" });
  });

  test.each([
    ["repair", "prep"],
    ["prep", "finish"],
  ] as const)("not out of %s while a task of it is open or held", (stage, next) => {
    for (const state of ["open", "held"] as const) {
      const facts = inStage(stage, { task: [aTask({ id: task, sort: stage, state })] });
      const refusal = refusalOf(rule(facts, move(stage, next)));
      expect(refusal).toEqual({ kind: "tasks-open", taskIds: [task], subjectIds: [dresser] });
    }
    for (const state of ["finished", "set-aside"] as const) {
      const facts = inStage(stage, { task: [aTask({ id: task, sort: stage, state })] });
      expect(rule(facts, move(stage, next)).verdict).toBe("accepted");
    }
    const another = inStage(stage, { task: [aTask({ id: task, sort: "carry" })] });
    expect(rule(another, move(stage, next)).verdict).toBe("accepted");
  });

  test("skipping stages passes every guard between", () => {
    const facts = inStage("acquisition", { task: [aTask({ id: task, sort: "prep" })] });
    expect(refusalOf(rule(facts, move("acquisition", "finish")))).toMatchObject({ kind: "tasks-open" });
    expect(rule(facts, move("acquisition", "prep")).verdict).toBe("accepted");
  });

  test("not into finish without a surface to coat", () => {
    const refusal = refusalOf(rule(inStage("prep", { surface: [] }), move("prep", "finish")));
    expect(refusal).toEqual({ kind: "piece-incomplete", fields: ["surfaces"], subjectIds: [dresser] });
  });
});

describe("a piece goes to its finish with a schedule that holds", () => {
  const wax = id(131);
  const shelf = {
    product: [aProduct(), aProduct({ id: wax, name: "Paste wax", family: "wax" })],
    sheet: [aSheet(), aSheet({ id: id(132), productId: wax })],
  };
  const planned = [
    aCoat({ id: coat, position: 1, sheetId: id(132) }),
    aCoat({ id: id(122), position: 2 }),
    aCoat({ id: id(123), position: 3 }),
  ];

  test("what stops is said with the coats, the reason and what would mend it; nobody else is kept", () => {
    const facts = inStage("prep", { ...shelf, coat: planned });
    expect(refusalOf(rule(facts, move("prep", "finish")))).toMatchObject({
      kind: "schedule-stops",
      surfaceId: top,
      subjectIds: [dresser, top],
      findings: [{ kind: "wax-below", level: "stops", coatIds: [coat, id(122)], mends: [{ mend: "wax-last" }, {}] }],
    });
    rule(facts, envelopeOf("change-schedule", { surfaceId: top, strike: [coat] }, silas));
    expect(rule(facts, move("prep", "finish")).verdict).toBe("accepted");
  });

  test("remarks keep nobody, and a piece that is skipped past its finish is asked all the same", () => {
    const remark = inStage("prep", {
      ...shelf,
      surface: [aSurface({ substrate: "old-finish" })],
      coat: [aCoat({ id: coat })],
    });
    expect(rule(remark, move("prep", "finish")).verdict).toBe("accepted");
    const skipped = inStage("prep", { ...shelf, coat: planned });
    expect(refusalOf(rule(skipped, move("prep", "cure")))).toMatchObject({ kind: "schedule-stops" });
  });

  test("a plan that stops is accepted as a plan: it is said, and mended when somebody mends it", () => {
    const facts = inStage("prep", shelf);
    const add = planned.map(({ id: coatId, position, sheetId }) => ({ coatId, position, sheetId }));
    expect(rule(facts, envelopeOf("change-schedule", { surfaceId: top, add }, silas)).verdict).toBe("accepted");
  });

  test("what may bleed is said before anything else", () => {
    const surface = [aSurface({ wood: "oak", isPaleWanted: true, bleedRisk: "unknown" })];
    const facts = inStage("prep", { ...shelf, surface, coat: planned });
    const refusal = refusalOf(rule(facts, move("prep", "finish")));
    expect(refusal).toMatchObject({
      kind: "bleed-open",
      surfaceId: top,
      findings: [{ kind: "bleed" }, { kind: "wax-below" }],
    });
  });
});

describe("a piece leaves finish for cure", () => {
  const film = { product: [aProduct()], sheet: [aSheet()] };
  const cure = (rows: Rows) => rule(inStage("finish", { ...film, ...rows }), move("finish", "cure"));

  test("when no coat is still planned", () => {
    expect(refusalOf(cure({ coat: [aWetCoat({ id: coat }), aCoat({ id: id(122), position: 2 })] }))).toEqual({
      kind: "coats-left",
      coatIds: [id(122)],
      subjectIds: [dresser],
    });
    expect(cure({ coat: [aWetCoat({ id: coat }), aCoat({ id: id(122), state: "struck" })] }).verdict).toBe("accepted");
  });

  test("when every flaw is mended", () => {
    expect(refusalOf(cure({ coat: [aWetCoat({ id: coat, state: "flawed" })] }))).toEqual({
      kind: "flaw-open",
      coatIds: [coat],
      subjectIds: [dresser],
    });
    expect(cure({ coat: [aWetCoat({ id: coat, state: "mended" })] }).verdict).toBe("accepted");
  });

  test("when the oil is wiped", () => {
    const sheet = [aSheet({ wipeFromMin: 15, wipeLatestMin: 20 })];
    expect(refusalOf(cure({ sheet, coat: [aWetCoat({ id: coat })] }))).toEqual({
      kind: "wipe-due",
      coatId: coat,
      wipeFromAt: monday8 - 45 * minuteMs,
      wipeLatestAt: monday8 - 40 * minuteMs,
      subjectIds: [top],
    });
    expect(cure({ sheet, coat: [aWetCoat({ id: coat, state: "wiped" })] }).verdict).toBe("accepted");
  });
});

test.each(["listed", "sold"] as const)(
  "a piece is %s once it may be handled everywhere, not a millisecond before",
  (to) => {
    // 1440 min on the sheet, at its own air
    const handled = monday8 - hourMs + dayMs;
    const curing = () =>
      inStage("cure", {
        product: [aProduct()],
        sheet: [aSheet()],
        coat: [aWetCoat({ id: coat })],
        reading: readEveryHour(monday8 - 9 * dayMs, monday8 + dayMs),
      });
    expect(refusalOf(rule(curing(), move("cure", to, {}, silas, handled - 1)))).toMatchObject({
      kind: "gate-shut",
      heldBy: { milestone: "handle", surfaceId: top },
      safeAt: handled,
      earliestAt: handled,
      neededMin: 1440,
    });
    const facts = curing();
    rule(facts, move("cure", to, {}, silas, handled));
    expect(facts.where("stageMove", "pieceId", dresser)).toMatchObject([
      { to, evidence: { action: "move", state: "open", evidence: "readings", neededMin: 1440 } },
    ]);
  },
);

describe("a piece goes back", () => {
  test("with a reason, and past no guard", () => {
    const facts = inStage("cure", { task: [aTask({ id: task, sort: "prep" })] });
    expect(refusalOf(rule(facts, move("cure", "prep")))).toEqual({
      kind: "reason-missing",
      reasons: [...backReasons],
    });
    rule(facts, move("cure", "prep", { reason: "flaw", why: "A run on the left side" }));
    expect(facts.get("piece", dresser)?.stage).toBe("prep");
    expect(facts.where("stageMove", "pieceId", dresser)).toMatchObject([{ from: "cure", to: "prep", reason: "flaw" }]);
  });
});

describe("who moves a piece", () => {
  test("a helper forward from repair to finish, nothing else", () => {
    const moves: [Stage, Stage, boolean][] = [
      ["repair", "prep", true],
      ["repair", "finish", true],
      ["prep", "finish", true],
      ["acquisition", "repair", false],
      ["finish", "cure", false],
      ["prep", "repair", false],
    ];
    for (const [from, to, may] of moves) {
      const ruling = rule(inStage(from), move(from, to, { reason: "changed-plan" }, hanna));
      if (may) expect(ruling.verdict).toBe("accepted");
      else expect(refusalOf(ruling)).toEqual({ kind: "may-not", role: "helper", needs: ["partner", "owner"] });
    }
  });

  test("nobody of the office, nobody at the shared tablet, and no piece that we never had", () => {
    expect(refusalOf(rule(inStage("repair"), move("repair", "prep", {}, bruno)))).toMatchObject({ kind: "may-not" });
    const onTablet = rule(inStage("repair"), move("repair", "prep"), monday8, { isSharedTablet: true });
    expect(refusalOf(onTablet)).toEqual({ kind: "not-on-shared-tablet" });
    expect(refusalOf(rule(shopWith(), move("repair", "prep")))).toEqual({ kind: "unknown-thing", field: "pieceId" });
  });

  test("at most three days late, a helper one", () => {
    const late = (by: string, happenedAt: number) =>
      rule(
        inStage("repair"),
        envelopeOf("move-stage", { pieceId: dresser, fromStage: "repair", toStage: "prep" }, by, { happenedAt }),
      );
    expect(late(hanna, monday8 - dayMs).verdict).toBe("accepted");
    expect(refusalOf(late(hanna, monday8 - dayMs - 1))).toMatchObject({
      kind: "too-far-back",
      mayAsk: ["owner", "partner"],
    });
    expect(late(silas, monday8 - 3 * dayMs).verdict).toBe("accepted");
    expect(refusalOf(late(silas, monday8 - 3 * dayMs - 1))).toMatchObject({ kind: "too-far-back", role: "partner" });
  });
});
