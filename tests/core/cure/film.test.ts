import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readingsSince, roomAir } from "~/core/climate/history";
import { checkpointOf } from "~/core/cure/checkpoint";
import { filmShape } from "~/core/cure/film-shape";
import { gate, recoatFilmGate } from "~/core/cure/gate";
import { neededTime } from "~/core/cure/needed-time";
import type { LaidCoat, Picture } from "~/core/cure/picture";
import { creditMin, filmOf } from "~/core/cure/progress";
import { thickFactor } from "~/core/cure/wet-on-wet";
import type { Reading } from "~/core/shop/tables";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  at,
  coat,
  everyTenMinutes,
  l1,
  loft,
  made,
  o2,
  outlet,
  pictureOf,
  piece,
  reading,
  shellacBlocker,
  stay,
  surface,
  w1,
} from "./week";

const laidAt = at("10-20 12:00 EDT");

/** One enamelled surface that has stood in the loft since. */
const enamelled = (readings: readonly Reading[], of = w1, more: Partial<Picture> = {}) => {
  const ours = piece();
  const top = surface("top", ours.id);
  const laid = coat(top, of, laidAt) as LaidCoat;
  const picture = pictureOf(
    { piece: ours, surfaces: [top], coats: [laid], stays: [stay(ours.id, loft, laidAt - dayMs)], ...more },
    readings,
  );
  return { top, laid, picture };
};
const constant = (celsius: number, days: number) =>
  everyTenMinutes(loft, laidAt - 7 * dayMs, laidAt + days * dayMs, () => celsius);

describe("published cases", () => {
  test("doors a day after their last coat at 20 °C have earned 17 of 168 hours and need some 214 more", () => {
    // source: a home-improvement forum's sticky cabinet; temperature and sheet hours filled in
    const slow = made("water-borne-paint", {
      mechanism: "water-borne",
      minimumCelsius: 10,
      pressTogether: { min: 168 * 60 },
    });
    const base = enamelled(constant(20, 1), w1);
    const picture = {
      ...base.picture,
      coats: [{ ...base.laid, sheetId: slow.sheet.id }],
      sheetById: new Map([[slow.sheet.id, slow.sheet]]),
      productById: new Map([[slow.product.id, slow.product]]),
    };
    const found = gate(picture, { action: "press-together" }, laidAt + dayMs);
    expect(Math.abs((found.safeCreditMin as number) / 60 - 17)).toBeLessThan(0.5);
    expect(Math.abs(((found.safeAt as number) - laidAt) / hourMs - 24 - 213.6)).toBeLessThan(0.5);
  });

  test("a three-hour recoat takes 4.95 hours in a basement of 17.8 °C", () => {
    // source: a woodworking forum's wipe-on finish at 64 °F with a label for 77 °F
    const clear = made("water-borne-clear", {
      mechanism: "water-borne",
      minimumCelsius: 10,
      recoatOpens: { min: 180 },
    });
    const base = enamelled(constant(17.8, 1));
    const picture = {
      ...base.picture,
      coats: [{ ...base.laid, sheetId: clear.sheet.id }],
      sheetById: new Map([[clear.sheet.id, clear.sheet]]),
      productById: new Map([[clear.product.id, clear.product]]),
    };
    const found = recoatFilmGate(
      picture,
      { action: "recoat", surfaceId: base.top.id, sheetId: clear.sheet.id },
      laidAt + 2 * hourMs,
    );
    expect((found.safeCreditMin as number) / 60).toBeCloseTo(1.21, 1);
    expect(((found.safeAt as number) - laidAt) / hourMs).toBeCloseTo(4.95, 1);
  });

  test("a coating that closes after 10 hours and reopens after 36 is shut the morning after, until hour 36", () => {
    // source: a finishing forum's wrinkled conversion varnish; window hours filled in, in New York in March 2026
    const laid = at("03-03 16:30 EST");
    const varnish = made("two-component", {
      mechanism: "reactive",
      minimumCelsius: 15,
      recoatOpens: { min: 60 },
      recoatClosesMin: 600,
      recoatReopensMin: 2160,
    });
    const ours = piece();
    const top = surface("top", ours.id);
    const warm = everyTenMinutes(loft, laid - 7 * dayMs, laid + 2 * dayMs, () => 25);
    const picture = {
      ...pictureOf(
        { piece: ours, surfaces: [top], coats: [coat(top, varnish, laid)], stays: [stay(ours.id, loft, laid - dayMs)] },
        warm,
      ),
      sheetById: new Map([[varnish.sheet.id, varnish.sheet]]),
      productById: new Map([[varnish.product.id, varnish.product]]),
    };
    const asked = { action: "recoat", surfaceId: top.id, sheetId: varnish.sheet.id } as const;
    const morning = recoatFilmGate(picture, asked, at("03-04 08:30 EST"));
    expect(morning.state).toBe("shut");
    expect(morning.needs).toContainEqual({
      kind: "window-shut",
      closedAt: at("03-04 02:30 EST"),
      reopensAt: at("03-05 04:30 EST"),
      needsScuff: true,
      needsTestPanel: true,
    });
    expect(recoatFilmGate(picture, asked, at("03-04 02:29 EST")).state).toBe("open");
    const later = at("03-05 04:30 EST");
    expect(recoatFilmGate(picture, { ...asked, scuffedBefore: false }, later).state).toBe("shut");
    const again = recoatFilmGate(picture, { ...asked, scuffedBefore: true }, later);
    expect([again.state, again.needs]).toEqual(["open", [{ kind: "test-panel" }]]);
  });

  test("a twelve-hour gate from Saturday 20:00 opens at 07:00 on the Sunday that repeats an hour", () => {
    // source: payroll advice on the night of the clock change; durations run on instants
    const from = at("10-31 20:00 EDT");
    const paint = made("water-borne-paint", { mechanism: "water-borne", minimumCelsius: 10, handle: { min: 720 } });
    const ours = piece();
    const top = surface("top", ours.id);
    const picture = {
      ...pictureOf(
        { piece: ours, surfaces: [top], coats: [coat(top, paint, from)], stays: [stay(ours.id, loft, from)] },
        everyTenMinutes(loft, from - 7 * dayMs, from, () => 25),
      ),
      sheetById: new Map([[paint.sheet.id, paint.sheet]]),
      productById: new Map([[paint.product.id, paint.product]]),
    };
    expect(gate(picture, { action: "move", carried: "hands" }, from).safeAt).toBe(at("11-01 07:00 EST"));
  });
});

