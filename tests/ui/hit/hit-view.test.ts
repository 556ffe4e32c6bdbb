import { describe, expect, test } from "vitest";
import type { JointHit, WhatWasHit } from "~/core/cure/hit";
import type { Row } from "~/core/shop/tables";
import { hourMs, minuteMs } from "~/core/units";
import { spanChoices, spanWords } from "~/ui/hit/hit-spans";
import { hitView } from "~/ui/hit/hit-view";
import {
  aPair,
  aPiece,
  aProduct,
  aReading,
  aRoom,
  aSheet,
  aSurface,
  aTask,
  dresser,
  id,
  loft,
  monday8,
  paint,
  shopWith,
  silas,
  top,
} from "../../core/support/shop";

const zone = "America/New_York";
const [rails, drawers, fronts, glueSheet] = [id(203), id(104), id(105), id(202)];
const joint: Row<"joint"> = {
  id: rails,
  pieceId: dresser,
  name: "Seat rails, chair 3",
  sheetId: glueSheet,
  roomId: loft,
  gluedAt: monday8 - 12 * hourMs,
  by: silas,
  squeeze: "clamped",
  isStressed: false,
};
const floor = (task: Row<"task">[] = []) =>
  shopWith({
    piece: [aPiece()],
    surface: [aSurface(), aSurface({ id: fronts, name: "Fronts" })],
    pair: [aPair()],
    product: [aProduct({ id: paint, name: "Sage" }), aProduct({ id: id(201), name: "White glue", family: "glue" })],
    sheet: [aSheet(), aSheet({ id: glueSheet, productId: id(201), mechanism: "glue", chalkCelsius: 10 })],
    joint: [joint],
    promise: [
      {
        id: id(301),
        pieceId: dresser,
        sort: "outlet",
        dueAt: monday8 + 16 * hourMs,
        isWholeDay: true,
        toWhom: "outlet",
        state: "made",
        isKnowinglyEarly: false,
      },
    ],
    task,
  });
const reach = { neededMin: 60, safeCreditMin: 0, isReached: false };
const suspect: JointHit = {
  of: "joint",
  pieceId: dresser,
  jointId: rails,
  isToLookAt: true,
  delays: [],
  answer: {
    joint,
    clampOff: reach,
    fullStrength: { ...reach, safeAt: monday8 + 10 * minuteMs + 1 },
    firstDay: {
      endsAt: monday8 + 12 * hourMs,
      belowChalkMin: 330,
      unknownMin: 0,
      lowestCelsius: 8,
      lowestAt: monday8 - 8 * hourMs,
    },
    isSuspect: true,
    isUncertain: false,
    isFailed: false,
    isSound: false,
  },
};
const found = (more: Partial<WhatWasHit> = {}): WhatWasHit => ({
  jointsToLookAt: [],
  later: [],
  spared: [],
  promises: [],
  ...more,
});
const shown = (facts = floor()) => ({ facts, now: monday8, zone });
const view = (more: Partial<WhatWasHit>, facts = floor()) => hitView(found(more), monday8 - 9 * hourMs, shown(facts));

