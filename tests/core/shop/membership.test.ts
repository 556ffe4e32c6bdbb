import { expect, test } from "vitest";
import { roleAt } from "~/core/shop/roles";
import type { Row } from "~/core/shop/tables";
import { dayMs, hourMs } from "~/core/units";
import {
  aClaim,
  anEntry,
  aPiece,
  aTask,
  bruno,
  envelopeOf,
  eventKinds,
  fern,
  hanna,
  id,
  monday8,
  odile,
  refusalOf,
  rule,
  shopWith,
  silas,
} from "../support/shop";

const secretSha256 = "c".repeat(64);
const invitation = {
  invitationId: id(301),
  role: "helper",
  forName: "Petra",
  secretSha256,
  expiresAt: monday8 + 14 * dayMs,
};

test("the owner invites somebody by a name and a role, for two weeks at most", () => {
  const facts = shopWith();
  expect(rule(facts, envelopeOf("invite", invitation, fern)).verdict).toBe("accepted");
  const { invitationId, ...fields } = invitation;
  expect(facts.get("invitation", invitationId)).toEqual({ id: invitationId, ...fields });
});

test("nobody but the owner invites", () => {
  for (const by of [silas, hanna, bruno]) {
    const refusal = refusalOf(rule(shopWith(), envelopeOf("invite", invitation, by)));
    expect(refusal).toMatchObject({ kind: "may-not", needs: ["owner"] });
  }
});

test.each([
  ["lasts longer than two weeks", monday8 + 14 * dayMs + 1],
  ["is over already", monday8],
])("an invitation that %s is not written", (_, expiresAt) => {
  const refusal = refusalOf(rule(shopWith(), envelopeOf("invite", { ...invitation, expiresAt }, fern)));
  expect(refusal).toEqual({
    kind: "out-of-bounds",
    field: "expiresAt",
    found: expiresAt,
    min: monday8,
    max: monday8 + 14 * dayMs,
  });
});

test("two invitations never share a secret", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("invite", invitation, fern));
  const second = rule(facts, envelopeOf("invite", { ...invitation, invitationId: id(302) }, fern));
  expect(refusalOf(second)).toEqual({ kind: "malformed", field: "secretSha256", expected: "a secret of its own" });
});

const invited = (row: Partial<Row<"invitation">> = {}): Row<"invitation"> => ({
  id: id(301),
  role: "helper",
  forName: "Petra",
  secretSha256,
  expiresAt: monday8 + dayMs,
  ...row,
});

test("an invitation can be withdrawn, and withdrawing it again changes nothing", () => {
  const facts = shopWith({ invitation: [invited()] });
  rule(facts, envelopeOf("withdraw-invitation", { invitationId: id(301) }, fern));
  expect(facts.get("invitation", id(301))?.withdrawnAt).toBe(monday8);
  const again = rule(
    facts,
    envelopeOf("withdraw-invitation", { invitationId: id(301) }, fern, { at: monday8 + hourMs }),
  );
  expect(again).toEqual({ verdict: "accepted", events: [] });
});

test("an invitation that somebody has used cannot be withdrawn, and one that never was is unknown", () => {
  const facts = shopWith({ invitation: [invited({ usedBy: hanna })] });
  const used = rule(facts, envelopeOf("withdraw-invitation", { invitationId: id(301) }, fern));
  expect(refusalOf(used)).toEqual({ kind: "invitation-over", reason: "used" });
  const unknown = rule(facts, envelopeOf("withdraw-invitation", { invitationId: id(399) }, fern));
  expect(refusalOf(unknown)).toEqual({ kind: "unknown-thing", field: "invitationId" });
});

test("a change of role counts from the moment it is recorded; what was before stays as it was", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("change-role", { memberId: hanna, role: "partner" }, fern));
  const member = facts.get("member", hanna) as Row<"member">;
  expect(roleAt(member, monday8 - 1)).toBe("helper");
  expect(roleAt(member, monday8)).toBe("partner");
  expect(member.seesOffice).toBe(true);
});

