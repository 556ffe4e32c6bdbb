import { describe, expect, test } from "vitest";
import { flaws } from "~/core/shop/intents/coats";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  aCoat,
  alreadySo,
  aPiece,
  aProduct,
  aRoom,
  aSheet,
  aWetCoat,
  bench,
  bruno,
  dresser,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  loft,
  monday8,
  paintSheet,
  type Rows,
  readEveryHour,
  refusalOf,
  rule,
  shopWithDresser,
  silas,
  top,
} from "../support/shop";

const [first, second, third, fourth] = [id(121), id(122), id(123), id(124)];
/** A loft read every hour at exactly the sheet's own 21 °C and 50 % RH: there a minute is a minute. */
const steadyAir = readEveryHour(monday8 - 8 * dayMs, monday8 + 12 * hourMs);
/** Painted until seven on Monday; a second coat is planned. */
const painted = (rows: Rows = {}, sheet: Partial<ReturnType<typeof aSheet>> = {}) =>
  shopWithDresser({
    sheet: [aSheet(sheet)],
    coat: [aWetCoat({ id: first }), aCoat({ id: second, position: 2 })],
    reading: steadyAir,
    ...rows,
  });
/** 240 min on the sheet after the coat that ended at seven. */
const recoatsAt = monday8 + 3 * hourMs;
const body = {
  coatId: second,
  startedAt: recoatsAt,
  endedAt: recoatsAt + 10 * minuteMs,
  by: [silas],
  roomId: loft,
  stance: "asking",
};
const log = (more: Record<string, unknown> = {}, by = silas, at = (more.endedAt as number) ?? body.endedAt) =>
  envelopeOf("log-coat", { ...body, ...more }, by, { at });
const early = { startedAt: recoatsAt - 1, endedAt: recoatsAt + 9 * minuteMs };

describe("a coat", () => {
  test("goes on when the one below has dried as long as its sheet says, with the gate's answer kept beside it", () => {
    const facts = painted();
    const ruling = rule(facts, log({ wetFilmMicrometres: 90, by: [silas, hanna] }));
    expect(eventKinds(ruling)).toEqual(["coat-applied"]);
    expect(facts.get("coat", second)).toMatchObject({
      state: "applied",
      position: 2,
      applied: {
        startedAt: recoatsAt,
        endedAt: recoatsAt + 10 * minuteMs,
        by: [silas, hanna],
        roomId: loft,
        wetFilmMicrometres: 90,
        scuffedBefore: false,
        evidence: { action: "recoat", state: "open", evidence: "readings", neededMin: 240, sheetId: paintSheet },
      },
    });
    expect(facts.all("task")).toEqual([]);
  });

  test("is refused a millisecond early to whoever asks, with the minute from which it may", () => {
    const refusal = refusalOf(rule(painted(), log(early)));
    expect(refusal).toMatchObject({
      kind: "gate-shut",
      action: "recoat",
      heldBy: { milestone: "recoat-opens", surfaceId: top, coatId: first },
      neededMin: 240,
      safeAt: recoatsAt,
      earliestAt: recoatsAt,
      subjectIds: [top],
    });
  });

  test("that went on early all the same is recorded as it was, and somebody must look before the next", () => {
    const facts = painted();
    rule(facts, log({ ...early, stance: "done" }));
    expect(facts.get("coat", second)).toMatchObject({ state: "applied", applied: { startedAt: early.startedAt } });
    expect(facts.where("passedOver", "pieceId", dresser)).toMatchObject([
      { by: silas, at: early.startedAt, evidence: { action: "recoat", state: "shut", safeAt: recoatsAt } },
    ]);
    expect(facts.where("task", "pieceId", dresser)).toMatchObject([
      { sort: "inspect", state: "open", surfaceIds: [top] },
    ]);
  });

  test("that nobody planned is laid over the others, and what is still planned moves up", () => {
    const facts = painted();
    rule(facts, log({ coatId: third, surfaceId: top, sheetId: paintSheet }));
    const places = facts.where("coat", "pieceId", dresser).map((coat) => [coat.id, coat.position, coat.state]);
    expect(places).toEqual([
      [first, 1, "applied"],
      [second, 3, "planned"],
      [third, 2, "applied"],
    ]);
    // a place that is free is taken without moving anybody
    const roomy = painted({ coat: [aWetCoat({ id: first }), aCoat({ id: second, position: 9 })] });
    rule(roomy, log({ coatId: third, surfaceId: top, sheetId: paintSheet }));
    expect([roomy.get("coat", second)?.position, roomy.get("coat", third)?.position]).toEqual([9, 2]);
  });

  test("of oil leaves rags that are due half an hour after it, an unknown product's as well", () => {
    for (const isOilBearing of ["yes", "unknown"] as const) {
      const facts = painted({}, { isOilBearing });
      rule(facts, log());
      expect(facts.all("task")).toMatchObject([
        { sort: "close-out", state: "open", coatId: second, dueAt: body.endedAt + 30 * minuteMs },
      ]);
    }
  });
});

