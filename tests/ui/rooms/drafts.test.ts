import { expect, test } from "vitest";
import { definitionOf } from "~/core/shop/intents";
import type { Room } from "~/core/shop/tables";
import { newReading, readingOf } from "~/ui/rooms/reading-draft";
import { checkedRoom, newRoom, roomChanges, roomDraftOf } from "~/ui/rooms/room-draft";
import { id } from "../../core/support/people";

const zone = "America/New_York";
const now = { day: "2026-10-28", time: "06:50", pass: "first" as const };
const of = { readingId: id(501), roomId: id(11), zone };

test("an empty field is not a reading of zero degrees", () => {
  const read = readingOf(newReading(now), of);
  expect(read.ok || read.refusal).toMatchObject({ air: expect.any(String), humidity: expect.any(String) });
});

test("a lowest-since reading goes out with both ends and to the tenth", () => {
  const draft = {
    ...newReading(now),
    airCelsius: 8.04,
    humidityPercent: 68,
    isSpan: true,
    spanFrom: { day: "2026-10-27", time: "22:00", pass: "first" as const },
  };
  const read = readingOf(draft, of);
  if (!read.ok) throw new Error("held back");
  // New York is at UTC-4 on both days (IANA time zone data)
  expect(read.value).toMatchObject({
    at: Date.parse("2026-10-28T06:50-04:00"),
    spanFromAt: Date.parse("2026-10-27T22:00-04:00"),
    airCelsius: 8,
  });
  expect(read.value).not.toHaveProperty("surfaceCelsius");
  expect(definitionOf("record-reading")?.body.safeParse(read.value).success).toBe(true);
});

test("a thermometer set back after it was read is held back at that time", () => {
  const draft = {
    ...newReading(now),
    airCelsius: 8,
    humidityPercent: 68,
    isSpan: true,
    spanFrom: { ...now, time: "07:00" },
  };
  const read = readingOf(draft, of);
  expect(read.ok || read.refusal).toHaveProperty("spanFrom");
});

const loft: Room = { ...newRoom, id: id(11), name: "Loft", uses: ["cure"], racks: [] };

test("a room goes out only with a name and a use", () => {
  expect(checkedRoom(newRoom).ok).toBe(false);
  const checked = checkedRoom({ ...newRoom, name: " Loft ", uses: ["cure"] });
  if (!checked.ok) throw new Error("held back");
  expect(definitionOf("add-room")?.body.safeParse({ roomId: id(12), ...checked.value }).success).toBe(true);
});

test("only what was changed in a room is sent, each with what it was", () => {
  const changes = roomChanges(loft, { ...roomDraftOf(loft), usualCelsius: 15 });
  expect(changes).toEqual([{ field: "usualCelsius", was: 18, value: 15 }]);
  for (const change of changes) {
    expect(definitionOf("edit-room")?.body.safeParse({ roomId: loft.id, ...change }).success).toBe(true);
  }
});