test("giving somebody the role that they have changes nothing", () => {
  const ruling = rule(shopWith(), envelopeOf("change-role", { memberId: hanna, role: "helper" }, fern));
  expect(ruling).toEqual({ verdict: "accepted", events: [] });
});

test("whoever no longer works on the floor lets go of the tasks that they held", () => {
  const facts = shopWith({
    task: [aTask({ id: id(201), state: "held" })],
    claim: [aClaim({ id: id(211), taskId: id(201), memberIds: [hanna] })],
  });
  rule(facts, envelopeOf("change-role", { memberId: hanna, role: "bookkeeper" }, fern));
  expect(facts.get("task", id(201))?.state).toBe("open");
  expect(facts.get("claim", id(211))).toMatchObject({ endedAt: monday8, ending: "ended-by-owner" });
});

test("the last owner can neither step down nor leave, until there is another", () => {
  const facts = shopWith();
  const refusals = [
    rule(facts, envelopeOf("change-role", { memberId: fern, role: "partner" }, fern)),
    rule(facts, envelopeOf("leave", {}, fern)),
    rule(facts, envelopeOf("end-membership", { memberId: fern, why: "Sold the shop" }, fern)),
  ].map(refusalOf);
  expect(refusals).toEqual([{ kind: "last-owner" }, { kind: "last-owner" }, { kind: "last-owner" }]);

  rule(facts, envelopeOf("change-role", { memberId: silas, role: "owner" }, fern));
  expect(eventKinds(rule(facts, envelopeOf("leave", {}, fern, { at: monday8 + hourMs })))).toEqual(["member-ended"]);
});

test("when a membership ends, the tasks held alone are open again and the running timer stops there", () => {
  const facts = shopWith({
    piece: [aPiece()],
    task: [aTask({ id: id(201), state: "held" }), aTask({ id: id(202), state: "held" })],
    claim: [
      aClaim({ id: id(211), taskId: id(201), memberIds: [hanna] }),
      aClaim({ id: id(212), taskId: id(202), memberIds: [hanna, silas] }),
    ],
    entry: [anEntry({ id: id(221), memberId: hanna })],
  });
  const ruling = rule(facts, envelopeOf("end-membership", { memberId: hanna, why: "Season is over" }, fern));
  expect(eventKinds(ruling)).toEqual(["member-ended"]);
  expect(facts.get("member", hanna)?.roleSpans.at(-1)?.toAt).toBe(monday8);
  expect(facts.get("claim", id(211))).toMatchObject({ endedAt: monday8, ending: "membership-ended" });
  expect(facts.get("task", id(201))?.state).toBe("open");
  expect(facts.get("entry", id(221))?.endedAt).toBe(monday8);
  expect(facts.running()).toEqual([]);
  // held by two: the other goes on
  expect(facts.get("claim", id(212))?.memberIds).toEqual([silas]);
  expect(facts.get("claim", id(212))?.endedAt).toBeUndefined();
  expect(facts.get("task", id(202))?.state).toBe("held");
});

test("a timer forgotten for more than sixteen hours counts only after a word, also when its member leaves", () => {
  const facts = shopWith({ entry: [anEntry({ id: id(221), memberId: hanna, startedAt: monday8 - 17 * hourMs })] });
  rule(facts, envelopeOf("leave", {}, hanna));
  expect(facts.get("entry", id(221))).toMatchObject({ endedAt: monday8, needsWord: "over-sixteen-hours" });
});

test("somebody else's timers and claims outlast the end of a membership", () => {
  const facts = shopWith({
    task: [aTask({ id: id(201), state: "held" })],
    claim: [aClaim({ id: id(211), taskId: id(201), memberIds: [silas] })],
    entry: [anEntry({ id: id(221), memberId: silas })],
  });
  rule(facts, envelopeOf("leave", {}, hanna));
  expect(facts.get("claim", id(211))?.endedAt).toBeUndefined();
  expect(facts.running().map((entry) => entry.id)).toEqual([id(221)]);
});

