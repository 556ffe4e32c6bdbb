import * as z from "zod/mini";
import { mayRecord } from "../../labour/entry";
import { text } from "../../text";
import { dayMs, instant } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, type Ruling, refused } from "../define";
import { idOf, memberId } from "../entities/ids";
import { invitationRow, memberRow, type Role, roles, skills } from "../entities/people";
import type { Change } from "../event";
import type { Facts, Need } from "../facts";
import { editField } from "../field-edit";
import { floorHands, isMember, members } from "../roles";
import type { Member } from "../tables";

/** An invitation that lies about longer is found by somebody it was not for. */
const invitationMs = 14 * dayMs;

export const invite = defineIntent({
  kind: "invite",
  sort: "word",
  who: ["owner"],
  body: z.object({
    invitationId: idOf<"invitation">(),
    role: z.enum(roles),
    forName: invitationRow.shape.forName,
    secretSha256: invitationRow.shape.secretSha256,
    expiresAt: instant,
  }),
  reads: (body) => [{ table: "invitation", field: "secretSha256", value: body.secretSha256 }],
  judge: (c) => {
    const { invitationId: id, ...fields } = c.body;
    const [min, max] = [c.when.recordedAt, c.when.madeAt + invitationMs];
    if (fields.expiresAt <= min || fields.expiresAt > max) {
      return refused({ kind: "out-of-bounds", field: "expiresAt", found: fields.expiresAt, min, max });
    }
    if (c.facts.where("invitation", "secretSha256", fields.secretSha256).length > 0) {
      return refused({ kind: "malformed", field: "secretSha256", expected: "a secret of its own" });
    }
    return accepted({ kind: "invited", memberId: c.by.id, changes: [made("invitation", { id, ...fields })] });
  },
});

export const withdrawInvitation = defineIntent({
  kind: "withdraw-invitation",
  sort: "word",
  who: ["owner"],
  body: z.object({ invitationId: idOf<"invitation">() }),
  reads: (body) => [{ table: "invitation", id: body.invitationId }],
  judge: (c) => {
    const invitation = c.facts.get("invitation", c.body.invitationId);
    if (!invitation) return refused({ kind: "unknown-thing", field: "invitationId" });
    if (invitation.withdrawnAt !== undefined) return alreadySo();
    if (invitation.usedBy !== undefined) return refused({ kind: "invitation-over", reason: "used" });
    return accepted({
      kind: "invitation-withdrawn",
      memberId: c.by.id,
      changes: [changed("invitation", invitation.id, { withdrawnAt: c.when.recordedAt })],
    });
  },
});

/** What a member has in hand: live claims with their tasks, and the running timer. */
const inHandNeeds = (of: string, facts: Facts): Need[] => [
  { table: "claim", all: true },
  { running: true },
  ...claimsOf(facts, of).map((claim): Need => ({ table: "task", id: claim.taskId })),
];

const claimsOf = (facts: Facts, of: string) =>
  facts.all("claim").filter((claim) => claim.endedAt === undefined && claim.memberIds.includes(of));

const roleNow = (member: Member): Role | undefined => (isMember(member) ? member.roleSpans.at(-1)?.role : undefined);

/** A shop without an owner could never be led again. */
const isLastOwner = (facts: Facts, member: Member): boolean =>
  roleNow(member) === "owner" &&
  !facts.all("member").some((other) => other.id !== member.id && roleNow(other) === "owner");

const spanClosed = (member: Member, { when, seq }: Pick<Context<unknown>, "when" | "seq">): Member["roleSpans"] =>
  member.roleSpans.map((span, index) =>
    index === member.roleSpans.length - 1 ? { ...span, toAt: when.recordedAt, toSeq: seq } : span,
  );

export const changeRole = defineIntent({
  kind: "change-role",
  sort: "word",
  who: ["owner"],
  body: z.object({ memberId, role: z.enum(roles) }),
  reads: (body, facts) => inHandNeeds(body.memberId, facts),
  judge: (c) => {
    const member = c.facts.get("member", c.body.memberId);
    if (!member || !isMember(member)) return refused({ kind: "unknown-thing", field: "memberId" });
    const { role } = c.body;
    if (roleNow(member) === role) return alreadySo();
    if (isLastOwner(c.facts, member)) return refused({ kind: "last-owner" });
    const at = c.when.recordedAt;
    const roleSpans = [...spanClosed(member, c), { role, fromAt: at }];
    const changes: Change[] = [changed("member", member.id, { roleSpans, seesOffice: role === "partner" })];
    // only those who work on the floor hold its tasks, and an outlet has no hours
    if (!(floorHands as readonly Role[]).includes(role)) changes.push(...claimsLetGo(c, member.id, "ended-by-owner"));
    if (!(members as readonly Role[]).includes(role)) changes.push(...timersStopped(c, member.id));
    return accepted({ kind: "role-changed", memberId: member.id, changes });
  },
});