describe("what a sheet leaves out", () => {
  test("is the generic type's time on the sheet's own clock: a day at 23 °C is 20.9 hours at 25 °C", () => {
    // by hand: 24 h · 2^(−0.2) = 20.89 h
    const time = neededTime(shellacBlocker.sheet, "shellac-blocker", { milestone: "handle" }, true);
    expect(time !== "never" && time.min / 60).toBeCloseTo(20.89, 2);
  });

  test("is never later than a stronger milestone that it states", () => {
    const time = neededTime({ ...l1.sheet, recoatOpens: { min: 10 } }, "lacquer", { milestone: "tack-free" }, true);
    expect(time).toMatchObject({ min: 10 });
  });

  test("shuts lacquer faces for good only where they lie on top", () => {
    expect(neededTime(l1.sheet, "lacquer", { milestone: "press-together" }, true)).toBe("never");
    expect(neededTime(l1.sheet, "lacquer", { milestone: "press-together" }, false)).not.toBe("never");
  });

  test("a film laid twice as thick as its sheet says takes four times as long, a thin one no less", () => {
    expect([
      thickFactor({ wetFilmMicrometres: 100 }, 200),
      thickFactor({ wetFilmMicrometres: 100 }, 50),
      thickFactor({}, 200),
    ]).toEqual([4, 1, 1]);
  });
});

describe("rooms that nobody reads", () => {
  test("open nothing but use, and say so", () => {
    const readings = constant(18, 1);
    const { picture, laid } = enamelled(readings);
    const gone = {
      ...picture,
      stays: [stay(laid.pieceId, loft, laidAt - dayMs, laidAt), stay(laid.pieceId, outlet, laidAt)],
    };
    const later = laidAt + 60 * dayMs;
    expect(gate(gone, { action: "move", carried: "hands" }, later).state).toBe("shut");
    expect(gate(gone, { action: "use", how: "full" }, later)).toMatchObject({ state: "open", evidence: "assumed" });
  });

  test("a room that was never read has no safe date, but a likely one", () => {
    const found = gate(enamelled([]).picture, { action: "move", carried: "hands" }, laidAt + hourMs);
    expect([found.state, found.safeAt]).toEqual(["shut", undefined]);
    // by hand: 24 h / 2^(−0.7) = 38.99 h at the loft's usual 18 °C
    expect(((found.likelyAt as number) - laidAt) / hourMs).toBeCloseTo(38.99, 2);
    expect(found.needs[0]).toEqual({ kind: "reading", roomId: loft.id, gapLimitMin: 180, mayOpenNow: false });
  });
});

