import { describe, expect, test } from "vitest";
import { type GateAction, gate, recoatFilmGate } from "~/core/cure/gate";
import { earliestHonest, handleOpenEverywhere, nextGate, roundUpToFiveMin } from "~/core/cure/next-gate";
import type { Reading } from "~/core/shop/tables";
import {
  at,
  coat,
  handTest,
  helper,
  l1,
  loft,
  o1,
  o2,
  outlet,
  pair,
  pictureOf,
  piece,
  reading,
  sprayRoom,
  stay,
  steadyLoft,
  surface,
  trippedLoft,
  w1,
  w2,
  wallClock,
  weekReadings,
} from "./week";

const readTo = at("11-01 13:00 EST");
const tripped = weekReadings(readTo, trippedLoft);
const steady = weekReadings(readTo, steadyLoft);

/** A dresser of six drawers, enamelled on Sunday 25 October 14:30 in the spray room, in the loft since 18:00. */
const dresser = (readings: readonly Reading[]) => {
  const of = piece();
  const [body, fronts] = [surface("body", of.id), surface("fronts", of.id)];
  const drawers = pair([body, fronts]);
  return {
    drawers,
    body,
    picture: pictureOf(
      {
        piece: of,
        surfaces: [body, fronts],
        pairs: [drawers],
        coats: [coat(body, w1, at("10-25 14:30 EDT")), coat(fronts, w1, at("10-25 14:30 EDT"))],
        stays: [
          stay(of.id, sprayRoom, at("10-20 08:00 EDT"), at("10-25 18:00 EDT")),
          stay(of.id, loft, at("10-25 18:00 EDT")),
        ],
      },
      readings,
    ),
  };
};

/** One surface with coats laid in a room, then perhaps carried to the loft at 18:00. */
const single = (laid: { of: typeof w1; endedAt: number }[], rooms: { sprayUntil?: number }, readings = tripped) => {
  const of = piece();
  const top = surface("top", of.id);
  const since = at("10-20 08:00 EDT");
  return {
    top,
    picture: pictureOf(
      {
        piece: of,
        surfaces: [top],
        coats: laid.map((each, index) => coat(top, each.of, each.endedAt, { position: index + 1 })),
        stays:
          rooms.sprayUntil === undefined
            ? [stay(of.id, loft, since)]
            : [stay(of.id, sprayRoom, since, rooms.sprayUntil), stay(of.id, loft, rooms.sprayUntil)],
      },
      readings,
    ),
  };
};

describe("a dresser that waits for its drawers", () => {
  const press: GateAction = { action: "press-together" };

  test("opens on Sunday 01:15 EST where the loft stayed at 18 °C", () => {
    expect(wallClock(gate(dresser(steady).picture, press, at("10-28 09:00 EDT")).safeAt)).toBe("Sun 1, 01:15 EST");
  });

  test("opens on Sunday 07:20 EST after the heater tripped, as foretold on Wednesday morning and as it came", () => {
    const { picture } = dresser(tripped);
    expect(wallClock(gate(picture, press, at("10-28 09:00 EDT")).safeAt)).toBe("Sun 1, 07:20 EST");
    const later = gate(picture, press, at("11-01 12:00 EST"));
    expect([later.state, wallClock(later.sinceAt)]).toEqual(["open", "Sun 1, 07:20 EST"]);
  });

  test("is shut one millisecond before and open at the instant itself", () => {
    const { picture } = dresser(tripped);
    const opensAt = gate(picture, press, at("11-01 12:00 EST")).sinceAt as number;
    expect(gate(picture, press, opensAt - 1).state).toBe("shut");
    expect(gate(picture, press, opensAt).state).toBe("open");
  });

  test("could be carried by hand from Tuesday 05:15", () => {
    const { picture } = dresser(tripped);
    expect(wallClock(handleOpenEverywhere(picture, at("10-27 12:00 EDT")).sinceAt)).toBe("Tue 27, 05:15 EDT");
    expect(handleOpenEverywhere(picture, at("10-27 05:00 EDT")).state).toBe("shut");
  });

  test("is next on the plate with its drawers, once it may be handled", () => {
    const next = nextGate(dresser(tripped).picture, at("10-28 09:00 EDT"));
    expect(next?.asked).toMatchObject({ action: "press-together" });
    expect(roundUpToFiveMin(next?.gate.safeAt as number)).toBe(at("11-01 07:20 EST"));
  });

  test("can honestly be promised for photos from Tuesday, to an outlet only once its drawers may be in", () => {
    const { picture } = dresser(tripped);
    const asked = at("10-26 16:00 EDT");
    const date = (sort: "photos" | "outlet") => {
      const found = earliestHonest(picture, sort, asked);
      return found.kind === "at" ? wallClock(found.safeAt) : found.kind;
    };
    expect(date("photos")).toBe("Tue 27, 05:15 EDT");
    expect(date("outlet")).toBe("Sun 1, 01:15 EST");
  });
});

