import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { roomAir } from "~/core/climate/history";
import { type HitAsked, whatWasHit } from "~/core/cure/hit";
import { oddSpans } from "~/core/cure/hit-air";
import type { Joint, Reading } from "~/core/shop/tables";
import { dayMs, hourMs, type InstantMs, minuteMs } from "~/core/units";
import { at, coat, finisher, id, loft, made, outlet, pair, pictureOf, piece, reading, stay, surface, w1 } from "./week";

const asked = at("10-28 09:00 EDT");
const from = asked - 9 * dayMs;
const g1 = made("glue", { mechanism: "glue", minimumCelsius: 10, referenceCelsius: 21, chalkCelsius: 10 });

/** The loft, read every ten minutes for nine days, the last of them cut or changed as a test wants. */
const read = (celsiusAt: (now: InstantMs) => number, isRead: (now: InstantMs) => boolean = () => true): Reading[] =>
  Array.from({ length: 9 * 144 + 1 }, (_, step) => from + step * 10 * minuteMs)
    .filter(isRead)
    .map((now) => reading(loft, now, celsiusAt(now)));

/** A dresser enamelled and a chair glued, hours before the question. */
const theLoft = (readings: readonly Reading[], paintedHoursAgo = 40, gluedHoursAgo = 14): HitAsked => {
  const of = piece();
  const [body, fronts] = [surface("body", of.id), surface("fronts", of.id)];
  const chair: Joint = {
    id: id(),
    pieceId: of.id,
    name: "Seat rails",
    sheetId: g1.sheet.id,
    roomId: loft.id,
    gluedAt: asked - gluedHoursAgo * hourMs,
    by: finisher.id,
    squeeze: "clamped",
    isStressed: false,
  };
  const paintedAt = asked - paintedHoursAgo * hourMs;
  const picture = pictureOf(
    {
      piece: of,
      surfaces: [body, fronts],
      coats: [coat(body, w1, paintedAt), coat(fronts, w1, paintedAt)],
      pairs: [pair([body, fronts])],
      joints: [chair],
      stays: [stay(of.id, loft, from)],
    },
    readings,
  );
  return {
    pictures: [
      {
        ...picture,
        sheetById: new Map([...picture.sheetById, [g1.sheet.id, g1.sheet]]),
        productById: new Map([...picture.productById, [g1.product.id, g1.product]]),
      },
    ],
    promises: [],
    roomId: loft.id,
    fromAt: asked - 8 * hourMs,
    toAt: asked,
    at: asked,
  };
};

const hourOfDay = (now: InstantMs) => Math.floor((now % dayMs) / hourMs);

describe("hours that were as the room usually is", () => {
  test("cost nothing, whatever the room is like, whatever hours are asked about", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 20, max: 300 }), { minLength: 24, maxLength: 24 }),
        fc.integer({ min: 1, max: 48 }),
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: 1, max: 60 }),
        (tenthsByHour, spanHours, paintedHoursAgo, gluedHoursAgo) => {
          // the same every day: nothing about it is out of the ordinary
          const readings = read((now) => (tenthsByHour[hourOfDay(now)] as number) / 10);
          const span = { fromAt: asked - spanHours * hourMs, toAt: asked };
          const hit = whatWasHit({ ...theLoft(readings, paintedHoursAgo, gluedHoursAgo), ...span });
          expect([hit.later, hit.jointsToLookAt, hit.promises]).toEqual([[], [], []]);
          expect(oddSpans(roomAir(readings, loft), asked)).toEqual([]);
        },
      ),
      { numRuns: 25 },
    );
  });

  test("leave a piece out that stood elsewhere, and a room that nobody knows", () => {
    const tripped = read((now) => (now >= asked - 8 * hourMs ? 8 : 18));
    const found = theLoft(tripped);
    expect(whatWasHit({ ...found, roomId: outlet.id })).toEqual({
      jointsToLookAt: [],
      later: [],
      spared: [],
      promises: [],
    });
  });
});

describe("hours that were colder", () => {
  const trip = { fromAt: asked - 8 * hourMs, toAt: asked - 3 * hourMs };
  const tripped = read((now) => (now >= trip.fromAt && now < trip.toAt ? 8 : 18));

  test("never make anything earlier, and the longer they lasted the later everything is", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 8 }), fc.integer({ min: 1, max: 4 }), (hours, more) => {
        const lost = (length: number) => {
          const cold = read((now) => (now >= asked - length * hourMs ? 8 : 18));
          const { later } = whatWasHit({ ...theLoft(cold), fromAt: asked - 12 * hourMs });
          return later.flatMap(({ delays }) => delays).find(({ milestone }) => milestone === "press-together")?.lostMin;
        };
        const [shorter, longer] = [lost(hours) ?? 0, lost(hours + more) ?? 0];
        expect(shorter).toBeGreaterThan(0);
        expect(longer).toBeGreaterThan(shorter);
      }),
      { numRuns: 12 },
    );
  });

  test("leave what was ready before them alone", () => {
    const ready = theLoft(tripped, 200, 100);
    const { later, spared } = whatWasHit({ ...ready, ...trip });
    const delayed = later.flatMap(({ delays }) => delays.map(({ milestone }) => milestone));
    expect(delayed).not.toContain("handle");
    expect(spared.some((hit) => hit.of === "joint")).toBe(true);
  });

  test("have a fresh joint looked at, and show how cold it was and when", () => {
    const { jointsToLookAt } = whatWasHit({ ...theLoft(tripped), ...trip });
    expect(jointsToLookAt).toMatchObject([
      { answer: { isSuspect: true, firstDay: { lowestCelsius: 8, lowestAt: trip.fromAt } } },
    ]);
  });
});

describe("hours of which nobody knows", () => {
  const silence = { fromAt: asked - 8 * hourMs, toAt: asked - 2 * hourMs };
  const silent = read(
    () => 18,
    (now) => now <= silence.fromAt || now >= silence.toAt,
  );

  test("cost a film what they would have earned as usual, until somebody says how cold it was", () => {
    const { later } = whatWasHit({ ...theLoft(silent), ...silence });
    const press = later.flatMap(({ delays }) => delays).find(({ milestone }) => milestone === "press-together");
    // the room goes on at 18 °C afterwards, so that six hours lost are six hours more
    expect(Math.abs((press?.lostMin ?? 0) - 360)).toBeLessThan(1);
    const lowest = reading(loft, asked - 10 * minuteMs, 18, { source: "hand", spanFromAt: silence.fromAt });
    expect(whatWasHit({ ...theLoft([...silent, lowest]), ...silence }).later).toEqual([]);
  });

  test("have a fresh joint looked at although nobody can say that it was cold", () => {
    const { jointsToLookAt } = whatWasHit({ ...theLoft(silent), ...silence });
    expect(jointsToLookAt).toMatchObject([{ answer: { isSuspect: false, isUncertain: true } }]);
  });

  test("are found by themselves, like those that fell under a limit that the room usually keeps", () => {
    expect(oddSpans(roomAir(silent, loft), asked)).toMatchObject([{ kind: "unread", toAt: silence.toAt }]);
    const brisk = read((now) => (now >= asked - 2 * hourMs ? 9.5 : 11));
    expect(oddSpans(roomAir(brisk, loft), asked)).toEqual([]);
    expect(oddSpans(roomAir(brisk, loft), asked, [10])).toMatchObject([
      { kind: "cold", fromAt: asked - 2 * hourMs, lowestCelsius: 9.5, usualCelsius: 11 },
    ]);
  });
});
