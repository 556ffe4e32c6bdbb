/** What must hold for every law by which a film may harden. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readingsSince, roomAir } from "~/core/climate/history";
import { checkpointOf } from "~/core/cure/checkpoint";
import { gate } from "~/core/cure/gate";
import type { LaidCoat } from "~/core/cure/picture";
import { roomCredit, roomReachedAt } from "~/core/cure/room-credit";
import { filmFactor } from "~/core/cure/wet-on-wet";
import { mechanisms } from "~/core/shop/entities/products";
import type { Reading } from "~/core/shop/tables";
import { hourMs, minuteMs } from "~/core/units";
import { at, coat, loft, pictureOf, piece, reading, stay, surface, w1 } from "./week";

const laidAt = at("10-20 12:00 EDT");
const steps = fc.array(
  fc.record({ celsius: fc.integer({ min: 40, max: 320 }), humidity: fc.integer({ min: 20, max: 98 }) }),
  {
    minLength: 10,
    maxLength: 40,
  },
);
const readingsOf = (walk: { celsius: number; humidity: number }[], colderBy = 0): Reading[] =>
  walk.map(({ celsius, humidity }, index) =>
    reading(loft, laidAt + index * 30 * minuteMs, (celsius - colderBy) / 10, { humidityPercent: humidity }),
  );

describe.each(mechanisms)("a film of %s by its own law", (mechanism) => {
  const sheet = { ...w1.sheet, mechanism, rateRule: "mechanism" as const };
  const reachedAt = (readings: readonly Reading[], minutes: number, track: "promise" | "likely" = "promise") => {
    const asked = { at: (readings.at(-1) as Reading).at, countsAway: false };
    return roomReachedAt(roomCredit(roomAir(readings, loft), sheet), track, laidAt, minutes, asked);
  };
  const needed = fc.integer({ min: 1, max: 1440 });

  test("is never done before its sheet's minutes have passed, however warm and dry", () => {
    fc.assert(
      fc.property(steps, needed, (walk, minutes) => {
        const found = reachedAt(readingsOf(walk), minutes) ?? Number.POSITIVE_INFINITY;
        expect(found).toBeGreaterThanOrEqual(laidAt + minutes * minuteMs - 1);
      }),
      { numRuns: 30 },
    );
  });

  test("is never done earlier in colder air of the same humidity", () => {
    fc.assert(
      fc.property(steps, needed, fc.integer({ min: 1, max: 60 }), (walk, minutes, colderBy) => {
        const warm = reachedAt(readingsOf(walk), minutes) ?? Number.POSITIVE_INFINITY;
        const cold = reachedAt(readingsOf(walk, colderBy), minutes) ?? Number.POSITIVE_INFINITY;
        expect(cold).toBeGreaterThanOrEqual(warm - 1);
      }),
      { numRuns: 30 },
    );
  });

  test("is not done earlier where more is needed, as where it was laid thicker", () => {
    fc.assert(
      fc.property(steps, needed, fc.integer({ min: 0, max: 1440 }), (walk, minutes, more) => {
        const thin = reachedAt(readingsOf(walk), minutes) ?? Number.POSITIVE_INFINITY;
        const thick = reachedAt(readingsOf(walk), minutes + more) ?? Number.POSITIVE_INFINITY;
        expect(thick).toBeGreaterThanOrEqual(thin);
      }),
      { numRuns: 30 },
    );
  });
});

describe("coats laid on one another", () => {
  const sheet = { ...w1.sheet, setToTouch: { min: 60 }, wetFilmMicrometres: 100 };
  const layingMin = 5;
  const laid = (afterMin: number) => {
    const ours = piece();
    const top = surface("top", ours.id);
    const applied = (endedAt: number) => ({
      startedAt: endedAt - layingMin * minuteMs,
      endedAt,
      by: [],
      roomId: loft.id,
      scuffedBefore: true,
    });
    const first = coat(top, w1, laidAt, { applied: applied(laidAt) }) as LaidCoat;
    const secondAt = laidAt + afterMin * minuteMs;
    const second = coat(top, w1, secondAt, { position: 2, applied: applied(secondAt) }) as LaidCoat;
    const warm = Array.from({ length: 40 }, (_, index) => reading(loft, laidAt + (index - 6) * 30 * minuteMs, 25));
    return {
      coats: [first, second],
      second,
      warm,
      picture: {
        ...pictureOf(
          { piece: ours, surfaces: [top], coats: [first, second], stays: [stay(ours.id, loft, laidAt - hourMs)] },
          warm,
        ),
        sheetById: new Map([[sheet.id, sheet]]),
        productById: new Map([[w1.product.id, w1.product]]),
      },
    };
  };

  test("wet on wet are one film of twice the thickness and take four times as long", () => {
    const { picture, second } = laid(40);
    expect(filmFactor(picture, second, laidAt + 3 * hourMs)).toBe(4);
    const found = gate(picture, { action: "move", carried: "hands" }, laidAt + 3 * hourMs);
    // by hand: a day to handle at 25 °C, times four
    expect(found.neededMin).toBe(4 * 1440);
  });

  test("once the first has set to the touch are two films, each with its sheet's time", () => {
    const { picture, second } = laid(70);
    expect(filmFactor(picture, second, laidAt + 3 * hourMs)).toBe(1);
  });

  test("are judged by a device that has no readings from then as by the server, from what that wrote down", () => {
    const carry = { action: "move", carried: "hands" } as const;
    fc.assert(
      fc.property(fc.integer({ min: 6, max: 150 }), (afterMin) => {
        const { picture, coats, second, warm } = laid(afterMin);
        const [cutAt, now] = [laidAt + 4 * hourMs, laidAt + 29 * hourMs];
        const device = {
          ...picture,
          airByRoomId: new Map([[loft.id, roomAir(readingsSince(warm, cutAt), loft)]]),
          checkpointByCoatId: new Map(coats.map((each) => [each.id, checkpointOf(picture, each, cutAt, now)])),
        };
        expect(filmFactor(device, second, now)).toBe(afterMin - layingMin < 60 ? 4 : 1);
        const [server, here] = [gate(picture, carry, now), gate(device, carry, now)];
        expect([here.state, here.neededMin]).toEqual([server.state, server.neededMin]);
        expect(here.safeCreditMin).toBeCloseTo(server.safeCreditMin as number, 6);
      }),
      { numRuns: 40 },
    );
  });
});
