import { addDays, dayStartAt, wallTimeAt } from "~/core/calendar";
import { dayMs, hourMs, type InstantMs, minuteMs, type ShopDay } from "~/core/units";

export const zone = "America/New_York";

const weekdays = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"] as const;
export type Weekday = (typeof weekdays)[number];
/** As people in the shop say it: `Tue 19:30`. */
export type Wall = `${Weekday} ${string}:${string}`;

/** A week of the shop, so that its lines can be written as people say them. */
export class WeekClock {
  constructor(readonly monday: ShopDay) {}

  /** The week so many weeks later. */
  later(weeks: number): WeekClock {
    return new WeekClock(addDays(this.monday, 7 * weeks));
  }

  get startsAt(): InstantMs {
    return dayStartAt(this.monday, zone);
  }

  get endsAt(): InstantMs {
    return this.later(1).startsAt;
  }

  /** @param daysLater 7 is the Monday after */
  day(daysLater: number): ShopDay {
    return addDays(this.monday, daysLater);
  }

  at(wall: Wall): InstantMs {
    const [weekday, time] = wall.split(" ") as [Weekday, string];
    const found = wallTimeAt(this.day(weekdays.indexOf(weekday)), time, zone);
    if (!found.ok) throw new Error(`there is no ${wall} in the week of ${this.monday}`);
    return found.value.at;
  }

  /** As `at` in a week whose clocks never change: films know no summer time, and who waits for one comes when it is due. */
  filmAt(wall: Wall): InstantMs {
    const [weekday, time] = wall.split(" ") as [Weekday, string];
    const [hour, minute] = time.split(":").map(Number) as [number, number];
    return this.startsAt + weekdays.indexOf(weekday) * dayMs + hour * hourMs + minute * minuteMs;
  }
}