describe("what was hit, in words,", () => {
  test("says of a film or a pair which date it had and which it has, rounded up to five minutes, and by how much", () => {
    const delays = [
      {
        milestone: "press-together" as const,
        wasAt: monday8 + 61 * minuteMs,
        nowAt: monday8 + 426 * minuteMs,
        lostMin: 365,
      },
    ];
    const { later, said } = view({ later: [{ of: "pair", pieceId: dresser, pairId: drawers, delays }] });
    expect(later).toMatchObject([
      {
        tag: "K-201",
        lines: [{ subject: "Top against fronts: press together", was: "09:05", now: "15:10", note: "6 h 05 later." }],
      },
    ]);
    expect(said).toBe("0 joints to look at, 1 date later.");
  });

  test("puts first what somebody waits for first, and what is still ahead before what has passed", () => {
    const at = (milestone: "recoat-opens" | "handle" | "full-cure", hours: number) => ({
      milestone,
      wasAt: monday8 + (hours - 6) * hourMs,
      nowAt: monday8 + hours * hourMs,
      lostMin: 360,
    });
    const line = (delays: ReturnType<typeof at>[]) =>
      view({ later: [{ of: "film", pieceId: dresser, surfaceId: top, delays }] }).later[0]?.lines[0];
    const next = { ...at("recoat-opens", 4), nextSheetId: id(112) };
    expect(line([at("handle", 3), next])?.subject).toBe("Top: next coat, Sage");
    expect(line([at("handle", 3), at("full-cure", 30)])).toMatchObject({
      subject: "Top: handle",
      note: "6 h later. Also later: full cure Tue 14:00.",
    });
    expect(line([at("handle", -2), at("full-cure", 30)])?.subject).toBe("Top: full cure");
  });

  test("says that there is no date any more where nobody can say", () => {
    const delays = [{ milestone: "handle" as const, wasAt: monday8 + hourMs, lostMin: Number.POSITIVE_INFINITY }];
    const { later } = view({ later: [{ of: "film", pieceId: dresser, surfaceId: top, delays }] });
    expect(later[0]?.lines[0]).toMatchObject({ was: "09:00", now: "no date yet" });
  });

  test("says of a cold joint how long, how soon after gluing and how cold, and offers each inspection once", () => {
    const { toLookAt, unaskedJointIds } = view({ jointsToLookAt: [suspect] });
    expect(toLookAt[0]?.lines[0]).toMatchObject({
      subject: "Seat rails, chair 3",
      was: "strong 08:11",
      now: "inspect",
      isBarred: true,
      note: "Below 10 °C for 5 h 30, 4 h after gluing, 8 °C at the lowest. Pull it or look for a white line before anybody sits or sands.",
    });
    expect(unaskedJointIds).toEqual([rails]);
    const asked = floor([aTask({ id: id(207), sort: "inspect", jointId: rails })]);
    expect(view({ jointsToLookAt: [suspect] }, asked).unaskedJointIds).toEqual([]);
  });

  test("never calls a suspect joint spared, though its room is as cold on every day", () => {
    const asEver = { ...suspect, isToLookAt: false };
    const { toLookAt, unaskedJointIds, spared } = view({ spared: [asEver] });
    expect(toLookAt[0]?.lines[0]).toMatchObject({ subject: "Seat rails, chair 3", now: "inspect" });
    expect(unaskedJointIds).toEqual([rails]);
    expect(spared).toEqual([]);
  });

  test("names what was spared of a piece in one line", () => {
    const film = (surfaceId: string) => ({ of: "film" as const, pieceId: dresser, surfaceId, delays: [] });
    const { spared } = view({ spared: [film(top), film(fronts)] });
    expect(spared[0]?.lines).toEqual([{ subject: "Top and fronts", now: "nothing lost" }]);
  });

  test("says which promise stands in spite of it, and which does not", () => {
    const promise = floor().all("promise")[0];
    if (!promise) throw new Error("no promise");
    const delays = [
      { milestone: "handle" as const, wasAt: monday8 + hourMs, nowAt: monday8 + 2 * hourMs, lostMin: 60 },
    ];
    const later = [{ of: "film" as const, pieceId: dresser, surfaceId: top, delays }];
    expect(view({ later }).later[0]?.note).toBe("These hours did not break what was promised: outlet Mon 26 Oct.");
    const { broken, later: without } = view({ later, promises: [{ promise, nowAt: monday8 + 20 * hourMs }] });
    expect(broken).toMatchObject([{ tag: "K-201", words: "Outlet Mon 26 Oct: honest date now Tue 04:00" }]);
    expect(without[0]?.note).toBeUndefined();
  });
});

describe("the hours that are offered", () => {
  const readings = (celsiusAt: (hour: number) => number) =>
    Array.from({ length: 10 * 24 + 1 }, (_, index) => {
      const hour = index - 10 * 24;
      return aReading({ id: id(6000 + index), at: monday8 + hour * hourMs, airCelsius: celsiusAt(hour) });
    });
  const room = aRoom({ id: loft });

  test("are those that were odd, with how cold it was and usually is, and then last night", () => {
    const facts = shopWith({ reading: readings((hour) => (hour >= -7 && hour < -2 ? 8 : 18)) });
    const [cold, night] = spanChoices(facts, room, monday8, zone);
    expect(cold).toMatchObject({ detail: "8 °C, usually 18 °C" });
    expect(cold?.words).toMatch(/^Mon 0[01]:\d\d–0[56]:\d\d$/);
    expect(night).toMatchObject({ words: "Last night", fromAt: monday8 - 14 * hourMs, toAt: monday8 });
  });

  test("are last night alone in a room as usual", () => {
    const facts = shopWith({ reading: readings(() => 18) });
    expect(spanChoices(facts, room, monday8, zone).map(({ id }) => id)).toEqual(["night"]);
  });

  test("name both days where they run over midnight", () => {
    expect(spanWords({ fromAt: monday8 - 9 * hourMs, toAt: monday8 }, zone)).toBe("Sun 23:00–Mon 08:00");
    expect(spanWords({ fromAt: monday8, toAt: monday8 + hourMs }, zone)).toBe("Mon 08:00–09:00");
  });
});
