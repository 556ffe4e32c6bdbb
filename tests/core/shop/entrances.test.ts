import { expect, test } from "vitest";
import { MemoryFacts } from "~/core/shop/memory-facts";
import type { Row } from "~/core/shop/tables";
import { dayMs } from "~/core/units";
import { board, enter, fern, id, monday8, refusalOf, shopId, shopWith } from "../support/shop";

const founding = {
  shopId,
  name: "Mill Lane Furniture",
  zone: "America/New_York",
  country: "US",
  currency: "USD",
  memberId: fern,
  memberName: "Fern",
  markLetter: "F",
  markOutline: "arch",
  boardId: board,
  boardName: "Floor",
};

test("whoever founds a shop is its owner from that moment on, and the first piece has a board to hang on", () => {
  const facts = new MemoryFacts();
  const ruling = enter(facts, "found-shop", founding);
  expect(ruling.events.map((event) => event.kind)).toEqual(["shop-founded", "member-joined"]);
  expect(facts.get("member", fern)).toEqual({
    id: fern,
    name: "Fern",
    markLetter: "F",
    markOutline: "arch",
    roleSpans: [{ role: "owner", fromAt: monday8 }],
    skills: [],
    seesOffice: false,
  });
  expect(facts.all("board")).toEqual([{ id: board, name: "Floor" }]);
});

test("a new shop starts with a lease of three days, asked for a day before, and a helper's test opens nothing alone", () => {
  const facts = new MemoryFacts();
  enter(facts, "found-shop", founding);
  expect(facts.get("shop", shopId)).toEqual({
    id: shopId,
    name: "Mill Lane Furniture",
    zone: "America/New_York",
    country: "US",
    currency: "USD",
    weekStartsOn: 1,
    leaseMin: 3 * 24 * 60,
    leaseAskMin: 24 * 60,
    helperTestOpens: false,
    partnersSeeHours: true,
    tabletRecheckMin: 60,
    // source: US 16 CFR 1303
    leadBanYear: 1978,
  });
});

test("where no ban of lead in paint is known to us, no year of making clears old paint", () => {
  const facts = new MemoryFacts();
  enter(facts, "found-shop", { ...founding, country: "NZ", zone: "Pacific/Auckland", currency: "NZD" });
  expect(facts.get("shop", shopId)?.leadBanYear).toBe(2100);
});

test.each(["+02:00", "Mars/Olympus", "New York"])("a shop cannot be founded in the zone %s", (zone) => {
  const refusal = refusalOf(enter(new MemoryFacts(), "found-shop", { ...founding, zone }));
  expect(refusal).toEqual({ kind: "malformed", field: "zone", expected: "an IANA time zone" });
});

test("a shop without a name is not founded", () => {
  const refusal = refusalOf(enter(new MemoryFacts(), "found-shop", { ...founding, name: "   " }));
  expect(refusal).toEqual({ kind: "text-not-fit", field: "name", reason: "empty" });
});

const newcomer = id(16);
const secretSha256 = "a".repeat(64);
const joining = { secretSha256, memberId: newcomer, memberName: "Petra", markLetter: "P", markOutline: "cup" };

const anInvitation = (row: Partial<Row<"invitation">> = {}): Row<"invitation"> => ({
  id: id(301),
  role: "partner",
  forName: "Petra",
  secretSha256,
  expiresAt: monday8 + 7 * dayMs,
  ...row,
});

test("an invitation makes its bearer a member in the role that it names, and is used up", () => {
  const facts = shopWith({ invitation: [anInvitation()] });
  expect(enter(facts, "join", joining).verdict).toBe("accepted");
  expect(facts.get("member", newcomer)).toMatchObject({
    name: "Petra",
    roleSpans: [{ role: "partner", fromAt: monday8 }],
    seesOffice: true,
  });
  expect(facts.get("invitation", id(301))?.usedBy).toBe(newcomer);
});

test("of two who come with the same invitation only the first joins", () => {
  const facts = shopWith({ invitation: [anInvitation()] });
  enter(facts, "join", joining);
  const second = enter(facts, "join", { ...joining, memberId: id(17), memberName: "Paula" }, monday8 + 1);
  expect(refusalOf(second)).toEqual({ kind: "invitation-over", reason: "used" });
  expect(facts.get("member", id(17))).toBeUndefined();
});

test.each([
  ["withdrawn", anInvitation({ withdrawnAt: monday8 - dayMs })],
  ["expired", anInvitation({ expiresAt: monday8 })],
  ["unknown", anInvitation({ secretSha256: "b".repeat(64) })],
] as const)("nobody joins by an invitation that is %s", (reason, invitation) => {
  const refusal = refusalOf(enter(shopWith({ invitation: [invitation] }), "join", joining));
  expect(refusal).toEqual({ kind: "invitation-over", reason });
});

test("a secret under the id of another invitation opens nothing", () => {
  const facts = shopWith({ invitation: [anInvitation()] });
  const refusal = refusalOf(enter(facts, "join", { ...joining, invitationId: id(302) }));
  expect(refusal).toEqual({ kind: "invitation-over", reason: "unknown" });
});

test("a newcomer cannot take the place of somebody who is here", () => {
  const facts = shopWith({ invitation: [anInvitation()] });
  const refusal = refusalOf(enter(facts, "join", { ...joining, memberId: fern }));
  expect(refusal).toEqual({ kind: "malformed", field: "memberId", expected: "an id that nobody here has" });
  expect(facts.get("member", fern)?.name).toBe("Fern");
});