describe("a logger that was silent from Saturday 23:00 EDT to Sunday 05:00 EST", () => {
  const silentFrom = at("10-31 23:00 EDT");
  const silentTo = at("11-01 05:00 EST");
  const asked = at("11-01 07:30 EST");
  const gapped = tripped.filter((found) => found.at <= silentFrom || found.at >= silentTo);
  const press: GateAction = { action: "press-together" };

  test("costs the dresser seven hours: it opens at 14:20 EST and says which time is unknown", () => {
    const found = gate(dresser(gapped).picture, press, asked);
    expect([found.state, wallClock(found.safeAt)]).toEqual(["shut", "Sun 1, 14:20 EST"]);
    expect(found.needs).toContainEqual({ kind: "unknown-span", roomId: loft.id, fromAt: silentFrom, toAt: silentTo });
  });

  test("is made good by the minimum-maximum thermometer: lowest 18 °C since 23:00 opens it from 07:20 EST", () => {
    const spanned = [...gapped, reading(loft, at("11-01 07:25 EST"), 18, { spanFromAt: silentFrom, source: "hand" })];
    const found = gate(dresser(spanned).picture, press, asked);
    expect([found.state, wallClock(found.sinceAt)]).toEqual(["open", "Sun 1, 07:20 EST"]);
  });

  test("is overruled by a press test that passes", () => {
    const { picture, drawers } = dresser(gapped);
    const passed = handTest({
      subject: { of: "pair", pairId: drawers.id },
      kind: "paper-press",
      at: asked,
      result: "pass",
    });
    expect(gate({ ...picture, tests: [passed] }, press, asked)).toMatchObject({
      state: "open",
      evidence: "test",
      sinceAt: asked,
    });
  });

  test("asks for a reading while it is still silent, and says whether one might open the gate", () => {
    const silent = tripped.filter((found) => found.at <= silentFrom);
    const need = gate(dresser(silent).picture, press, asked).needs.find((found) => found.kind === "reading");
    expect(need).toEqual({
      kind: "reading",
      roomId: loft.id,
      lastReadingAt: silentFrom,
      gapLimitMin: 180,
      mayOpenNow: true,
    });
  });
});

