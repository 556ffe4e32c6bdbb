import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { woodEquilibriumPercent } from "~/core/climate/wood-moisture";
import { gate, recoatFilmGate } from "~/core/cure/gate";
import type { Picture } from "~/core/cure/picture";
import { meterSays, woodDryness } from "~/core/cure/washed-wood";
import type { HandTest, Reading } from "~/core/shop/tables";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import { at, coat, everyTenMinutes, handTest, loft, pictureOf, piece, stay, surface, w1, wallClock } from "./week";

// Source: common practice for wood that will live indoors; the equilibrium by Wood Handbook (FPL-GTR-282, 2021), eq. 4-5,
// with the room's air beside it: over 12 %, more than 2 over the room's equilibrium, or still losing 0.5 a day means wait
test.each([
  {
    yesterday: 15.5,
    today: 14.5,
    celsius: 20,
    humidity: 50,
    says: "wet",
    why: "over 12, and still losing a point a day",
  },
  { yesterday: 10.4, today: 10.2, celsius: 20, humidity: 50, says: "dry", why: "near 9.3 and at rest" },
  {
    yesterday: 12.0,
    today: 11.8,
    celsius: 20,
    humidity: 40,
    says: "wet",
    why: "4.1 over what that dry room makes of it",
  },
  { yesterday: 11.2, today: 11.0, celsius: 21, humidity: 60, says: "dry", why: "where that room leaves it" },
  { yesterday: 12.7, today: 12.6, celsius: 25, humidity: 75, says: "wet", why: "over 12 even where the air is damper" },
  { yesterday: 10.1, today: 8.9, celsius: 20, humidity: 45, says: "wet", why: "still losing 1.2 a day" },
])("wood at $today %, $yesterday % the day before, at $celsius °C and $humidity % RH is $says: $why", (row) => {
  const equilibrium = woodEquilibriumPercent(row.celsius, row.humidity);
  const equilibriumPercent = equilibrium.ok ? equilibrium.value : undefined;
  expect(meterSays({ meterPercent: row.today, equilibriumPercent, dayBeforePercent: row.yesterday })).toBe(row.says);
});

test("a good reading in a room that nobody reads says nothing, a bad one says wet", () => {
  expect(meterSays({ meterPercent: 10, equilibriumPercent: undefined })).toBe("nothing");
  expect(meterSays({ meterPercent: 12.1, equilibriumPercent: undefined })).toBe("wet");
  expect(meterSays({ meterPercent: 12, equilibriumPercent: 10 })).toBe("dry");
});

const washed = at("10-26 10:00 EDT");
const airOf = (humidityPercent: number): Reading[] =>
  everyTenMinutes(loft, washed - 2 * dayMs, washed + 4 * dayMs, () => 20).map((reading) => ({
    ...reading,
    humidityPercent,
  }));

/** A bare top in the loft at 20 °C, washed on Monday at ten. Wood comes to 9.27 % there at 50 % RH. */
const bare = (tests: Partial<HandTest>[] = [], humidityPercent = 50, more: Partial<Picture> = {}) => {
  const ours = piece();
  const top = { ...surface("top", ours.id), lastWaterAt: washed };
  const measured = tests.map((each) =>
    handTest({
      subject: { of: "washed", surfaceId: top.id },
      kind: "moisture-meter",
      result: "pass",
      at: washed + dayMs,
      ...each,
    }),
  );
  const picture = pictureOf(
    {
      piece: ours,
      surfaces: [top],
      coats: [],
      stays: [stay(ours.id, loft, washed - 5 * dayMs)],
      tests: measured,
      ...more,
    },
    airOf(humidityPercent),
  );
  const recoat = { action: "recoat", surfaceId: top.id, sheetId: w1.sheet.id } as const;
  return { top, picture, recoat, sand: { action: "sand", surfaceId: top.id } as const };
};
const percent = (value: number) => ({ measured: { value, unit: "percent" as const } });

