import { expect, test } from "vitest";
import { definitionOf } from "~/core/shop/intents";
import type { Member, Shop } from "~/core/shop/tables";
import { membersShown } from "~/ui/members/member-shown";
import { shopChanges } from "~/ui/members/shop-settings";
import { id, monday8 } from "../../core/support/people";

const member = (number: number, name: string, roleSpans: Member["roleSpans"]): Member => ({
  id: id(number),
  name,
  markLetter: name.slice(0, 1),
  markOutline: "disc",
  roleSpans,
  skills: [],
  seesOffice: false,
});

test("the owner stands first, and who has left stands apart with the day of it", () => {
  const owner = member(1, "Fern", [{ role: "owner", fromAt: 0 }]);
  const helper = member(2, "Anna", [{ role: "helper", fromAt: 0 }]);
  const gone = member(3, "Silas", [{ role: "partner", fromAt: 0, toAt: monday8 - 1 }]);
  const { here, left } = membersShown([gone, helper, owner], helper.id);
  expect(here.map((shown) => shown.member.name)).toEqual(["Fern", "Anna"]);
  expect(here.map((shown) => shown.isMe)).toEqual([false, true]);
  expect(left).toMatchObject([{ leftAt: monday8 - 1 }]);
  expect(left[0]?.role).toBeUndefined();
});

test("a member since spring whose role changed in autumn is a member since spring", () => {
  const partner = member(4, "Rose", [
    { role: "helper", fromAt: 1000, toAt: 2000 },
    { role: "partner", fromAt: 2000 },
  ]);
  expect(membersShown([partner], undefined).here).toMatchObject([{ sinceAt: 1000, role: "partner" }]);
});

const shop: Shop = {
  id: id(9),
  name: "The Old Creamery",
  zone: "America/New_York",
  country: "US",
  currency: "USD",
  weekStartsOn: 1,
  leaseMin: 4320,
  leaseAskMin: 1440,
  helperTestOpens: false,
  partnersSeeHours: true,
  tabletRecheckMin: 60,
  leadBanYear: 1978,
};

test.each([
  { leaseMin: 600, leaseAskMin: 120, order: ["leaseAskMin", "leaseMin"] },
  { leaseMin: 9000, leaseAskMin: 5000, order: ["leaseMin", "leaseAskMin"] },
])("on the way to a lease of $leaseMin min the reminder never lies beyond the lease", ({ order, ...lease }) => {
  const { id: _, ...settings } = shop;
  let now = { leaseMin: shop.leaseMin, leaseAskMin: shop.leaseAskMin };
  const changes = shopChanges(shop, { ...settings, ...lease });
  expect(changes.map(({ key }) => key)).toEqual(order);
  for (const { key, value } of changes) {
    now = { ...now, [key]: value };
    expect(now.leaseAskMin).toBeLessThanOrEqual(now.leaseMin);
    expect(definitionOf("set-shop")?.body.safeParse({ key, value, was: 0 }).success).toBe(true);
  }
});
