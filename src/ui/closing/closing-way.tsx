import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import { clockTime } from "~/ui/format";
import { Key, Keys } from "~/ui/kit/key";

/** From late afternoon until the small hours somebody is the last one out. */
export const isEvening = (now: InstantMs, zone: string): boolean => {
  const hour = Number(clockTime(now, zone).slice(0, 2));
  return hour >= 16 || hour < 4;
};

type ClosingWayProps = { facts: Facts; now: InstantMs; zone: string };

/** The way to closing up, where one's hands are anyway; by day only while oily rags lie open. */
export function ClosingWay({ facts, now, zone }: ClosingWayProps) {
  const areRagsOpen = facts
    .all("task")
    .some((task) => task.sort === "close-out" && (task.state === "open" || task.state === "held"));
  if (!areRagsOpen && !isEvening(now, zone)) return null;
  return (
    <div className="bench-ways">
      <Keys lay="stack">
        <Key glove wide href="/closing">
          {areRagsOpen ? "Closing up: oily rags are open" : "Closing up"}
        </Key>
      </Keys>
    </div>
  );
}
