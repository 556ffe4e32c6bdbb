/**
 * When a piece with coats still to go on can honestly be promised. Instants worked out by hand from the sheets' hours at
 * 25 °C, 2^((T − 25) / 10), an hour for laying a coat, and a day of 08:00 to 18:00.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { hourAhead } from "~/core/climate/forecast";
import type { ForecastHour } from "~/core/climate/forecast-hours";
import { roomAir } from "~/core/climate/history";
import { earliestHonest, roundUpToFiveMin } from "~/core/cure/next-gate";
import type { Picture } from "~/core/cure/picture";
import { broughtForward } from "~/core/cure/promise-forward";
import type { Coat, Room, Surface } from "~/core/shop/tables";
import { hourMs, minuteMs } from "~/core/units";
import {
  at,
  coat,
  everyTenMinutes,
  handTest,
  l1,
  loft,
  made,
  o1,
  pair,
  pictureOf,
  piece,
  reading,
  shellacBlocker,
  sprayAir,
  sprayRoom,
  stay,
  steadyLoft,
  surface,
  w1,
  w2,
  weekFrom,
} from "./week";

const monday10 = at("10-26 10:00 EDT");
const readings = (untilAt: number) => [
  ...everyTenMinutes(loft, weekFrom, untilAt, steadyLoft),
  ...everyTenMinutes(sprayRoom, weekFrom, untilAt, sprayAir),
];

type Made = ReturnType<typeof made>;
const planned = (on: Surface, of: Made, position: number): Coat => ({
  ...coat(on, of, monday10),
  state: "planned",
  applied: undefined,
  position,
});

/** A top in the loft with what lies on it and what is planned, read until the instant of asking. */
const aTop = (plans: Made[], { lies = [], askedAt = monday10 }: { lies?: Coat[]; askedAt?: number } = {}) => {
  const of = piece();
  const top = surface("top", of.id);
  const lying = lies.map((each) => ({ ...each, pieceId: of.id, surfaceId: top.id }));
  const coats = [...lying, ...plans.map((each, index) => planned(top, each, lying.length + index + 1))];
  const stays = [stay(of.id, loft, at("10-20 08:00 EDT"))];
  return { top, picture: pictureOf({ piece: of, surfaces: [top], coats, stays }, readings(askedAt)) };
};

const promised = (picture: Picture, sort: "photos" | "delivery", askedAt: number) => {
  const honest = earliestHonest(picture, sort, askedAt);
  if (honest.kind !== "if") throw new Error(`answered ${honest.kind}`);
  return { ...honest, shownAt: roundUpToFiveMin(honest.safeAt) };
};

describe("a table top with two coats of enamel planned", () => {
  const { picture } = aTop([w1, w1]);
  const honest = promised(picture, "photos", monday10);

  test("takes the first coat now and the second on Tuesday morning, when the day begins after its four hours", () => {
    // 11:00 and 4 h / 0.616 = 6 h 30 is 17:30: too late that day for an hour's work
    expect(honest.coats.map(({ startsAt, roomId }) => [startsAt, roomId])).toEqual([
      [monday10, loft.id],
      [at("10-27 08:00 EDT"), loft.id],
    ]);
  });

  test("can honestly be photographed 24 h of cure after the second: Thursday 00:00", () => {
    // Tue 09:00 and 24 h / 0.616 = 38 h 59
    expect(honest.shownAt).toBe(at("10-29 00:00 EDT"));
    expect(honest.heldBy).toMatchObject({ milestone: "handle", coatId: honest.plannedCoatIds[1] });
  });

  test("waits for the dry hours of a forecast", () => {
    const damp = (hour: number): ForecastHour => ({
      fromAt: monday10 + hour * hourMs,
      lowCelsius: 17,
      likelyCelsius: 18,
      likelyHumidityPercent: 75,
      highHumidityPercent: 78,
    });
    const air = roomAir([reading(loft, monday10, 17, { humidityPercent: 78 }), ...readings(monday10 - 1)], loft, {
      setAt: monday10,
      hours: Array.from({ length: 27 }, (_, hour) => damp(hour)),
    });
    const rainy = { ...picture, airByRoomId: new Map([[loft.id, air]]) };
    // damp until Tuesday 13:00, over the enamel's 70 %
    expect(promised(rainy, "photos", monday10).coats[0]?.startsAt).toBe(at("10-27 13:00 EDT"));
  });

  test("has no date while nobody has ever read the room", () => {
    const unread = { ...picture, airByRoomId: new Map([[loft.id, roomAir([], loft)]]) };
    expect(earliestHonest(unread, "photos", monday10)).toMatchObject({
      kind: "never",
      unplaced: { coatId: honest.plannedCoatIds[0], why: "room-unread" },
    });
  });

  test("has no date in a room that stays too damp for ten days", () => {
    const damp: Room = { ...loft, usualHumidityPercent: 80 };
    const rows = everyTenMinutes(damp, weekFrom, monday10, steadyLoft);
    const found = { ...picture, airByRoomId: new Map([[loft.id, roomAir(rows, damp)]]) };
    expect(earliestHonest(found, "photos", monday10)).toMatchObject({ kind: "never", unplaced: { why: "air" } });
  });
});