describe("a coat is refused", () => {
  test("when it names nothing here", () => {
    const fields = [
      [{ coatId: third }, "surfaceId"],
      [{ coatId: third, surfaceId: id(99), sheetId: paintSheet }, "surfaceId"],
      [{ coatId: third, surfaceId: top, sheetId: id(99) }, "sheetId"],
      [{ roomId: id(99) }, "roomId"],
      [{ by: [silas, id(99)] }, "by"],
    ] as const;
    for (const [more, field] of fields) {
      expect(refusalOf(rule(painted(), log({ ...more })))).toEqual({ kind: "unknown-thing", field });
    }
    const closed = painted({ room: [aRoom({ id: bench, closedAt: monday8 - dayMs })] });
    expect(refusalOf(rule(closed, log({ roomId: bench })))).toEqual({ kind: "unknown-thing", field: "roomId" });
  });

  test("in the name of somebody who had left by then", () => {
    const facts = painted();
    const member = facts.get("member", hanna) as NonNullable<ReturnType<typeof facts.get<"member">>>;
    const leftAt = (toAt: number) =>
      facts.put("member", { ...member, roleSpans: [{ role: "helper", fromAt: monday8 - 300 * dayMs, toAt }] });
    leftAt(recoatsAt);
    expect(refusalOf(rule(facts, log({ by: [hanna] })))).toEqual({ kind: "unknown-thing", field: "by" });
    leftAt(recoatsAt + 1);
    expect(rule(facts, log({ by: [hanna] })).verdict).toBe("accepted");
  });

  test("when it ends before it starts, or has not ended yet", () => {
    const backwards = { startedAt: recoatsAt, endedAt: recoatsAt - 1 };
    expect(refusalOf(rule(painted(), log(backwards, silas, recoatsAt)))).toEqual({
      kind: "ends-before-start",
      ...backwards,
    });
    const latestAt = body.endedAt - 2 * minuteMs;
    expect(rule(painted(), log({}, silas, latestAt)).verdict).toBe("accepted");
    expect(refusalOf(rule(painted(), log({}, silas, latestAt - 1)))).toEqual({
      kind: "in-the-future",
      happenedAt: body.endedAt,
      latestAt: latestAt - 1,
    });
  });

  test("further back than a day to a helper, who may ask a partner", () => {
    const at = recoatsAt + dayMs;
    expect(rule(painted(), log({ by: [hanna] }, hanna, at)).verdict).toBe("accepted");
    expect(refusalOf(rule(painted(), log({ by: [hanna] }, hanna, at + 1)))).toEqual({
      kind: "too-far-back",
      happenedAt: recoatsAt,
      oldestAt: recoatsAt + 1,
      role: "helper",
      mayAsk: ["partner", "owner"],
    });
    expect(rule(painted(), log({}, silas, at + 10 * dayMs)).verdict).toBe("accepted");
  });

  test("before the day on which the piece came, and after it left", () => {
    // midnight of 26 October in New York, at UTC−4. Source: IANA time zone data
    const cameAt = Date.UTC(2026, 9, 26, 4);
    const came = { piece: [aPiece({ acquiredOn: "2026-10-26" })], coat: [aCoat({ id: first })] };
    const at = (startedAt: number) => log({ coatId: first, startedAt, endedAt: startedAt, stance: "done" });
    expect(refusalOf(rule(painted(came), at(cameAt - 1)))).toEqual({
      kind: "before-it-existed",
      thing: "K-201",
      happenedAt: cameAt - 1,
      cameAt,
    });
    expect(rule(painted(came), at(cameAt)).verdict).toBe("accepted");
    const gone = painted({ piece: [aPiece({ archivedAt: recoatsAt })] });
    expect(refusalOf(rule(gone, log()))).toEqual({
      kind: "after-it-left",
      thing: "K-201",
      happenedAt: recoatsAt,
      leftAt: recoatsAt,
    });
  });

  test("a second time, naming who laid it and when", () => {
    const refusal = refusalOf(rule(painted(), log({ coatId: first })));
    expect(refusal).toEqual({
      kind: "coat-already-applied",
      coatId: first,
      appliedAt: monday8 - hourMs - 10 * minuteMs,
      byMemberId: fern,
    });
  });

  test.each(["struck", "removed"] as const)("when that coat is %s", (state) => {
    const facts = painted({ coat: [aWetCoat({ id: second, state, applied: undefined })] });
    expect(refusalOf(rule(facts, log()))).toEqual({ kind: "coat-is-over", coatId: second, state });
  });

  test("while one below it is still planned", () => {
    const facts = painted({ coat: [aCoat({ id: first }), aCoat({ id: second, position: 2 })] });
    expect(refusalOf(rule(facts, log()))).toEqual({ kind: "coat-out-of-order", coatIds: [first] });
  });

  test("over a flaw that nobody has mended, unless it is done already", () => {
    const rows = { coat: [aWetCoat({ id: first, state: "flawed" }), aCoat({ id: second, position: 2 })] };
    expect(refusalOf(rule(painted(rows), log()))).toEqual({
      kind: "flaw-open",
      coatIds: [first],
      subjectIds: [top],
    });
    expect(rule(painted(rows), log({ stance: "done" })).verdict).toBe("accepted");
  });

  test("to a helper who neither sprays nor brushes", () => {
    const facts = painted();
    const member = facts.get("member", hanna) as NonNullable<ReturnType<typeof facts.get<"member">>>;
    facts.put("member", { ...member, skills: ["strip"] });
    expect(refusalOf(rule(facts, log({ by: [hanna] }, hanna)))).toMatchObject({
      kind: "skill-missing",
      skills: ["spray", "brush"],
    });
  });

  test("to the office", () => {
    expect(refusalOf(rule(painted(), log({}, bruno)))).toEqual({
      kind: "may-not",
      role: "bookkeeper",
      needs: ["owner", "partner", "helper"],
    });
  });

  test("in air that is below the sheet's minimum, with what was found and what is needed", () => {
    const cold = steadyAir.map((reading) =>
      reading.at > recoatsAt - hourMs ? { ...reading, airCelsius: 9 } : { ...reading, airCelsius: 21 },
    );
    const bare = painted({ coat: [aCoat({ id: second })], reading: cold });
    expect(refusalOf(rule(bare, log()))).toMatchObject({
      kind: "air-unfit",
      roomId: loft,
      limits: expect.arrayContaining([{ limit: "minimum", of: "air", found: 9, needed: 10, unit: "°C" }]),
    });
  });

  test("in a room that nobody has read for longer than its gap limit", () => {
    const silent = steadyAir.filter((reading) => reading.at <= recoatsAt - 4 * hourMs);
    const bare = painted({ coat: [aCoat({ id: second })], reading: silent });
    expect(refusalOf(rule(bare, log()))).toMatchObject({
      kind: "gate-needs-reading",
      roomId: loft,
      lastReadingAt: recoatsAt - 4 * hourMs,
      gapLimitMin: 180,
    });
  });

  test("without a scuff where the sheet below always wants one", () => {
    const facts = painted({}, { scuffAlways: true });
    expect(refusalOf(rule(facts, log()))).toMatchObject({ kind: "scuff-needed", surfaceId: top });
    expect(rule(facts, log({ scuffedBefore: true })).verdict).toBe("accepted");
  });

  test("over wax, whatever the clock says", () => {
    const wax = { product: [aProduct({ family: "wax" })] };
    const over = aSheet({ id: id(114), productId: id(113) });
    const facts = painted(wax);
    facts.put("product", aProduct({ id: id(113), name: "Clear", family: "water-borne-clear" }));
    facts.put("sheet", over);
    facts.put("coat", aCoat({ id: second, position: 2, sheetId: over.id }));
    expect(refusalOf(rule(facts, log()))).toMatchObject({
      kind: "not-over-that",
      overFamily: "water-borne-clear",
      underFamily: "wax",
    });
  });

  test("once its window has closed and not reopened", () => {
    const facts = painted({}, { recoatClosesMin: 241, recoatReopensMin: 1440 });
    const at = recoatsAt + minuteMs;
    expect(refusalOf(rule(facts, log({ startedAt: at, endedAt: at })))).toMatchObject({
      kind: "recoat-window-shut",
      closedAt: at,
      reopensAt: monday8 - hourMs + dayMs,
      earliestAt: monday8 - hourMs + dayMs,
      needsScuff: true,
      needsTestPanel: true,
    });
    expect(rule(facts, log()).verdict).toBe("accepted");
  });
});

