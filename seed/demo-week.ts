/** The demo week of the invented shop, for any Monday: what each day is about is told in `week/`. */
import type { ShopDay } from "~/core/units";
import { demoAir, packets, usualAir } from "./air";
import { WeekClock } from "./clock";
import { Pen } from "./pen";
import { inOrder, type Line } from "./script";
import { weekBefore } from "./week/before";
import { friday } from "./week/friday";
import { monday as mondayLines } from "./week/monday";
import { saturday } from "./week/saturday";
import { sunday } from "./week/sunday";
import { thursday } from "./week/thursday";
import { tuesday } from "./week/tuesday";
import { wednesday } from "./week/wednesday";

const days = [mondayLines, tuesday, wednesday, thursday, friday, saturday, sunday];

/**
 * Everything from the founding of the shop, a week before, to that week's Sunday night.
 *
 * @param monday the first day of the demo week, and a Monday
 */
export function demoWeek(monday: ShopDay): Line[] {
  const clock = new WeekClock(monday);
  const before = clock.later(-1);
  const pen = new Pen(clock, demoAir(clock));
  return inOrder([
    ...weekBefore(new Pen(before, usualAir(before))),
    ...packets(pen, clock.startsAt, clock.endsAt),
    ...days.flatMap((day) => day(pen)),
  ]);
}