describe("bare wood that was washed on Monday at 10:00", () => {
  test("is neither sanded nor coated before Tuesday at 10:00, a day later, and likely at 06:00 after its night", () => {
    const { picture, recoat, sand } = bare();
    for (const asked of [recoat, sand]) {
      const found = gate(picture, asked, washed + 2 * hourMs);
      expect([found.state, wallClock(found.safeAt), wallClock(found.likelyAt)]).toEqual([
        "shut",
        "Tue 27, 10:00 EDT",
        "Tue 27, 06:00 EDT",
      ]);
      expect(found.needs).toContainEqual({ kind: "wood-wet", surfaceId: sand.surfaceId, lastWaterAt: washed });
      expect(gate(picture, asked, washed + dayMs - 1).state).toBe("shut");
      expect(gate(picture, asked, washed + dayMs).state).toBe("open");
    }
  });

  test("waits for Wednesday where the air is at 70 % or more, and where nobody reads it", () => {
    expect(wallClock(gate(bare([], 69).picture, bare([], 69).sand, washed).safeAt)).not.toBe("Wed 28, 10:00 EDT");
    for (const { picture, sand } of [bare([], 70), bare([], 50, { airByRoomId: new Map() })]) {
      const found = gate(picture, sand, washed + 12 * hourMs);
      expect([found.state, wallClock(found.safeAt)]).toEqual(["shut", "Wed 28, 10:00 EDT"]);
      expect(gate(picture, sand, washed + 2 * dayMs).state).toBe("open");
    }
  });

  test("is dry by a meter sooner than by the day, but not before its night is over", () => {
    const evening = bare([{ ...percent(10.5), at: at("10-26 20:00 EDT") }]);
    const found = gate(evening.picture, evening.recoat, at("10-26 21:00 EDT"));
    expect([found.state, wallClock(found.safeAt), found.evidence]).toEqual(["shut", "Tue 27, 06:00 EDT", "test"]);
    expect(gate(evening.picture, evening.recoat, at("10-27 06:00 EDT"))).toMatchObject({
      state: "open",
      evidence: "test",
    });
  });

  test("is wet whatever the hours where the meter says so, until a later reading says otherwise", () => {
    const wet = { ...percent(13), at: washed + dayMs };
    const { picture, sand } = bare([wet]);
    const later = washed + 3 * dayMs;
    const found = gate(picture, sand, later);
    expect([found.state, found.safeAt]).toEqual(["shut", undefined]);
    expect(found.needs[0]).toMatchObject({ kind: "wood-wet", meterPercent: 13 });
    const losing = bare([wet, { ...percent(11), at: washed + 2 * dayMs }]);
    expect(gate(losing.picture, losing.sand, later).state).toBe("shut");
    const rested = bare([wet, { ...percent(11), at: washed + 2 * dayMs }, { ...percent(10.6), at: later }]);
    expect(gate(rested.picture, rested.sand, later).state).toBe("open");
  });

  test("is dry by the scale once it loses no more than half a percent in a day; one weighing says nothing", () => {
    const weighed = (value: number, days: number) => ({
      kind: "weight" as const,
      measured: { value, unit: "gram" as const },
      at: washed + days * dayMs,
    });
    const dryness = (tests: Partial<HandTest>[]) => {
      const { picture, top } = bare(tests, 80);
      return woodDryness(picture, top, washed + 1.5 * dayMs);
    };
    expect(dryness([weighed(2000, 0.4)])).toMatchObject({ isDry: false, safeAt: washed + 2 * dayMs });
    // by hand: 10 g of 2000 g is half a percent, 11 g more than that
    expect(dryness([weighed(2000, 0.4), weighed(1990, 1.4)])).toMatchObject({ isDry: true });
    const wet = dryness([weighed(2000, 0.4), weighed(1989, 1.4)]);
    expect([wet?.isDry, wet?.safeAt]).toEqual([false, undefined]);
  });

  test("asks nothing of a surface that a film covers, of metal, nor before it was wet", () => {
    const { picture, top, recoat } = bare();
    const filmed = { ...picture, coats: [coat(top, w1, washed + 3 * dayMs)] };
    const film = recoatFilmGate(filmed, recoat, washed + 3 * dayMs + minuteMs);
    expect(film.needs.some(({ kind }) => kind === "wood-wet")).toBe(false);
    const metal = { ...picture, surfaces: [{ ...top, substrate: "metal" as const }] };
    expect(gate(metal, recoat, washed + hourMs).state).toBe("open");
    expect(gate(picture, recoat, washed - hourMs).state).toBe("open");
  });
});

test("waiting as long as it says makes washed wood dry, whenever it was washed, and a night always lies between", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 2 * 1440 }), fc.integer({ min: 0, max: 3000 }), (washedMin, askedMin) => {
      const { picture, top } = bare();
      const lastWaterAt = washed - dayMs + washedMin * minuteMs;
      const wet = { ...top, lastWaterAt };
      const asked = woodDryness({ ...picture, surfaces: [wet] }, wet, lastWaterAt + askedMin * minuteMs);
      const safeAt = asked?.safeAt as number;
      const then = woodDryness({ ...picture, surfaces: [wet] }, wet, safeAt);
      expect(then?.isDry).toBe(true);
      // six in the morning of the day after is the earliest that any night ends
      const nextMidnight = at("10-26 00:00 EDT") + Math.ceil((lastWaterAt + 1 - at("10-26 00:00 EDT")) / dayMs) * dayMs;
      expect(then?.safeAt as number).toBeGreaterThanOrEqual(nextMidnight + 6 * hourMs);
    }),
  );
});
