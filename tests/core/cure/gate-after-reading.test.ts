import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { airWithReading, type RoomAir, roomAir } from "~/core/climate/history";
import type { GateAction } from "~/core/cure/demand";
import { gate, recoatFilmGate } from "~/core/cure/gate";
import { type Gate, toldPart } from "~/core/cure/gate-answer";
import type { Picture } from "~/core/cure/picture";
import { withAir } from "~/core/cure/with-air";
import type { Reading } from "~/core/shop/tables";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import {
  at,
  coat,
  everyTenMinutes,
  l1,
  loft,
  o2,
  pair,
  pictureOf,
  piece,
  reading,
  sprayRoom,
  stay,
  surface,
  w1,
  w2,
} from "./week";

const laidAt = at("10-20 09:00 EDT");
const carriedAt = at("10-20 14:00 EDT");

/** Two faces under four coats of four mechanisms, laid in the spray room and carried to the loft five hours later. */
const dresserIn = (airs: ReadonlyMap<string, RoomAir>): Picture => {
  const dresser = piece();
  const [body, top] = [surface("body", dresser.id), surface("top", dresser.id)];
  const stays = [stay(dresser.id, sprayRoom, laidAt - dayMs, carriedAt), stay(dresser.id, loft, carriedAt)];
  const coats = [
    coat(body, o2, laidAt),
    coat(body, l1, laidAt + hourMs, { position: 2 }),
    coat(top, w1, laidAt),
    coat(top, w2, laidAt + 3 * hourMs, { position: 2 }),
  ];
  const pairs = [pair([body, top])];
  return { ...pictureOf({ piece: dresser, surfaces: [body, top], coats, stays, pairs }, []), airByRoomId: airs };
};

const askedOf = ({ surfaces, coats }: Picture): GateAction[] => [
  { action: "touch" },
  { action: "move", carried: "bearers" },
  { action: "move", carried: "hands" },
  ...surfaces.map(({ id: surfaceId }) => ({ action: "sand" as const, surfaceId })),
  ...coats.map(({ surfaceId, sheetId }) => ({ action: "recoat" as const, surfaceId, sheetId, scuffedBefore: true })),
  { action: "press-together" },
  { action: "stack", material: "paper" },
  { action: "wrap", wrap: "plastic", isStrapped: false },
  { action: "hand-over", wrap: "loose-blanket", isStrapped: false },
  { action: "use", how: "light" },
  { action: "use", how: "full" },
];

const filmGate = (picture: Picture, asked: GateAction, now: number): Gate =>
  asked.action === "recoat" ? recoatFilmGate(picture, asked, now) : gate(picture, asked, now);

/** Everything that a gate says, worked out. */
const told = (found: Gate) => ({
  ...toldPart(found),
  action: found.action,
  readingsThroughAt: found.readingsThroughAt,
});

/** From a day before the first coat on, a reading of the loft every 10 to 900 minutes, from −5 to 40 °C. */
const steps = fc.array(
  fc.record({
    stepMin: fc.integer({ min: 10, max: 900 }),
    celsius: fc.integer({ min: -5, max: 40 }),
    humidityPercent: fc.integer({ min: 20, max: 95 }),
  }),
  { minLength: 2, maxLength: 60 },
);

const loftReadings = (rows: { stepMin: number; celsius: number; humidityPercent: number }[]): Reading[] => {
  let when = laidAt - dayMs;
  return rows.map(({ stepMin, celsius, humidityPercent }) => {
    when += stepMin * minuteMs;
    return reading(loft, when, celsius, { humidityPercent });
  });
};

const later = fc.integer({ min: 0, max: 20 * 24 * 60 }).map((minutes) => laidAt + minutes * minuteMs);
const sprayRead = roomAir(
  everyTenMinutes(sprayRoom, laidAt - dayMs, carriedAt + dayMs, () => 19),
  sprayRoom,
);
const airsWith = (loftAir: RoomAir) =>
  new Map([
    [loft.id, loftAir],
    [sprayRoom.id, sprayRead],
  ]);

