import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { roomAir } from "~/core/climate/history";
import { gate } from "~/core/cure/gate";
import { jointAnswer, jointVerdict, roundUpToMinute } from "~/core/cure/joint";
import { gluePlace } from "~/core/cure/joint-place";
import type { Picture } from "~/core/cure/picture";
import type { Joint, Reading, Sheet } from "~/core/shop/tables";
import { hourMs, type InstantMs, minuteMs } from "~/core/units";
import { at, finisher, helper, id, loft, made, outlet, pictureOf, piece, reading, sprayRoom, stay } from "./week";

const glued = at("10-26 12:00 EDT");
/** A made-up bottle: an hour in clamps and a day to full strength at 70 °F, chalk below 10 °C. */
const bottle = (sheet: Partial<Sheet> = {}) =>
  made("glue", {
    mechanism: "glue",
    minimumCelsius: 10,
    referenceCelsius: 21,
    clampMin: 60,
    fullStrengthMin: 24 * 60,
    chalkCelsius: 10,
    ...sheet,
  });

/** The loft, read every ten minutes from a day before to four days after. */
const read = (celsiusAt: (now: InstantMs) => number, isRead: (now: InstantMs) => boolean = () => true): Reading[] =>
  Array.from({ length: 5 * 144 }, (_, step) => glued - 24 * hourMs + step * 10 * minuteMs)
    .filter(isRead)
    .map((now) => reading(loft, now, celsiusAt(now)));

type Asked = { sheet?: Partial<Sheet>; joint?: Partial<Joint>; readings?: Reading[]; shop?: Partial<Picture["shop"]> };
const chair = ({ sheet, joint, readings = read(() => 18), shop }: Asked = {}) => {
  const of = piece();
  const glue = bottle(sheet);
  const seat: Joint = {
    id: id(),
    pieceId: of.id,
    name: "Seat rails",
    sheetId: glue.sheet.id,
    roomId: loft.id,
    gluedAt: glued,
    by: finisher.id,
    squeeze: "clamped",
    isStressed: false,
    ...joint,
  };
  const plain = pictureOf(
    { piece: of, surfaces: [], coats: [], stays: [stay(of.id, loft, at("10-20 08:00 EDT"))], joints: [seat] },
    readings,
  );
  const picture: Picture = {
    ...plain,
    shop: { ...plain.shop, ...shop },
    sheetById: new Map([[glue.sheet.id, glue.sheet]]),
    productById: new Map([[glue.product.id, glue.product]]),
  };
  return { picture, seat, at: (when: InstantMs) => jointAnswer(picture, seat, when) };
};
const afterMin = (instant: InstantMs | undefined) => ((instant ?? Number.NaN) - glued) / minuteMs;

