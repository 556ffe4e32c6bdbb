import fc from "fast-check";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { type RoomAir, roomAir } from "~/core/climate/history";
import { type AirDay, airDayKey, packAir } from "~/core/shop/floor";
import { MemoryFacts } from "~/core/shop/memory-facts";
import type { Reading, Room } from "~/core/shop/tables";
import { dayMs, hourMs, minuteMs } from "~/core/units";
import { FloorFacts } from "~/device/floor-facts";
import { OverlayFacts } from "~/device/overlay-facts";
import { loft, reading, sprayRoom } from "../core/cure/week";
import { aPiece, aTask, id, monday8, shopWith } from "../core/support/shop";
import { floorOf } from "./support/floor";

/** Neither who wrote a reading down, nor how much room a history keeps to grow, is part of what it says. */
const told = ({ lineage, readings, ...air }: RoomAir) => ({
  ...air,
  unknown: lineage.unknown.filter(({ index }) => index < air.startsAt.length),
  readings: readings.map(({ id: _id, source: _source, ...read }) => read),
});

const phoneOf = (rooms: Room[]) => {
  const document = new Y.Doc();
  const facts = new FloorFacts(document);
  for (const room of rooms) document.getMap("room").set(room.id, room);
  document.getMap("meta").set("airFromAt", monday8 - dayMs);
  const days = document.getMap<AirDay>("air");
  const write = (of: Room, readings: readonly Reading[]) => {
    const sorted = [...readings].sort((one, other) => one.at - other.at);
    document.transact(() => {
      for (const key of new Set(sorted.map(({ at }) => airDayKey(of.id, at))))
        days.set(key, packAir(sorted.filter(({ at }) => airDayKey(of.id, at) === key)));
    });
  };
  return { facts, write };
};

const readings = fc
  .array(
    fc.record({
      minutes: fc.integer({ min: 0, max: 2000 }),
      celsius: fc.integer({ min: 4, max: 30 }),
      spanMin: fc.option(fc.integer({ min: 1, max: 300 }), { freq: 8, nil: undefined }),
    }),
    { minLength: 2, maxLength: 40 },
  )
  .map((made) =>
    made.map(({ minutes, celsius, spanMin }, index) => {
      const at = monday8 + minutes * minuteMs + index;
      return reading(loft, at, celsius, spanMin === undefined ? {} : { spanFromAt: at - spanMin * minuteMs });
    }),
  );
const inOrder = fc.boolean();

test("a history that grew reading by reading says what one laid out from all of them says, wherever it is asked for", () => {
  fc.assert(
    fc.property(readings, inOrder, fc.boolean(), (made, isInOrder, isAskedBetween) => {
      const rows = isInOrder ? [...made].sort((one, other) => one.at - other.at) : made;
      const memory = new MemoryFacts();
      memory.put("room", loft);
      const phone = phoneOf([loft]);
      const laid = new OverlayFacts(phoneOf([loft]).facts);
      rows.forEach((row, index) => {
        memory.put("reading", row);
        phone.write(loft, rows.slice(0, index + 1));
        laid.take([{ table: "reading", row, isNew: true }]);
        if (isAskedBetween) for (const facts of [memory, phone.facts, laid]) facts.air(loft.id, monday8);
      });
      const anew = told(roomAir(rows, loft));
      for (const facts of [memory, phone.facts, laid]) expect(told(facts.air(loft.id, monday8))).toEqual(anew);
    }),
    { numRuns: 40 },
  );
}, 30_000);

const everyHour = (of: Room, hours: number) =>
  Array.from({ length: hours }, (_, hour) => reading(of, monday8 + hour * hourMs, 18));

test("a reading at the end lengthens the history of its room on a phone, and leaves that of another room alone", () => {
  const { facts, write } = phoneOf([loft, sprayRoom]);
  write(loft, everyHour(loft, 30));
  write(sprayRoom, everyHour(sprayRoom, 30));
  const [before, other] = [facts.air(loft.id, monday8), facts.air(sprayRoom.id, monday8)];
  write(loft, everyHour(loft, 31));
  const after = facts.air(loft.id, monday8);
  expect(after.endsAt).toBe(monday8 + 30 * hourMs);
  // what was summed over the shared stretches stays good
  expect(after.lineage).toBe(before.lineage);
  expect(facts.air(sprayRoom.id, monday8)).toBe(other);
});

test("a reading that was taken back or came late is not only a longer history", () => {
  const { facts, write } = phoneOf([loft]);
  write(loft, everyHour(loft, 12));
  const before = facts.air(loft.id, monday8);
  write(loft, [...everyHour(loft, 11), reading(loft, monday8 + 11 * hourMs, 12)]);
  const colder = facts.air(loft.id, monday8);
  expect(colder.last?.celsius).toBe(12);
  expect(colder.lineage).not.toBe(before.lineage);
  write(loft, everyHour(loft, 11));
  expect(facts.air(loft.id, monday8).endsAt).toBe(monday8 + 10 * hourMs);
});

test("a reading in memory that is retracted is no part of the air any more", () => {
  const memory = new MemoryFacts();
  memory.put("room", loft);
  const rows = everyHour(loft, 5);
  for (const row of rows) memory.put("reading", row);
  expect(memory.air(loft.id, 0).endsAt).toBe(monday8 + 4 * hourMs);
  memory.put("reading", { ...(rows[4] as Reading), retractedAt: monday8 + 5 * hourMs });
  expect(memory.air(loft.id, 0).endsAt).toBe(monday8 + 3 * hourMs);
});

test("a change of one row leaves every other row of the floor the object that it was", () => {
  const tasks = Array.from({ length: 20 }, (_, index) => aTask({ id: id(300 + index) }));
  const shop = shopWith({ piece: [aPiece()], task: tasks });
  const floor = floorOf(shop, { seq: 41, airFromAt: monday8 - dayMs, askedAt: monday8 });
  const copy = new Y.Doc();
  const facts = new FloorFacts(copy);
  Y.applyUpdate(copy, floor.since());
  const before = facts.all("task");
  expect(facts.all("task")).toBe(before);
  const renamed = aTask({ id: id(307), title: "Wax the runners" });
  floor.set([...tasks, renamed].map((value) => ({ part: "task", key: value.id, value })));
  Y.applyUpdate(copy, floor.since());
  const changed = facts.all("task").filter((row, index) => row !== before[index]);
  expect(changed).toEqual([renamed]);
});