test("oil that was to be wiped off shuts the next coat until it is", () => {
  const oil = made("oil-wax", {
    mechanism: "oxidative",
    minimumCelsius: 10,
    recoatOpens: { min: 480 },
    wipeFromMin: 15,
    wipeLatestMin: 20,
  });
  const base = enamelled(constant(25, 2));
  const picture = {
    ...base.picture,
    coats: [{ ...base.laid, sheetId: oil.sheet.id }],
    sheetById: new Map([[oil.sheet.id, oil.sheet]]),
    productById: new Map([[oil.product.id, oil.product]]),
  };
  const asked = { action: "recoat", surfaceId: base.top.id, sheetId: oil.sheet.id } as const;
  const found = recoatFilmGate(picture, asked, laidAt + dayMs);
  expect(found.state).toBe("shut");
  expect(found.needs[0]).toMatchObject({
    kind: "wipe",
    wipeFromAt: laidAt + 15 * minuteMs,
    wipeLatestAt: laidAt + 20 * minuteMs,
  });
  const wiped = {
    ...picture,
    coats: picture.coats.map((laid) => ({ ...laid, wiped: { at: laidAt + 16 * minuteMs, by: "" } })),
  };
  expect(recoatFilmGate(wiped, asked, laidAt + dayMs).state).toBe("open");
});

test("the film gauge shows a tripped heater as lost, a silent logger as unknown, and the milestones passed", () => {
  const cold = laidAt + 10 * hourMs;
  const silent = laidAt + 20 * hourMs;
  const rows = everyTenMinutes(loft, laidAt - dayMs, laidAt + 60 * hourMs, (when) =>
    when >= cold && when < cold + 5 * hourMs ? 8 : 18,
  );
  const kept = rows.filter((row) => row.at <= silent || row.at >= silent + 6 * hourMs);
  const { picture, top } = enamelled(kept);
  const shape = filmShape(picture, top.id, { action: "move", carried: "hands" }, laidAt + 59 * hourMs);
  // the last reading before the step is a minute older: 10 °C, the sheet's minimum, is passed within it
  const rounded = shape?.spans.map((span) => [
    Math.round((span.fromAt - laidAt) / hourMs),
    Math.round((span.toAt - laidAt) / hourMs),
    span.kind,
  ]);
  expect(rounded).toEqual([
    [0, 10, "earned"],
    [10, 15, "lost"],
    [15, 20, "earned"],
    [20, 26, "unknown"],
    [26, 59, "earned"],
  ]);
  expect(shape?.passed.map(({ milestone }) => milestone)).toEqual([
    "set-to-touch",
    "tack-free",
    "recoat-opens",
    "handle",
    "light-use",
  ]);
});

