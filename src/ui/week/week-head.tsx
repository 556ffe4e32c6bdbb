"use client";
import { addDays } from "~/core/calendar";
import { dayName } from "../format";
import { Key, Keys } from "../kit/key";
import { useWeek } from "./week-context";
import { clockChangeWords } from "./week-shown";

/** Which week this is, and the ways to the ones around it. */
export function WeekHead() {
  const { answer, now, zone } = useWeek();
  const { week, seesAll } = answer;
  const { startsOn, fromAt, toAt, label } = week;
  const title = label ? `Week ${label.slice(-2)}` : `Week of ${dayName(fromAt, zone)}`;
  const change = clockChangeWords(week);
  const address = (days: number) => `/week?from=${addDays(startsOn, days)}`;
  return (
    <header className="week-head">
      <div>
        <h2>
          {title}
          {label && <small> {label}</small>}
        </h2>
        <p>
          {dayName(fromAt, zone)} 00:00 to {dayName(toAt - 1, zone)} 24:00 · {zone}
        </p>
        {change && <p className="week-change">{change}.</p>}
        {!seesAll && <p>Your own hours. The owner and the bookkeeper see everybody’s.</p>}
        {now >= fromAt && now < toAt && <p>The week still runs.</p>}
      </div>
      <Keys>
        <Key href={address(-7)}>Week before</Key>
        {toAt <= now && <Key href={address(7)}>Week after</Key>}
      </Keys>
    </header>
  );
}
