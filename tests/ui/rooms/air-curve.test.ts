import { expect, test } from "vitest";
import { roomAir } from "~/core/climate/history";
import type { Reading, Room } from "~/core/shop/tables";
import { hourMs, minuteMs } from "~/core/units";
import { airCurve } from "~/ui/rooms/air-curve";
import { id, monday8 } from "../../core/support/people";

const loft: Room = {
  id: id(11),
  name: "Loft",
  uses: ["cure"],
  usualCelsius: 18,
  usualHumidityPercent: 50,
  gapLimitMin: 180,
  racks: [],
  hasOpenFlame: false,
};

const reading = (hours: number, airCelsius: number, row: Partial<Reading> = {}): Reading => ({
  id: id(500 + hours * 10),
  roomId: loft.id,
  at: monday8 + hours * hourMs,
  airCelsius,
  humidityPercent: 50,
  source: "hand",
  ...row,
});

const curve = (readings: Reading[], toHour: number) =>
  airCurve(roomAir(readings, loft), monday8, monday8 + toHour * hourMs);

test("hours that nobody read are a gap, and no line runs across them", () => {
  const { lines, gaps } = curve([reading(0, 18), reading(2, 19), reading(10, 17), reading(12, 18)], 12);
  expect(gaps).toEqual([{ fromAt: monday8 + 2 * hourMs, toAt: monday8 + 10 * hourMs }]);
  expect(lines.map((line) => line.map((point) => point.celsius))).toEqual([
    [18, 19],
    [17, 18],
  ]);
});

test("a room read last evening is a gap until now; one read just now is not", () => {
  expect(curve([reading(0, 18), reading(1, 18)], 12).gaps).toEqual([
    { fromAt: monday8 + hourMs, toAt: monday8 + 12 * hourMs },
  ]);
  expect(curve([reading(0, 18), reading(1, 18)], 2).gaps).toEqual([]);
});

test("a lowest-since reading fills the night at its lowest, as a step", () => {
  const night = reading(10, 8, { spanFromAt: monday8 + 2 * hourMs + minuteMs });
  const { lines, gaps } = curve([reading(0, 18), reading(2, 18), night, reading(11, 17)], 11);
  expect(gaps).toEqual([]);
  const atNight = lines.flat().filter((point) => point.at > monday8 + 3 * hourMs && point.at < monday8 + 10.5 * hourMs);
  expect(new Set(atNight.map((point) => point.celsius))).toEqual(new Set([8]));
});

test("days before the first reading are a gap from their start", () => {
  expect(curve([reading(6, 18), reading(8, 18)], 8).gaps).toEqual([{ fromAt: monday8, toAt: monday8 + 6 * hourMs }]);
});