describe("always", () => {
  test("gates over a history that grew reading by reading are those over one built anew", () => {
    fc.assert(
      fc.property(steps, later, (rows, now) => {
        const readings = loftReadings(rows);
        let picture = dresserIn(airsWith(roomAir(readings.slice(0, 1), loft)));
        for (const found of readings.slice(1)) {
          picture = withAir(picture, airWithReading(picture.airByRoomId.get(loft.id) as RoomAir, found));
          // asked in between, so that a gate kept too long would show
          filmGate(picture, { action: "use", how: "full" }, now);
        }
        const anew = { ...picture, airByRoomId: airsWith(roomAir(readings, loft)) };
        for (const asked of askedOf(picture))
          expect(told(filmGate(picture, asked, now))).toEqual(told(filmGate(anew, asked, now)));
      }),
      { numRuns: 40 },
    );
  });

  test("a gate is open if and only if its own time has come", () => {
    fc.assert(
      fc.property(steps, later, (rows, now) => {
        const picture = dresserIn(airsWith(roomAir(loftReadings(rows), loft)));
        for (const asked of askedOf(picture)) {
          const found = filmGate(picture, asked, now);
          if (found.state === "open" && found.heldBy) expect(found.sinceAt).toBeLessThanOrEqual(now);
          if (found.state === "shut" && found.safeAt !== undefined) expect(found.safeAt).toBeGreaterThan(now);
          if (found.state !== "open") expect(found.sinceAt).toBeUndefined();
        }
      }),
      { numRuns: 60 },
    );
  });

  test("whether a gate is open does not hang on whether somebody asked for its times before", () => {
    fc.assert(
      fc.property(steps, later, (rows, now) => {
        const airs = airsWith(roomAir(loftReadings(rows), loft));
        const first = dresserIn(airs);
        const second = { ...first };
        const asked = askedOf(first);
        const states = asked.map((one) => filmGate(first, one, now).state);
        const withTimes = asked.toReversed().map((one) => told(filmGate(second, one, now)));
        expect(withTimes.map(({ state }) => state).toReversed()).toEqual(states);
        expect(asked.map((one) => told(filmGate(first, one, now))).toReversed()).toEqual(withTimes);
      }),
      { numRuns: 30 },
    );
  });
});

describe("a reading comes in", () => {
  const now = at("10-24 09:00 EDT");
  const loftAir = roomAir(
    everyTenMinutes(loft, laidAt - dayMs, at("10-24 08:50 EDT"), () => 18),
    loft,
  );
  const picture = dresserIn(airsWith(loftAir));
  const gatesOf = (of: Picture) => askedOf(of).map((asked) => filmGate(of, asked, now));
  // the next coat's gate by `gate` asks the air as well, and that is another question
  const before = gatesOf(picture);

  test("in a room that the piece never saw: its picture and its answers are the very same", () => {
    const elsewhere = roomAir([reading({ ...loft, id: "attic" }, now - hourMs, 12)], { ...loft, id: "attic" });
    expect(withAir(picture, elsewhere)).toBe(picture);
  });

  test("in a room that it had left before anything new was read there: its answers are the very same", () => {
    const after = withAir(picture, airWithReading(sprayRead, reading(sprayRoom, now - minuteMs, 5)));
    expect(after).not.toBe(picture);
    for (const [index, found] of gatesOf(after).entries()) {
      const { action } = found;
      if (action === "sand") expect(told(found)).toEqual(told(before[index] as Gate));
      else expect(found).toBe(before[index]);
    }
  });

  test("in the room where it stands: it is asked anew, and a colder night keeps shut what a warm one opened", () => {
    const cold = roomAir(
      everyTenMinutes(loft, laidAt - dayMs, at("10-24 08:50 EDT"), () => 4),
      loft,
    );
    const carry = { action: "move", carried: "hands" } as const;
    expect(filmGate(picture, carry, now).state).toBe("open");
    expect(filmGate(withAir(picture, cold), carry, now).state).toBe("shut");
  });
});