describe("lacquer, which needs 11.1 °C over the dew point", () => {
  test("is laid in the spray room, for the loft at 18 °C and 50 % has 10.6", () => {
    const honest = promised(aTop([l1, l1]).picture, "photos", monday10);
    expect(honest.coats.map(({ roomId }) => roomId)).toEqual([sprayRoom.id, sprayRoom.id]);
    // 11:00 and 0.75 h / 0.616 = 1 h 13 min in the loft between the coats
    expect(Math.ceil((honest.coats[1]?.startsAt as number) / minuteMs)).toBe(at("10-26 12:14 EDT") / minuteMs);
  });

  test("is never promised pressed together, however long it waits", () => {
    const of = piece();
    const [front, body] = [surface("front", of.id), surface("body", of.id)];
    const coats = [planned(front, l1, 1), planned(body, l1, 1)];
    const stays = [stay(of.id, loft, at("10-20 08:00 EDT"))];
    const picture = pictureOf(
      { piece: of, surfaces: [front, body], pairs: [pair([front, body])], coats, stays },
      readings(monday10),
    );
    expect(earliestHonest(picture, "delivery", monday10)).toMatchObject({
      kind: "never",
      needs: expect.arrayContaining([expect.objectContaining({ kind: "never", cause: "soft-under-pressure" })]),
    });
  });
});

