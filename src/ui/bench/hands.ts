import type { Facts } from "~/core/shop/facts";
import { floorHands, isMember, roleAt } from "~/core/shop/roles";
import type { Member } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";

/** Does this member do work on the floor now? The office and the outlet do not. */
export function isFloorHand(member: Member | undefined, now: InstantMs): boolean {
  const role = member && isMember(member) ? roleAt(member, now) : undefined;
  return role !== undefined && (floorHands as readonly string[]).includes(role);
}

/** Everybody else who can take work over. */
export const handsBeside = (facts: Facts, memberId: string, now: InstantMs): Member[] =>
  facts.all("member").filter((member) => member.id !== memberId && isFloorHand(member, now));