describe("an oil that is to be wiped off", () => {
  const oiled = () => painted({}, { wipeFromMin: 15, wipeLatestMin: 20 });
  const endedAt = monday8 - hourMs;

  test("shuts the next coat until it was", () => {
    const facts = oiled();
    expect(refusalOf(rule(facts, log()))).toEqual({
      kind: "wipe-due",
      coatId: first,
      wipeFromAt: endedAt + 15 * minuteMs,
      wipeLatestAt: endedAt + 20 * minuteMs,
      subjectIds: [top],
    });
    const wiped = envelopeOf("log-wiped", { coatId: first }, hanna, { happenedAt: endedAt + 16 * minuteMs });
    expect(eventKinds(rule(facts, wiped))).toEqual(["coat-wiped"]);
    expect(facts.get("coat", first)).toMatchObject({
      state: "wiped",
      wiped: { at: endedAt + 16 * minuteMs, by: hanna },
    });
    expect(rule(facts, envelopeOf("log-wiped", { coatId: first }, fern))).toEqual(alreadySo);
    expect(rule(facts, log()).verdict).toBe("accepted");
  });

  test("keeps its flaw when it is wiped", () => {
    const facts = oiled();
    rule(facts, envelopeOf("report-flaw", { coatId: first, cause: "run" }, silas));
    rule(facts, envelopeOf("log-wiped", { coatId: first }, silas));
    expect(facts.get("coat", first)).toMatchObject({ state: "flawed", flaw: { cause: "run" }, wiped: { by: silas } });
  });

  test("is said to be wiped at most three days later by a partner, one by a helper", () => {
    const later = (by: string, days: number, more: number) =>
      rule(
        oiled(),
        envelopeOf("log-wiped", { coatId: first }, by, { at: monday8 + days * dayMs + more, happenedAt: monday8 }),
      );
    expect(later(hanna, 1, 0).verdict).toBe("accepted");
    expect(refusalOf(later(hanna, 1, 1))).toEqual({
      kind: "too-far-back",
      happenedAt: monday8,
      oldestAt: monday8 + 1,
      role: "helper",
      mayAsk: ["owner", "partner"],
    });
    expect(later(silas, 3, 0).verdict).toBe("accepted");
    expect(refusalOf(later(silas, 3, 1))).toMatchObject({ kind: "too-far-back", role: "partner", mayAsk: [] });
  });
});