describe("an hour in clamps and a day to full strength at 70 °F", () => {
  // Common practice: twice as long for every 15 °F below 70 °F, and no quicker above. 12.8 °C is 55 °F, 21.1 °C is 70 °F.
  test.each([
    { celsius: 12.8, clampHours: 2, fullHours: 48, why: "55 °F: 2^((70 − 55) / 15) is 2" },
    { celsius: 21.2, clampHours: 1, fullHours: 24, why: "just over 70 °F" },
    { celsius: 28, clampHours: 1, fullHours: 24, why: "warmth does not hurry glue" },
  ])("are $clampHours h and $fullHours h at $celsius °C ($why)", ({ celsius, clampHours, fullHours }) => {
    const { clampOff, fullStrength } = chair({ readings: read(() => celsius) }).at(glued + 72 * hourMs);
    expect(Math.abs(afterMin(clampOff.safeAt) / (clampHours * 60) - 1)).toBeLessThan(0.005);
    expect(Math.abs(afterMin(fullStrength.safeAt) / (fullHours * 60) - 1)).toBeLessThan(0.005);
  });

  test("are never reached below the chalk point: no hour there counts", () => {
    const { clampOff, fullStrength } = chair({ readings: read(() => 9.9) }).at(glued + 72 * hourMs);
    expect([clampOff, fullStrength]).toMatchObject([
      { isReached: false, safeCreditMin: 0 },
      { isReached: false, safeCreditMin: 0 },
    ]);
    expect([clampOff.safeAt, fullStrength.safeAt]).toEqual([undefined, undefined]);
  });

  test("are the trade's figures for a bottle whose sheet says nothing", () => {
    const silent = { clampMin: undefined, fullStrengthMin: undefined };
    const { clampOff, fullStrength } = chair({ sheet: silent, readings: read(() => 22) }).at(glued + 72 * hourMs);
    // PVA: an hour in clamps, 24 h to full strength; common practice
    expect([afterMin(clampOff.safeAt), afterMin(fullStrength.safeAt)]).toEqual([60, 24 * 60]);
  });

  test("leave a joint under stress in its clamps for as long as the shop says, if that is longer", () => {
    const overnight = { shop: { stressedClampMin: 12 * 60 }, readings: read(() => 22) };
    const clampMin = (isStressed: boolean, more: Asked = overnight) =>
      afterMin(chair({ ...more, joint: { isStressed } }).at(glued + 72 * hourMs).clampOff.safeAt);
    expect([clampMin(false), clampMin(true)]).toEqual([60, 12 * 60]);
    expect(clampMin(true, { ...overnight, shop: { stressedClampMin: 30 } })).toBe(60);
  });

  test("are shown to the next whole minute, never earlier", () => {
    const instant = at("10-26 22:02 EDT");
    expect([instant, instant + 1, instant + 59_999].map(roundUpToMinute)).toEqual([
      instant,
      instant + minuteMs,
      instant + minuteMs,
    ]);
  });

  test("run in the room where it was glued until the piece is carried, and then where it stands", () => {
    const { picture, seat } = chair({ joint: { roomId: sprayRoom.id } });
    const warm = Array.from({ length: 720 }, (_, step) =>
      reading(sprayRoom, glued - 24 * hourMs + step * 10 * minuteMs, 22),
    );
    const airByRoomId = new Map([...picture.airByRoomId, [sprayRoom.id, roomAir(warm, sprayRoom)]]);
    const asked = glued + 48 * hourMs;
    expect(afterMin(jointAnswer({ ...picture, airByRoomId }, seat, asked).clampOff.safeAt)).toBe(60);
    const carried = [...picture.stays, stay(seat.pieceId, loft, glued + 30 * minuteMs)];
    const moved = jointAnswer({ ...picture, airByRoomId, stays: carried }, seat, asked).clampOff.safeAt;
    // 18 °C is 64.4 °F: the other half hour takes 30 × 2^(5.6 / 15) = 38.86 min
    expect(afterMin(moved)).toBeCloseTo(30 + 30 * 2 ** (5.6 / 15), 3);
  });
});

