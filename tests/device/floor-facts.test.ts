import fc from "fast-check";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { gate } from "~/core/cure/gate";
import type { Facts } from "~/core/shop/facts";
import { CannotTellHere } from "~/core/shop/facts";
import { floorTables } from "~/core/shop/floor";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { pictureOf } from "~/core/shop/picture";
import type { Row } from "~/core/shop/tables";
import { dayMs, hourMs } from "~/core/units";
import { FloorFacts } from "~/device/floor-facts";
import {
  aCoat,
  anEntry,
  aPiece,
  aProduct,
  aReading,
  aSheet,
  aStay,
  aSurface,
  aTask,
  aWetCoat,
  dresser,
  fern,
  id,
  loft,
  monday8,
  shopWith,
  top,
} from "../core/support/shop";
import { floorOf } from "./support/floor";

const airFromAt = monday8 - 13 * dayMs;

const hourlyReadings = (fromDay: number, celsius: (hour: number) => number): Row<"reading">[] =>
  Array.from({ length: -fromDay * 24 + 1 }, (_, hour) =>
    aReading({ id: id(0x5000 + hour), at: monday8 + fromDay * dayMs + hour * hourMs, airCelsius: celsius(hour) }),
  );

const coatLaid = (number: number, daysAgo: number) => {
  const endedAt = monday8 - daysAgo * dayMs;
  const applied = { startedAt: endedAt - hourMs, endedAt, by: [fern], roomId: loft, scuffedBefore: false };
  return aWetCoat({ id: id(number), position: number - 200, applied });
};

const dresserShop = (coatDaysAgo: number[], readings: Row<"reading">[]): MemoryFacts =>
  shopWith({
    piece: [aPiece()],
    surface: [aSurface()],
    roomStay: [aStay()],
    product: [aProduct()],
    sheet: [aSheet()],
    coat: [...coatDaysAgo.map((days, index) => coatLaid(201 + index, days)), aCoat({ id: id(299), position: 99 })],
    reading: readings,
  });

function deviceOf(facts: MemoryFacts): FloorFacts {
  const copy = new Y.Doc();
  const device = new FloorFacts(copy);
  Y.applyUpdate(copy, floorOf(facts, { seq: 41, airFromAt, askedAt: monday8 }).since());
  return device;
}

const missing = (ask: () => unknown): string => {
  try {
    ask();
  } catch (error) {
    if (error instanceof CannotTellHere) return error.missing;
    throw error;
  }
  throw new Error("the device answered");
};

test("a phone has every row that the floor carries, as the shop has it, and the ledger number it has seen", () => {
  const facts = dresserShop(
    [1],
    hourlyReadings(-2, () => 20),
  );
  const device = deviceOf(facts);
  for (const table of floorTables) expect(device.all(table)).toEqual(facts.all(table));
  expect(device.where("coat", "pieceId", dresser)).toEqual(facts.where("coat", "pieceId", dresser));
  expect(device.get("piece", dresser)).toEqual(facts.get("piece", dresser));
  expect(device.seq).toBe(41);
});

const gatesOf = (facts: Facts, at: number) => {
  const picture = pictureOf(facts, dresser);
  if (!picture) throw new Error("the dresser is not there");
  const sheetId = aSheet().id;
  return [
    gate(picture, { action: "recoat", surfaceId: top, sheetId, scuffedBefore: false }, at),
    gate(picture, { action: "sand", surfaceId: top }, at),
  ];
};

test("every gate answers on the phone as on the server, also for films older than the air that the phone carries", () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 20 }), { minLength: 1, maxLength: 3 }),
      fc.integer({ min: -22, max: -1 }),
      fc.array(fc.integer({ min: 120, max: 240 }), { minLength: 24, maxLength: 24 }),
      (daysAgo, readFromDay, tenthsByHour) => {
        const coats = [...daysAgo].sort((one, other) => other - one);
        const readings = hourlyReadings(readFromDay, (hour) => (tenthsByHour[hour % 24] as number) / 10);
        const facts = dresserShop(coats, readings);
        const here = gatesOf(deviceOf(facts), monday8 + hourMs);
        gatesOf(facts, monday8 + hourMs).forEach((there, index) => {
          const { state, safeAt, safeCreditMin, evidence, readingsThroughAt } = here[index] as typeof there;
          expect(state).toBe(there.state);
          // sums of minutes, added up in another order
          expect(Math.abs((safeCreditMin ?? 0) - (there.safeCreditMin ?? 0))).toBeLessThan(0.001);
          // of a film that was ready before the air begins, the phone only knows that it was
          if ((there.safeAt ?? 0) > airFromAt) expect(Math.abs((safeAt ?? 0) - (there.safeAt ?? 0))).toBeLessThan(1000);
          expect(evidence).toBe(there.evidence);
          expect(readingsThroughAt).toBe(there.readingsThroughAt);
        });
      },
    ),
    { numRuns: 40 },
  );
});

test("a phone that lacks what an old film had earned does not guess about its gates", () => {
  const facts = dresserShop(
    [18],
    hourlyReadings(-20, () => 20),
  );
  const floor = floorOf(facts, { seq: 41, airFromAt, askedAt: monday8 });
  floor.set([{ part: "checkpoint", key: id(201), value: undefined }]);
  const copy = new Y.Doc();
  Y.applyUpdate(copy, floor.since());
  expect(missing(() => pictureOf(new FloorFacts(copy), dresser))).toBe("air of so long ago");
});

test("ended hours, old moves, and older air are not on a phone, and it says so", () => {
  const device = deviceOf(
    dresserShop(
      [],
      hourlyReadings(-2, () => 20),
    ),
  );
  expect(missing(() => device.entries(fern, 0))).toBe("ended hours");
  expect(missing(() => device.where("stageMove", "pieceId", dresser))).toBe("the table stageMove");
  expect(missing(() => device.readings(loft, airFromAt - 1))).toBe("air of so long ago");
  expect(missing(() => device.readings(loft, monday8))).toBe("where a reading came from");
  expect(missing(() => device.air(id(999), monday8))).toBe("this room");
});

test("what the server changes, adds and takes away is seen at once, in rows, look-ups, timers and air", () => {
  const facts = dresserShop(
    [1],
    hourlyReadings(-2, () => 20),
  );
  const copy = new Y.Doc();
  const device = new FloorFacts(copy);
  const floor = floorOf(facts, { seq: 41, airFromAt, askedAt: monday8 });
  Y.applyUpdate(copy, floor.since());
  expect(device.where("task", "pieceId", dresser)).toEqual([]);
  expect(device.air(loft, monday8 - dayMs).endsAt).toBe(monday8);

  facts.put("task", aTask({ id: id(301) }));
  facts.put("entry", anEntry({ id: id(302) }));
  facts.put("reading", aReading({ id: id(303), at: monday8 + hourMs }));
  const later = floorOf(facts, { seq: 44, airFromAt, askedAt: monday8 + hourMs });
  floor.set(
    [...floorTables, "air" as const, "meta" as const].flatMap((part) =>
      later.keys(part).map((key) => ({ part, key, value: later.get(part, key) })),
    ),
  );
  floor.set([{ part: "coat", key: id(201), value: undefined }]);
  Y.applyUpdate(copy, floor.since());

  expect(device.where("task", "pieceId", dresser).map((task) => task.id)).toEqual([id(301)]);
  expect(device.running().map((entry) => entry.id)).toEqual([id(302)]);
  expect(device.get("coat", id(201))).toBeUndefined();
  expect(device.air(loft, monday8 - dayMs).endsAt).toBe(monday8 + hourMs);
  expect(device.seq).toBe(44);
});