describe("what brings a date forward", () => {
  test("is a barrier of shellac, where the clear coat would else wait 72 h for the oil colour", () => {
    const thursday10 = at("10-29 10:00 EDT");
    const oil = coat(surface("", ""), o1, monday10);
    // a shellac whose own sheet allows it over an oil colour that has dried
    const shellac = made("shellac", {
      mechanism: "solvent",
      minimumCelsius: 10,
      dewSpreadCelsius: 11.1,
      recoatOpens: { min: 60 },
      over: [{ underFamily: "oil-stain", isNever: false }],
    });
    const { picture: found } = aTop([w2], { lies: [oil], askedAt: thursday10 });
    const picture: Picture = {
      ...found,
      sheetById: new Map([...found.sheetById, [shellac.sheet.id, shellac.sheet]]),
      productById: new Map([...found.productById, [shellac.product.id, shellac.product]]),
    };
    // 72 h / 0.616 = 116 h 58 from Monday 10:00 is Saturday 06:58; the day begins at 08:00
    expect(promised(picture, "photos", thursday10).coats[0]?.startsAt).toBe(at("10-31 08:00 EDT"));
    const barrier = broughtForward(picture, "photos", thursday10).find(({ kind }) => kind === "barrier");
    expect(barrier).toMatchObject({ kind: "barrier", sheetId: shellac.sheet.id });
    // shellac now, done at 11:00; 1 h / 0.616 = 1 h 37; clear at 12:37 instead of Saturday 08:00: 43 h 22
    expect(barrier?.gainedMin).toBe(43 * 60 + 22);
  });

  test("is a thumb test, where one coat lies and only time is missing", () => {
    const askedAt = at("10-26 16:00 EDT");
    const lies = [coat(surface("", ""), w1, monday10)];
    const { picture, top } = aTop([], { lies, askedAt });
    const [found] = broughtForward(picture, "photos", askedAt);
    expect(found).toMatchObject({
      kind: "hand-test",
      testKind: "thumb-twist",
      milestone: "handle",
      surfaceIds: [top.id],
      safeAt: askedAt,
    });
    const tested = handTest({
      subject: { of: "surface", surfaceId: top.id },
      kind: "thumb-twist",
      at: askedAt,
      result: "pass",
    });
    expect(earliestHonest({ ...picture, tests: [tested] }, "photos", askedAt)).toMatchObject({ safeAt: askedAt });
  });

  test("is a warmer room that the shop has, once the film may be carried there", () => {
    const attic: Room = { ...loft, id: "attic", name: "Attic" };
    const asked = at("10-27 08:00 EDT");
    const lies = [coat(surface("", ""), w1, monday10)];
    const { picture } = aTop([], { lies, askedAt: asked });
    const warm = everyTenMinutes(attic, weekFrom, asked, () => 25).map((row) => ({ ...row, roomId: attic.id }));
    const withAttic: Picture = {
      ...picture,
      roomById: new Map([...picture.roomById, [attic.id, attic]]),
      airByRoomId: new Map([...picture.airByRoomId, [attic.id, roomAir(warm, attic)]]),
    };
    const found = broughtForward(withAttic, "photos", asked).find(({ kind }) => kind === "warmer-room");
    expect(found).toMatchObject({ roomId: attic.id });
    // earned 22 h · 0.616 = 13.54 of 24 h; left 10.46 h, at 18 °C 16 h 59, at 25 °C 10 h 27: gained 6 h 31
    expect(found?.gainedMin).toBe(6 * 60 + 31);
    const wet = broughtForward(withAttic, "photos", monday10 + 5 * minuteMs);
    expect(wet.some(({ kind }) => kind === "warmer-room")).toBe(false);
  });

  test("is nothing where the piece may go now", () => {
    const { picture } = aTop([]);
    expect(broughtForward(picture, "photos", monday10)).toEqual([]);
  });
});

test("one more coat never brings a date forward, and every coat is laid by day in air that its sheet allows", () => {
  const products = [w1, w2, l1, shellacBlocker];
  const base = aTop([]);
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom(...products), { minLength: 1, maxLength: 4 }),
      fc.integer({ min: 0, max: 60 }),
      (plans, hours) => {
        const askedAt = monday10 + hours * hourMs;
        const coats = plans.map((each, index) => planned(base.top, each, index + 1));
        const picture = { ...base.picture, coats };
        const whole = earliestHonest(picture, "photos", askedAt);
        const fewer = { ...picture, coats: coats.slice(0, -1) };
        const before = earliestHonest(fewer, "photos", askedAt);
        if (whole.kind !== "if") return;
        expect(whole.safeAt).toBeGreaterThanOrEqual(before.safeAt ?? Number.POSITIVE_INFINITY);
        for (const { coatId, roomId, startsAt } of whole.coats) {
          const sheetId = picture.coats.find(({ id }) => id === coatId)?.sheetId ?? "";
          const sheet = picture.sheetById.get(sheetId);
          const air = picture.airByRoomId.get(roomId);
          const hour = air && hourAhead(air, startsAt);
          expect(startsAt).toBeGreaterThanOrEqual(askedAt);
          // the week is at UTC−4 until Sunday, and nothing here takes that long
          const clockHour = (startsAt / hourMs - 4) % 24;
          expect(clockHour).toBeGreaterThanOrEqual(8);
          expect(clockHour).toBeLessThanOrEqual(17);
          expect(hour?.lowCelsius).toBeGreaterThanOrEqual(sheet?.minimumCelsius as number);
        }
      },
    ),
    { numRuns: 60 },
  );
});