describe("glue whose line turns to chalk below 10 °C", () => {
  const dipping = (minutes: number, afterHours: number) => {
    const from = glued + afterHours * hourMs;
    return read((now) => (now >= from && now < from + minutes * minuteMs ? 8 : 18));
  };

  // between two readings the air runs straight: from 18 to 8 °C it passes 10 °C two minutes before the end of ten
  test.each([
    { minutes: 20, afterHours: 3, belowMin: 2 + 10 + 2, isSuspect: false },
    { minutes: 40, afterHours: 3, belowMin: 2 + 30 + 2, isSuspect: true },
    { minutes: 300, afterHours: 20, belowMin: 2 + 240, isSuspect: true },
    { minutes: 300, afterHours: 25, belowMin: 0, isSuspect: false },
  ])(
    "makes a joint suspect only after half an hour in its first day: $minutes min of 8 °C after $afterHours h",
    (found) => {
      const { isSuspect, firstDay } = chair({ readings: dipping(found.minutes, found.afterHours) }).at(
        glued + 60 * hourMs,
      );
      expect(isSuspect).toBe(found.isSuspect);
      expect(firstDay.belowChalkMin).toBeCloseTo(found.belowMin, 6);
    },
  );

  test("counts short colds together, and the shop says how much it bears", () => {
    const twice = read((now) => {
      const hours = (now - glued) / hourMs;
      return (hours >= 3 && hours < 3.4) || (hours >= 6 && hours < 6.4) ? 8 : 18;
    });
    expect(chair({ readings: twice }).at(glued + 10 * hourMs).isSuspect).toBe(true);
    expect(chair({ readings: twice, shop: { chalkGraceMin: 60 } }).at(glued + 10 * hourMs).isSuspect).toBe(false);
  });

  test("is looked at, not suspected, where nobody knows how cold it was", () => {
    const silent = read(
      () => 18,
      (now) => now <= glued + 2 * hourMs || now >= glued + 9 * hourMs,
    );
    const found = chair({ readings: silent }).at(glued + 12 * hourMs);
    expect(found).toMatchObject({ isSuspect: false, isUncertain: true, firstDay: { unknownMin: 7 * 60 } });
  });

  test("knows only what had happened by then: before the cold it is not suspect", () => {
    const { at: answer } = chair({ readings: dipping(120, 6) });
    expect(answer(glued + 5 * hourMs).isSuspect).toBe(false);
    expect(answer(glued + 9 * hourMs)).toMatchObject({ isSuspect: true, firstDay: { lowestCelsius: 8 } });
  });

  test("is believed sound by a partner's pull after the cold, and not by one from before it", () => {
    const pulled = (hours: number, by = finisher.id) => ({
      joint: { verdict: { result: "sound" as const, at: glued + hours * hourMs, by, testId: id() } },
      readings: dipping(120, 6),
    });
    expect(chair(pulled(10)).at(glued + 12 * hourMs)).toMatchObject({ isSuspect: false, isSound: true });
    expect(chair(pulled(5)).at(glued + 12 * hourMs)).toMatchObject({ isSuspect: true, isSound: false });
    const helpers = chair(pulled(10, helper.id));
    expect(helpers.at(glued + 12 * hourMs).isSuspect).toBe(true);
    const testId = helpers.seat.verdict?.testId ?? "";
    const yes = { id: id(), pieceId: helpers.seat.pieceId, testId, by: finisher.id, at: glued + 11 * hourMs };
    const confirmed = { ...helpers.picture, confirmations: [yes] };
    expect(jointAnswer(confirmed, helpers.seat, glued + 12 * hourMs).isSuspect).toBe(false);
  });

  test("gains nothing by a colder room: no reading that is lower brings a joint out of its clamps sooner", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 60, max: 260 }), { minLength: 12, maxLength: 12 }),
        fc.nat({ max: 11 }),
        fc.integer({ min: 1, max: 100 }),
        (tenths, which, colderTenths) => {
          const celsiusAt = (values: readonly number[]) => (now: InstantMs) =>
            (values[((Math.floor((now - glued) / (4 * hourMs)) % 12) + 12) % 12] as number) / 10;
          const colder = tenths.map((value, index) => (index === which ? value - colderTenths : value));
          const asked = glued + 71 * hourMs;
          const [first, second] = [tenths, colder].map((values) =>
            chair({ readings: read(celsiusAt(values)) }).at(asked),
          );
          expect(second?.fullStrength.safeCreditMin).toBeLessThanOrEqual(
            (first?.fullStrength.safeCreditMin ?? 0) + 1e-6,
          );
          expect(second?.firstDay.belowChalkMin).toBeGreaterThanOrEqual((first?.firstDay.belowChalkMin ?? 0) - 1e-6);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe("a piece with a joint at 18 °C", () => {
  const { picture } = chair();
  const state = (asked: Parameters<typeof gate>[1], hours: number) =>
    gate(picture, asked, glued + hours * hourMs).state;
  const strapped = { action: "hand-over", wrap: "loose-blanket", isStrapped: false } as const;

  test("may be carried on bearers in its clamps, by hand once they may come off", () => {
    expect(state({ action: "move", carried: "bearers" }, 0.5)).toBe("open");
    expect([state({ action: "move", carried: "hands" }, 1), state({ action: "move", carried: "hands" }, 1.4)]).toEqual([
      "shut",
      "open",
    ]);
  });

  test("is strapped and handed over at full strength, and says which joint it waits for and until when", () => {
    const wrap = { action: "wrap", wrap: "snug-blanket", isStrapped: true } as const;
    expect([state(wrap, 31), state(strapped, 31), state(wrap, 31.2), state(strapped, 31.2)]).toEqual([
      "shut",
      "shut",
      "open",
      "open",
    ]);
    expect(state({ action: "wrap", wrap: "loose-blanket", isStrapped: false }, 1)).toBe("open");
    expect(gate(picture, strapped, glued + 2 * hourMs)).toMatchObject({
      state: "shut",
      neededMin: 1440,
      needs: [{ kind: "joint", state: "not-at-full-strength" }],
    });
  });

  test("is not handed over while one of its joints is suspect, however long one waits", () => {
    const cold = chair({ readings: read((now) => (now >= glued + 3 * hourMs && now < glued + 8 * hourMs ? 8 : 18)) });
    const found = gate(cold.picture, strapped, glued + 70 * hourMs);
    expect(found).toMatchObject({ state: "shut", needs: [{ kind: "joint", state: "suspect", lowestCelsius: 8 }] });
    expect(found.safeAt).toBeUndefined();
  });
});

describe("a hand test of a joint", () => {
  const tried = (kind: "pull-or-tap" | "chalk-look", result: "pass" | "fail" | "unclear", hours = 24) => ({
    id: id(),
    kind,
    result,
    at: glued + hours * hourMs,
    by: finisher.id,
  });
  const { seat } = chair();

  test("says sound by a pull alone: a line that is not white proves nothing, and unclear is no verdict", () => {
    expect(jointVerdict(seat, tried("pull-or-tap", "pass"))?.result).toBe("sound");
    expect(jointVerdict(seat, tried("chalk-look", "pass"))).toBeUndefined();
    expect(jointVerdict(seat, tried("pull-or-tap", "unclear"))).toBeUndefined();
  });

  test("says failed for good: glued again it is another joint", () => {
    const failed = { ...seat, verdict: jointVerdict(seat, tried("chalk-look", "fail")) };
    expect(failed.verdict?.result).toBe("failed");
    expect(jointVerdict(failed, tried("pull-or-tap", "pass", 30))).toBeUndefined();
  });

  test("of a joint that held and then failed says failed; one from before it was glued says nothing", () => {
    const sound = { ...seat, verdict: jointVerdict(seat, tried("pull-or-tap", "pass")) };
    expect(jointVerdict(sound, tried("pull-or-tap", "fail", 30))?.result).toBe("failed");
    expect(jointVerdict(seat, tried("pull-or-tap", "fail", -1))).toBeUndefined();
  });
});

describe("may this be glued here", () => {
  // Common practice: white glue needs about 13 °C (55 °F), yellow glue 4 to 10 °C (40 to 50 °F)
  test.each([
    { bottle: "white", chalkCelsius: 12.8, state: "too-cold" },
    { bottle: "yellow", chalkCelsius: 10, state: "fit" },
  ])("at 12 °C with $bottle glue: $state", ({ chalkCelsius, state }) => {
    const { sheet } = bottle({ chalkCelsius, minimumCelsius: chalkCelsius });
    expect(
      gluePlace(
        sheet,
        roomAir(
          read(() => 12),
          loft,
        ),
        glued,
      ).state,
    ).toBe(state);
  });

  test("no, where the nights are too cold although the day is not", () => {
    const nights = read((now) => ((((now / hourMs) % 24) + 20) % 24 < 6 ? 7 : 18));
    const longer = [...nights.map((found) => ({ ...found, id: id(), at: found.at - 5 * 24 * hourMs })), ...nights];
    expect(gluePlace(bottle().sheet, roomAir(longer, loft), glued)).toMatchObject({
      state: "too-cold",
      lowestCelsius: 7,
    });
  });

  test("nobody knows, in a room away from the shop or one not read for longer than it may go", () => {
    const { sheet } = bottle();
    expect(gluePlace(sheet, roomAir([], outlet), glued).state).toBe("unread");
    const morning = read(
      () => 18,
      (now) => now <= glued - 4 * hourMs,
    );
    expect(gluePlace(sheet, roomAir(morning, loft), glued)).toMatchObject({ state: "unread", gapLimitMin: 180 });
  });
});
