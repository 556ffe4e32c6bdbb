import { dayMs, type InstantMs } from "../units";
import type { Role } from "./entities/people";
import type { Member } from "./tables";

/** The role that a member held at an instant, or nobody's. */
export const roleAt = (member: Pick<Member, "roleSpans">, at: InstantMs): Role | undefined =>
  member.roleSpans.find((span) => span.fromAt <= at && (span.toAt === undefined || at < span.toAt))?.role;

/** When the membership ended; undefined while it lasts. */
export const endedAt = (member: Pick<Member, "roleSpans">): InstantMs | undefined => member.roleSpans.at(-1)?.toAt;

/** So long after the end of a membership its member's devices may deliver what was made before. */
export const lastDeliveryMs = 14 * dayMs;

/** The role that a member holds until somebody changes it. For screens, whose clock may stand a moment before it began. */
export const currentRole = (member: Pick<Member, "roleSpans">): Role | undefined => {
  const last = member.roleSpans.at(-1);
  return last && last.toAt === undefined ? last.role : undefined;
};

export const isMember = (member: Pick<Member, "roleSpans">): boolean => endedAt(member) === undefined;

/** From least to most that a member may do on the floor; a word counts with the lesser of two roles. */
const rank: Record<Role, number> = { outlet: 0, bookkeeper: 1, helper: 2, partner: 3, owner: 4 };

export const lesserRole = (a: Role, b: Role): Role => (rank[a] <= rank[b] ? a : b);

export const floorHands = ["owner", "partner", "helper"] as const satisfies readonly Role[];
export const partners = ["owner", "partner"] as const satisfies readonly Role[];
export const members = ["owner", "partner", "helper", "bookkeeper"] as const satisfies readonly Role[];

/** Who may see hours by person: the office always, partners by the shop's setting; everybody sees their own. */
export const seesOthersHours = (role: Role, partnersSeeHours: boolean): boolean =>
  role === "owner" || role === "bookkeeper" || (role === "partner" && partnersSeeHours);