describe("always", () => {
  /** A week before the coat and up to four days after, a reading every 10 to 500 minutes, from −5 to 40 °C. */
  const history = fc
    .array(fc.record({ stepMin: fc.integer({ min: 10, max: 500 }), celsius: fc.integer({ min: -5, max: 40 }) }), {
      minLength: 3,
      maxLength: 60,
    })
    .map((steps) => {
      let when = laidAt - dayMs;
      return steps.map(({ stepMin, celsius }) => {
        when += stepMin * minuteMs;
        return reading(loft, when, celsius);
      });
    });
  const later = fc.integer({ min: 0, max: 6 * 24 * 60 }).map((minutes) => laidAt + minutes * minuteMs);
  const tracks = ["safe", "likely", "fast"] as const;

  test("credit is the same however the time is cut, and never runs backwards", () => {
    fc.assert(
      fc.property(history, later, later, (rows, one, other) => {
        const [early, late] = [Math.min(one, other), Math.max(one, other)];
        const { picture, laid } = enamelled(rows);
        const asked = laidAt + 6 * dayMs;
        const cut = { ...picture, checkpointByCoatId: new Map([[laid.id, checkpointOf(picture, laid, early, asked)]]) };
        for (const track of tracks) {
          const whole = creditMin(filmOf(picture, laid, asked), track, late);
          expect(creditMin(filmOf(cut, laid, asked), track, late)).toBeCloseTo(whole, 6);
          expect(whole).toBeGreaterThanOrEqual(creditMin(filmOf(picture, laid, asked), track, early) - 1e-6);
        }
      }),
    );
  });

  test("safe credit is at most likely, likely at most real time, and the fast clock at least real time", () => {
    fc.assert(
      fc.property(history, later, (rows, now) => {
        const { picture, laid } = enamelled(rows);
        const [safe, likely, fast] = tracks.map((track) => creditMin(filmOf(picture, laid, now), track, now)) as [
          number,
          number,
          number,
        ];
        const realMin = (now - laidAt) / minuteMs;
        expect(safe).toBeLessThanOrEqual(likely + 1e-6);
        expect(likely).toBeLessThanOrEqual(realMin + 1e-6);
        expect(fast).toBeGreaterThanOrEqual(realMin - 1e-6);
      }),
    );
  });

  test("more cold never opens a gate earlier", () => {
    fc.assert(
      fc.property(history, later, fc.nat(), fc.integer({ min: 1, max: 20 }), (rows, now, which, colder) => {
        const index = which % rows.length;
        const chilled = rows.map((row, place) =>
          place === index ? { ...row, airCelsius: row.airCelsius - colder } : row,
        );
        const credit = (of: Reading[]) => {
          const { picture, laid } = enamelled(of);
          return creditMin(filmOf(picture, laid, now), "safe", now);
        };
        expect(credit(chilled)).toBeLessThanOrEqual(credit(rows) + 1e-6);
      }),
    );
  });

  test("a later reading never takes away what the readings before it had earned", () => {
    fc.assert(
      fc.property(
        history,
        fc.integer({ min: 1, max: 900 }),
        fc.integer({ min: -5, max: 40 }),
        (rows, stepMin, celsius) => {
          const last = rows.at(-1) as Reading;
          const more = [...rows, reading(loft, last.at + stepMin * minuteMs, celsius)];
          const asked = last.at + 900 * minuteMs;
          const earned = (of: Reading[]) => {
            const { picture, laid } = enamelled(of);
            return creditMin(filmOf(picture, laid, asked), "safe", last.at);
          };
          expect(earned(more)).toBeCloseTo(earned(rows), 6);
        },
      ),
    );
  });

  test("waiting until the safe date with readings no colder than foretold opens the gate, and not a minute of waiting is lost", () => {
    fc.assert(
      fc.property(history, fc.integer({ min: 0, max: 400 }), (rows, staleMin) => {
        const now = Math.max(laidAt, (rows.at(-1) as Reading).at) + staleMin * minuteMs;
        const asked = { action: "move", carried: "hands" } as const;
        const { picture } = enamelled(rows);
        const found = gate(picture, asked, now);
        if (found.state === "open" || found.safeAt === undefined) return;
        const since: Reading[] = [];
        for (let when = now; when <= found.safeAt; when += 60 * minuteMs) since.push(reading(loft, when, 40));
        const waited = { ...picture, airByRoomId: new Map([[loft.id, roomAir([...rows, ...since], loft)]]) };
        expect(gate(waited, asked, found.safeAt).state).toBe("open");
        expect(gate(picture, asked, now).state).toBe("shut");
      }),
      { numRuns: 60 },
    );
  });

  test("a device with fourteen days of readings and a checkpoint answers like the server", () => {
    const threeWeeks = fc.array(
      fc.record({ stepMin: fc.integer({ min: 10, max: 500 }), celsius: fc.integer({ min: -5, max: 40 }) }),
      { minLength: 40, maxLength: 140 },
    );
    const actions = fc.constantFrom(
      { action: "press-together" } as const,
      { action: "use", how: "full" } as const,
      { action: "move", carried: "hands" } as const,
    );
    fc.assert(
      fc.property(threeWeeks, later, actions, (steps, cutAt, asked) => {
        let when = laidAt - dayMs;
        const rows = steps.map(({ stepMin, celsius }) => {
          when += stepMin * minuteMs;
          return reading(loft, when, celsius);
        });
        const now = cutAt + 14 * dayMs;
        const { picture, laid } = enamelled(rows, o2);
        const device = {
          ...picture,
          airByRoomId: new Map([[loft.id, roomAir(readingsSince(rows, cutAt), loft)]]),
          checkpointByCoatId: new Map([[laid.id, checkpointOf(picture, laid, cutAt, now)]]),
        };
        const [server, found] = [gate(picture, asked, now), gate(device, asked, now)];
        expect([found.state, found.evidence]).toEqual([server.state, server.evidence]);
        expect(found.safeCreditMin).toBeCloseTo(server.safeCreditMin as number, 6);
        if (server.state === "shut")
          expect(Math.abs((found.safeAt ?? 0) - (server.safeAt ?? 0))).toBeLessThanOrEqual(1);
      }),
    );
  });
});
