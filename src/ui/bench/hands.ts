import type { Facts } from "~/core/shop/facts";
import { currentRole, floorHands } from "~/core/shop/roles";
import type { Member } from "~/core/shop/tables";

/** Does this member do work on the floor now? The office and the outlet do not. */
export function isFloorHand(member: Member | undefined): boolean {
  const role = member && currentRole(member);
  return role !== undefined && (floorHands as readonly string[]).includes(role);
}

/** Everybody else who can take work over. */
export const handsBeside = (facts: Facts, memberId: string): Member[] =>
  facts.all("member").filter((member) => member.id !== memberId && isFloorHand(member));