describe("the other pieces of the week", () => {
  test("the table's second coat waits until Wednesday 11:40, not 05:30", () => {
    const laid = [{ of: o2, endedAt: at("10-27 10:00 EDT") }];
    const { picture, top } = single(laid, {});
    const recoat = (scuffedBefore: boolean, surfaceId = top.id) =>
      ({ action: "recoat", surfaceId, sheetId: o2.sheet.id, scuffedBefore }) as const;
    const early = gate(picture, recoat(false), at("10-28 11:00 EDT"));
    expect([early.state, wallClock(early.safeAt)]).toEqual(["shut", "Wed 28, 11:40 EDT"]);
    expect(early.needs).toContainEqual({ kind: "scuff", surfaceId: top.id });
    expect(recoatFilmGate(picture, recoat(false), at("10-28 11:40 EDT")).state).toBe("shut");
    expect(recoatFilmGate(picture, recoat(true), at("10-28 11:40 EDT")).state).toBe("open");
    const steadyTop = single(laid, {}, steady);
    const undisturbed = gate(steadyTop.picture, recoat(true, steadyTop.top.id), at("10-28 05:30 EDT"));
    expect(wallClock(undisturbed.sinceAt)).toBe("Wed 28, 05:30 EDT");
  });

  test("the table's wood may still be as cold as the night at 11:40: unless measured, the coat waits for six hours of warmth", () => {
    const { picture, top } = single([{ of: o2, endedAt: at("10-27 10:00 EDT") }], {});
    const asked: GateAction = { action: "recoat", surfaceId: top.id, sheetId: o2.sheet.id, scuffedBefore: true };
    expect(gate(picture, asked, at("10-28 11:40 EDT"))).toMatchObject({
      state: "shut",
      needs: [
        {
          kind: "air",
          air: {
            state: "unfit",
            failing: [{ limit: "minimum", foundCelsius: 8, neededCelsius: 13 }, { limit: "dew-spread" }],
          },
        },
      ],
    });
    const measured = [...tripped, reading(loft, at("10-28 11:40 EDT"), 18, { surfaceCelsius: 16.5, source: "hand" })];
    const again = single([{ of: o2, endedAt: at("10-27 10:00 EDT") }], {}, measured);
    expect(gate(again.picture, { ...asked, surfaceId: again.top.id }, at("10-28 11:40 EDT")).state).toBe("open");
    expect(gate(picture, asked, at("10-28 13:00 EDT")).state).toBe("open");
  });

  test("the table can be handled on Sunday 01:30 EDT, before the clocks repeat the hour", () => {
    const { picture } = single([{ of: o2, endedAt: at("10-29 15:00 EDT") }], {});
    expect(wallClock(handleOpenEverywhere(picture, at("10-30 09:00 EDT")).safeAt)).toBe("Sun 1, 01:30 EDT");
  });

  test("water-borne clear over the oil colour of the bookcase waits until Saturday 13:05, or for a barrier of shellac", () => {
    const { picture, top } = single([{ of: o1, endedAt: at("10-26 10:00 EDT") }], {});
    const asked: GateAction = { action: "recoat", surfaceId: top.id, sheetId: w2.sheet.id };
    const thursday = gate(picture, asked, at("10-29 10:00 EDT"));
    expect([thursday.state, wallClock(thursday.safeAt)]).toEqual(["shut", "Sat 31, 13:05 EDT"]);
    // by hand: 72 h on the wall at 18 °C less the trip are worth 40.6 of 72 h
    expect((thursday.safeCreditMin as number) / 60).toBeCloseTo(40.6, 1);
    expect(thursday.needs[0]).toMatchObject({
      kind: "not-over-that",
      rule: "B",
      barrierFamily: "shellac",
      waitMin: 72 * 60,
    });
    expect(gate(picture, asked, at("10-31 13:05 EDT")).state).toBe("open");
    const calm = single([{ of: o1, endedAt: at("10-26 10:00 EDT") }], {}, steady);
    const before = gate(calm.picture, { ...asked, surfaceId: calm.top.id }, at("10-29 10:00 EDT"));
    expect(wallClock(before.safeAt)).toBe("Sat 31, 07:00 EDT");
  });

  test("the wardrobe's first coat may be handled on Thursday 07:50, 01:40 without the trip", () => {
    const laid = [{ of: w1, endedAt: at("10-27 11:10 EDT") }];
    const rooms = { sprayUntil: at("10-27 18:00 EDT") };
    const handled = (readings: Reading[]) =>
      wallClock(handleOpenEverywhere(single(laid, rooms, readings).picture, at("10-28 10:00 EDT")).safeAt);
    expect(handled(tripped)).toBe("Thu 29, 07:50 EDT");
    expect(handled(steady)).toBe("Thu 29, 01:40 EDT");
  });

  test("sprayed enamel of the same afternoon may be carried to the loft on bearers at 18:00, not by hand", () => {
    const { picture } = single([{ of: w1, endedAt: at("10-28 14:30 EDT") }], { sprayUntil: at("10-28 18:00 EDT") });
    expect(gate(picture, { action: "move", carried: "bearers" }, at("10-28 18:00 EDT")).state).toBe("open");
    expect(gate(picture, { action: "move", carried: "hands" }, at("10-28 18:00 EDT")).state).toBe("shut");
  });

  describe("nightstands in lacquer since Wednesday 11:00", () => {
    const rooms = { sprayUntil: at("10-28 18:00 EDT") };
    const { picture } = single([{ of: l1, endedAt: at("10-28 11:00 EDT") }], rooms);
    const strapped: GateAction = { action: "hand-over", wrap: "snug-paper", isStrapped: true };
    const buyerAt = at("10-31 10:00 EDT");

    test("may be handled at 17:05 and stacked with paper on Friday 01:30", () => {
      expect(wallClock(handleOpenEverywhere(picture, buyerAt).sinceAt)).toBe("Wed 28, 17:05 EDT");
      expect(wallClock(gate(picture, { action: "stack", material: "paper" }, buyerAt).sinceAt)).toBe(
        "Fri 30, 01:30 EDT",
      );
    });

    test("have 44.0 of 48 hours for the buyer at 10:00 who wants straps, and get them at 16:30", () => {
      const found = gate(picture, strapped, buyerAt);
      expect([found.state, wallClock(found.safeAt), found.heldBy?.milestone]).toEqual([
        "shut",
        "Sat 31, 16:30 EDT",
        "snug-wrap",
      ]);
      expect((found.safeCreditMin as number) / 60).toBeCloseTo(44.0, 1);
      expect((found.neededMin as number) / 60).toBe(48);
      expect(gate(picture, strapped, at("10-31 16:30 EDT")).state).toBe("open");
    });

    test("may leave at 10:00 upright under loose paper", () => {
      expect(gate(picture, { action: "hand-over", wrap: "loose-paper", isStrapped: false }, buyerAt).state).toBe(
        "open",
      );
    });

    test("are never wrapped in plastic nor pressed face to face, however long one waits", () => {
      const plastic = gate(picture, { action: "wrap", wrap: "plastic", isStrapped: false }, buyerAt);
      const pressed = gate(picture, { action: "press-together" }, buyerAt);
      for (const found of [plastic, pressed]) {
        expect(found).toMatchObject({
          state: "shut-for-good",
          needs: [{ kind: "never", cause: "soft-under-pressure" }],
        });
        expect(found.safeAt).toBeUndefined();
      }
    });
  });
});