test("a membership ends once, and nobody unknown is ended or given a role", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("end-membership", { memberId: hanna, why: "Season is over" }, fern));
  const later = { at: monday8 + hourMs };
  const again = rule(facts, envelopeOf("end-membership", { memberId: hanna, why: "Again" }, fern, later));
  expect(again).toEqual({ verdict: "accepted", events: [] });
  const role = rule(facts, envelopeOf("change-role", { memberId: hanna, role: "partner" }, fern, later));
  expect(refusalOf(role)).toEqual({ kind: "unknown-thing", field: "memberId" });
  const unknown = rule(facts, envelopeOf("end-membership", { memberId: id(99), why: "Who?" }, fern, later));
  expect(refusalOf(unknown)).toEqual({ kind: "unknown-thing", field: "memberId" });
});

test("whoever has left asks for nothing any more", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("leave", {}, hanna));
  const after = rule(facts, envelopeOf("leave", {}, hanna, { at: monday8 + hourMs }));
  expect(refusalOf(after)).toEqual({ kind: "no-longer-a-member", endedAt: monday8 });
});

test("an outlet does not leave by itself: the owner ends it", () => {
  expect(refusalOf(rule(shopWith(), envelopeOf("leave", {}, odile)))).toMatchObject({
    kind: "may-not",
    role: "outlet",
  });
});

test("everybody chooses their own name and mark", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("edit-member", { memberId: hanna, field: "name", was: "Hanna", value: "Hanna W." }, hanna));
  rule(facts, envelopeOf("edit-member", { memberId: hanna, field: "markOutline", was: "disc", value: "house" }, hanna));
  expect(facts.get("member", hanna)).toMatchObject({ name: "Hanna W.", markOutline: "house" });
});

test("what a member can do and may see is the owner's to say, and another's name is not a helper's to change", () => {
  const facts = shopWith();
  const skills = { memberId: hanna, field: "skills", was: ["brush", "strip"], value: ["brush", "strip", "spray"] };
  expect(refusalOf(rule(facts, envelopeOf("edit-member", skills, hanna)))).toEqual({
    kind: "may-not",
    role: "helper",
    needs: ["owner"],
  });
  const name = { memberId: silas, field: "name", was: "Silas", value: "Sy" };
  expect(refusalOf(rule(facts, envelopeOf("edit-member", name, hanna)))).toEqual({
    kind: "may-not",
    role: "helper",
    needs: ["owner"],
  });
  rule(facts, envelopeOf("edit-member", skills, fern));
  rule(facts, envelopeOf("edit-member", { memberId: silas, field: "seesOffice", was: true, value: false }, fern));
  expect(facts.get("member", hanna)?.skills).toEqual(["brush", "strip", "spray"]);
  expect(facts.get("member", silas)?.seesOffice).toBe(false);
});

test("two who change a name at once: the second is shown the first's", () => {
  const facts = shopWith();
  rule(facts, envelopeOf("edit-member", { memberId: hanna, field: "name", was: "Hanna", value: "Hanne" }, hanna));
  const second = rule(
    facts,
    envelopeOf("edit-member", { memberId: hanna, field: "name", was: "Hanna", value: "Anna" }, fern),
  );
  expect(refusalOf(second)).toEqual({ kind: "changed-meanwhile", field: "name", was: "Hanna", theirs: "Hanne" });
  const unknown = rule(facts, envelopeOf("edit-member", { memberId: id(99), field: "name", value: "Nobody" }, fern));
  expect(refusalOf(unknown)).toEqual({ kind: "unknown-thing", field: "memberId" });
});

test("a name that turns the direction of the text around it is not taken", () => {
  const hidden = { memberId: hanna, field: "name", was: "Hanna", value: "Hanna\u202Egro" };
  const refusal = refusalOf(rule(shopWith(), envelopeOf("edit-member", hidden, hanna)));
  expect(refusal).toEqual({ kind: "text-not-fit", field: "value", reason: "hidden-character" });
});