describe("what becomes of a coat", () => {
  test.each(flaws)("a %s is reported, mended with how, and then holds nothing up", (cause) => {
    const facts = painted();
    expect(eventKinds(rule(facts, envelopeOf("report-flaw", { coatId: first, cause }, hanna)))).toEqual([
      "coat-flawed",
    ]);
    expect(facts.get("coat", first)).toMatchObject({ state: "flawed", flaw: { cause, seenAt: monday8 } });
    const mend = envelopeOf("log-mend", { coatId: first, mend: "Sanded flat, 220" }, silas, { at: monday8 + hourMs });
    expect(eventKinds(rule(facts, mend))).toEqual(["coat-mended"]);
    expect(facts.get("coat", first)).toMatchObject({
      state: "mended",
      flaw: { cause, seenAt: monday8, mendedAt: monday8 + hourMs, mend: "Sanded flat, 220" },
    });
    expect(rule(facts, { ...mend, intentId: id(0x2_0000_0000) })).toEqual(alreadySo);
    expect(rule(facts, log()).verdict).toBe("accepted");
  });

  test("a flaw that nobody knows of has no mend", () => {
    expect(rule(painted(), envelopeOf("log-mend", { coatId: first, mend: "Sanded" }, silas))).toEqual(alreadySo);
    const unknown = rule(painted(), envelopeOf("report-flaw", { coatId: first, cause: "ugly" }, silas));
    expect(refusalOf(unknown)).toMatchObject({ kind: "malformed", field: "cause" });
  });

  test("a coat that was sanded off is over, and the next goes on what lies below", () => {
    const facts = painted();
    const off = { coatId: first, how: "sanded", why: "Orange peel" };
    expect(eventKinds(rule(facts, envelopeOf("report-removed", off, hanna)))).toEqual(["coat-removed"]);
    expect(facts.get("coat", first)).toMatchObject({
      state: "removed",
      removed: { at: monday8, how: "sanded", why: "Orange peel" },
    });
    expect(rule(facts, log({ startedAt: monday8 + 1, endedAt: monday8 + hourMs })).verdict).toBe("accepted");
  });

  const later = {
    "log-wiped": {},
    "report-flaw": { cause: "run" },
    "log-mend": { mend: "Sanded" },
    "report-removed": { how: "stripped", why: "Wrinkled" },
  };
  test.each(Object.entries(later))("%s speaks of a coat that lies, from when it went on", (kind, more) => {
    const refuse = (coatId: string, rows: Rows = {}, happenedAt = monday8) =>
      refusalOf(rule(painted(rows), envelopeOf(kind, { coatId, ...more }, silas, { happenedAt })));
    expect(refuse(fourth)).toEqual({ kind: "unknown-thing", field: "coatId" });
    expect(refuse(second)).toEqual({ kind: "coat-is-over", coatId: second, state: "planned" });
    expect(refuse(first, { coat: [aWetCoat({ id: first, state: "removed" })] })).toEqual({
      kind: "coat-is-over",
      coatId: first,
      state: "removed",
    });
    const startedAt = monday8 - hourMs - 10 * minuteMs;
    expect(refuse(first, {}, startedAt - 1)).toEqual({
      kind: "before-it-existed",
      thing: "coat",
      happenedAt: startedAt - 1,
      cameAt: startedAt,
    });
  });
});