describe("a press test that failed", () => {
  const of = piece();
  const [left, right] = [surface("left door", of.id), surface("right door", of.id)];
  const doors = pair([left, right]);
  const subject = { of: "pair", pairId: doors.id } as const;
  const passed = handTest({ subject, kind: "paper-press", at: at("10-31 18:00 EDT"), result: "pass" });
  const failed = handTest({ subject, kind: "paper-press", at: at("11-01 10:00 EST"), result: "fail", by: helper.id });
  const laidAt = at("10-28 14:30 EDT");
  const picture = pictureOf(
    {
      piece: of,
      surfaces: [left, right],
      pairs: [doors],
      coats: [coat(left, w1, laidAt), coat(right, w1, laidAt)],
      stays: [
        stay(of.id, sprayRoom, at("10-20 08:00 EDT"), at("10-28 18:00 EDT")),
        stay(of.id, loft, at("10-28 18:00 EDT")),
      ],
      tests: [passed, failed],
    },
    weekReadings(at("11-05 00:00 EST"), trippedLoft),
  );
  const press: GateAction = { action: "press-together", pairId: doors.id };

  test("shuts what an owner's pass had opened early, and stays shut when the clock is done", () => {
    expect(gate(picture, press, at("10-31 17:59 EDT")).state).toBe("shut");
    expect(wallClock(gate({ ...picture, tests: [] }, press, at("10-31 17:59 EDT")).safeAt)).toBe("Wed 4, 01:15 EST");
    expect(gate(picture, press, at("10-31 18:00 EDT"))).toMatchObject({
      state: "open",
      evidence: "test",
      sinceAt: passed.at,
    });
    for (const asked of ["11-01 10:00 EST", "11-04 01:15 EST", "11-04 20:00 EST"]) {
      const found = gate(picture, press, at(asked));
      expect(found).toMatchObject({
        state: "shut",
        evidence: "test",
        needs: [{ kind: "test-says-no", testId: failed.id }],
      });
      expect(found.safeAt).toBeUndefined();
    }
  });

  test("is answered by the next pass: a helper's once the clock is done, not before", () => {
    const early = handTest({ subject, kind: "paper-press", at: at("11-02 10:00 EST"), result: "pass", by: helper.id });
    const late = handTest({ subject, kind: "paper-press", at: at("11-04 09:00 EST"), result: "pass", by: helper.id });
    expect(gate({ ...picture, tests: [passed, failed, early] }, press, at("11-02 11:00 EST")).state).toBe("shut");
    expect(gate({ ...picture, tests: [passed, failed, late] }, press, at("11-04 10:00 EST")).state).toBe("open");
  });
});

test("the care card of the table says full hardness about six weeks after the last coat at 20 °C at the buyer's", () => {
  const of = piece();
  const top = surface("top", of.id);
  const left = at("11-01 12:00 EST");
  const picture = pictureOf(
    {
      piece: of,
      surfaces: [top],
      coats: [coat(top, o2, at("10-29 15:00 EDT"))],
      stays: [stay(of.id, loft, at("10-20 08:00 EDT"), left), stay(of.id, outlet, left)],
    },
    tripped,
  );
  const found = gate(picture, { action: "use", how: "full" }, at("11-02 09:00 EST"));
  // by hand: 70 h at 18 °C earn 43.1 of 720 h; the other 676.9 h at 20 °C take 957.3 h, to Friday 11 December 09:18 EST
  expect(wallClock(found.safeAt)).toBe("Fri 11, 09:20 EST");
  expect(found.evidence).toBe("assumed");
  expect(
    gate(picture, { action: "wrap", wrap: "plastic", isStrapped: false }, at("11-02 09:00 EST")).safeAt,
  ).toBeUndefined();
});
