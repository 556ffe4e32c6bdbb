/** The invented shop, for whoever wants to look around: last week whole, this week up to now. */
import { weekContaining } from "~/core/calendar";
import type { Role } from "~/core/shop/entities/people";
import type { InstantMs } from "~/core/units";
import { WeekClock, zone } from "./clock";
import { demoWeek } from "./demo-week";
import { people, shopId } from "./people";
import { play } from "./play";
import type { Line } from "./script";
import { thisWeek } from "./this-week";

export const demoShopId = shopId;
/** Of every invented member, and of nobody else. */
export const demoPassword = "creamery-demo";

export const demoSignInNames: { signInName: string; role: Role }[] = Object.entries(people).map(
  ([signInName, { role }]) => ({
    signInName,
    role,
  }),
);

/** All that has happened in the invented shop by now, in the order in which the server heard of it. */
export function demoLines(now: InstantMs): Line[] {
  const { startsOn } = weekContaining(now, zone, 1);
  return [...demoWeek(new WeekClock(startsOn).later(-1).monday), ...thisWeek(startsOn, now)];
}

/**
 * Plays the invented shop into a database that has no shop.
 *
 * @throws where the shop rules otherwise than the script expects
 */
export async function seedDemo({ now }: { now: InstantMs }): Promise<void> {
  await play(demoLines(now), demoPassword);
}
