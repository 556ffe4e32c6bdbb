import type { Role } from "~/core/shop/entities/people";
import { currentRole, isMember } from "~/core/shop/roles";
import type { Member } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";

export type MemberShown = {
  member: Member;
  /** Nobody's once they have left. */
  role?: Role;
  sinceAt?: InstantMs;
  leftAt?: InstantMs;
  isMe: boolean;
};

const order: readonly Role[] = ["owner", "partner", "helper", "bookkeeper", "outlet"];

/** Those who are here, by role and then name; and those who have left, the latest first. */
export function membersShown(members: readonly Member[], myId: string | undefined) {
  const shown = members.map(
    (member): MemberShown => ({
      member,
      role: currentRole(member),
      sinceAt: member.roleSpans[0]?.fromAt,
      leftAt: member.roleSpans.at(-1)?.toAt,
      isMe: member.id === myId,
    }),
  );
  const place = ({ role }: MemberShown) => (role ? order.indexOf(role) : order.length);
  const here = shown
    .filter(({ member }) => isMember(member))
    .sort((one, other) => place(one) - place(other) || one.member.name.localeCompare(other.member.name));
  const left = shown
    .filter(({ member }) => !isMember(member))
    .sort((one, other) => (other.leftAt ?? 0) - (one.leftAt ?? 0));
  return { here, left };
}

/** What each role may do, for choosing one. */
export const roleDetail: Record<Role, string> = {
  owner: "everything, and who is in the shop",
  partner: "everything on the floor, promises and plans",
  helper: "work, claims, readings and own hours",
  bookkeeper: "hours of everybody, and the weeks",
  outlet: "only looks at what it has on consignment",
};