export const endMembership = defineIntent({
  kind: "end-membership",
  sort: "word",
  who: ["owner"],
  body: z.object({ memberId, why: text(300) }),
  reads: (body, facts) => inHandNeeds(body.memberId, facts),
  judge: (c) => {
    const member = c.facts.get("member", c.body.memberId);
    if (!member) return refused({ kind: "unknown-thing", field: "memberId" });
    return ended(c, member);
  },
});

export const leave = defineIntent({
  kind: "leave",
  sort: "word",
  who: members,
  body: z.object({}),
  reads: (_body, facts, intent) => inHandNeeds(intent.memberId, facts),
  judge: (c) => ended(c, c.by),
});

function ended(c: Context<unknown>, member: Member): Ruling {
  if (!isMember(member)) return alreadySo();
  if (isLastOwner(c.facts, member)) return refused({ kind: "last-owner" });
  return accepted({
    kind: "member-ended",
    memberId: member.id,
    changes: [
      changed("member", member.id, { roleSpans: spanClosed(member, c) }),
      ...claimsLetGo(c, member.id, "membership-ended"),
      ...timersStopped(c, member.id),
    ],
  });
}

/** A task held by two stays with the other; one held alone is open again. */
const claimsLetGo = (c: Context<unknown>, of: string, ending: "membership-ended" | "ended-by-owner"): Change[] =>
  claimsOf(c.facts, of).flatMap((claim) => {
    const others = claim.memberIds.filter((id) => id !== of);
    if (others.length > 0) return [changed("claim", claim.id, { memberIds: others })];
    const end = changed("claim", claim.id, { endedAt: c.when.recordedAt, ending });
    const isHeld = c.facts.get("task", claim.taskId)?.state === "held";
    return isHeld ? [end, changed("task", claim.taskId, { state: "open" })] : [end];
  });

/** A timer that had not run at all never was; one that was forgotten counts only after a word. */
const timersStopped = (c: Context<unknown>, of: string): Change[] =>
  c.facts
    .running()
    .filter((entry) => entry.memberId === of)
    .map((entry) => {
      const endedAt = c.when.recordedAt;
      const verdict = mayRecord({ startedAt: entry.startedAt, endedAt, source: "timer" });
      return verdict.ok
        ? changed("entry", entry.id, { endedAt, needsWord: entry.needsWord ?? verdict.value.needsWord })
        : changed("entry", entry.id, { struckAt: endedAt });
    });

const was = z.optional(z.unknown());
const editable = z.discriminatedUnion("field", [
  z.object({ memberId, field: z.literal("name"), was, value: memberRow.shape.name }),
  z.object({ memberId, field: z.literal("markLetter"), was, value: memberRow.shape.markLetter }),
  z.object({ memberId, field: z.literal("markOutline"), was, value: memberRow.shape.markOutline }),
  z.object({
    memberId,
    field: z.literal("skills"),
    was,
    value: z.array(z.enum(skills)).check(z.maxLength(skills.length)),
  }),
  z.object({ memberId, field: z.literal("seesOffice"), was, value: z.boolean() }),
]);

/** Everybody's own name and mark; what a member can do and may see is the owner's to say. */
const ownFields: readonly string[] = ["name", "markLetter", "markOutline"];

export const editMember = defineIntent({
  kind: "edit-member",
  sort: "plan",
  who: members,
  body: editable,
  reads: () => [],
  judge: (c) => {
    const member = c.facts.get("member", c.body.memberId);
    if (!member || !isMember(member)) return refused({ kind: "unknown-thing", field: "memberId" });
    const isOwn = member.id === c.by.id && ownFields.includes(c.body.field);
    if (!isOwn && c.role !== "owner") return refused({ kind: "may-not", role: c.role, needs: ["owner"] });
    return editField(c, "member", member, { kind: "member-changed" });
  },
});
