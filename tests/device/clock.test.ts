import { expect, test } from "vitest";
import { dayMs, hourMs, minuteMs, secondMs } from "~/core/units";
import { monday8 } from "../core/support/people";
import { HandClocks } from "./support/browser";

test("a clock two days behind, once measured, stamps what is done with its error, and true time comes out", () => {
  const phone = new HandClocks(monday8 - 2 * dayMs);
  const clock = phone.clock();
  phone.contact(clock, 2 * dayMs);
  phone.pass(hourMs);
  const stamp = clock.stamp();
  expect(stamp).toEqual({ deviceAt: phone.wallAt, offsetMs: 2 * dayMs, offsetUncertainMs: 40 });
  expect(clock.now()).toBe(monday8 + hourMs + 80);
});

test("a phone that was never measured says so, by saying nothing", () => {
  const phone = new HandClocks(monday8);
  expect(phone.clock().stamp()).toEqual({ deviceAt: monday8 });
});

test("of the last eight contacts the quickest counts, and half of its round trip is what stays uncertain", () => {
  const phone = new HandClocks(monday8);
  const clock = phone.clock();
  phone.contact(clock, 5000, 30);
  for (let contact = 0; contact < 7; contact += 1) phone.contact(clock, 5400, 900);
  expect(clock.stamp()).toMatchObject({ offsetMs: 5000, offsetUncertainMs: 15 });
  phone.contact(clock, 5400, 900);
  expect(clock.stamp()).toMatchObject({ offsetMs: 5400, offsetUncertainMs: 450 });
});

test.each([
  { what: "set forward by three hours", byMs: 3 * hourMs },
  { what: "set back by two seconds", byMs: -2 * secondMs },
])("a clock $what since it was measured is not called measured any more", ({ byMs }) => {
  const phone = new HandClocks(monday8);
  const clock = phone.clock();
  phone.contact(clock, 0);
  phone.step(byMs);
  expect(clock.stamp()).toEqual({ deviceAt: phone.wallAt, expectedOffsetMs: 0 });
  expect(clock.isMeasured).toBe(false);
});

test("a clock that is nudged by less than two seconds stays measured, and true time does not move", () => {
  const phone = new HandClocks(monday8);
  const clock = phone.clock();
  phone.contact(clock, 0);
  const before = clock.now();
  phone.step(1500);
  expect(clock.now()).toBe(before);
  expect(clock.stamp()).toMatchObject({ deviceAt: phone.wallAt, offsetMs: -1500 });
});

test("work stamped after a nap of the phone counts, when the next contact finds the clock where it was", () => {
  const phone = new HandClocks(monday8);
  const clock = phone.clock();
  phone.contact(clock, 10 * minuteMs);
  phone.step(2 * hourMs);
  expect(clock.now()).toBe(monday8 + 80 + 2 * hourMs + 10 * minuteMs);
  const stamp = clock.stamp();
  phone.pass(hourMs);
  phone.contact(clock, 10 * minuteMs + 30 * secondMs);
  expect(clock.settled(stamp)).toEqual({
    deviceAt: stamp.deviceAt,
    offsetMs: 10 * minuteMs + 30 * secondMs,
    offsetUncertainMs: 40,
  });
});

test("work stamped after somebody set the clock does not count as timed, when the next contact finds it moved", () => {
  const phone = new HandClocks(monday8);
  const clock = phone.clock();
  phone.contact(clock, 0);
  phone.step(3 * hourMs);
  const stamp = clock.stamp();
  phone.contact(clock, -3 * hourMs);
  expect(clock.settled(stamp)).toEqual({ deviceAt: stamp.deviceAt });
});

test("after a reload without signal the last measure is only expected, and the next contact decides", () => {
  const phone = new HandClocks(monday8);
  phone.contact(phone.clock(), dayMs);
  const reloaded = phone.clock();
  const stamp = reloaded.stamp();
  expect(stamp).toEqual({ deviceAt: phone.wallAt, expectedOffsetMs: dayMs });
  expect(reloaded.now()).toBe(phone.wallAt + dayMs);
  expect(reloaded.settled(stamp)).toEqual({ deviceAt: phone.wallAt });
  phone.contact(reloaded, dayMs + minuteMs);
  expect(reloaded.settled(stamp)).toMatchObject({ offsetMs: dayMs + minuteMs });
  phone.contact(reloaded, dayMs + minuteMs + 1, 10);
  expect(reloaded.settled(stamp)).toEqual({ deviceAt: stamp.deviceAt });
});

test("a stamp made while the clock was measured stands, whatever becomes of the clock afterwards", () => {
  const phone = new HandClocks(monday8);
  const clock = phone.clock();
  phone.contact(clock, 700);
  const stamp = clock.stamp();
  phone.step(-dayMs);
  phone.contact(clock, dayMs);
  expect(clock.settled(stamp)).toEqual(stamp);
});
