/**
 * The week after the demo week, in which the shop is looked at: on every working day a coat goes on, somebody's timer runs
 * in working hours, and the chest stays locked. What has not happened yet is left out.
 */
import { type InstantMs, minuteMs, type ShopDay } from "~/core/units";
import { packets, rainyAir } from "./air";
import { WeekClock } from "./clock";
import { rainForetold } from "./forecasts";
import { shift } from "./hours";
import { Pen } from "./pen";
import { inOrder, type Line } from "./script";
import { earlyDays } from "./week/early-days";
import { laterDays } from "./week/later-days";

const workingDays = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat"] as const;

/** Readings up to the minute, so that a gate asked now has them. */
const readingsUntil = (pen: Pen, now: InstantMs): Line[] =>
  packets(pen, pen.clock.startsAt, Math.min(pen.clock.endsAt, Math.floor(now / minuteMs) * minuteMs));

/**
 * @param monday the day after the demo week's Sunday
 * @param now lines after it are left out
 */
export function thisWeek(monday: ShopDay, now: InstantMs): Line[] {
  const clock = new WeekClock(monday);
  const pen = new Pen(clock, rainyAir(clock));
  const lines = [
    ...readingsUntil(pen, now),
    ...workingDays.flatMap((day) => hoursOf(pen, day)),
    ...gluingEvenings(pen),
    rainForetold(pen, "Mon 07:50", clock, "Thu"),
    ...earlyDays(pen),
    ...laterDays(pen),
    rainForetold(pen, "Thu 17:35", clock.later(1), "Mon"),
  ];
  return inOrder(lines).filter((line) => line.at <= now);
}

/** Fern's day, which is the same all week; evenings are Rufus's. */
const hoursOf = (pen: Pen, day: (typeof workingDays)[number]): Line[] => [
  pen.read(`${day} 07:45`, "fern", "loft"),
  ...shift(pen, "fern", day, "08:00 shop overhead", "08:20 K-205 bench", "12:15"),
  ...shift(pen, "fern", day, "13:00 K-207 bench", "17:30"),
  ...(day === "Sat" ? [] : shift(pen, "rufus", day, "19:30 K-210 bench", "22:30")),
];

const evenings = ["Mon", "Tue", "Wed", "Thu", "Fri"] as const;

/** A rail of the washstand each evening, glued in the warm; the one before comes out of its clamps. */
const gluingEvenings = (pen: Pen): Line[] =>
  evenings.flatMap((day, index) => [
    ...(index === 0 ? [] : [pen.release(`${day} 19:45`, "rufus", "K-210", `Rail ${index}`)]),
    pen.joint(`${day} 21:30`, "rufus", "K-210", `Rail ${index + 1}`, { room: "loft" }),
  ]);
