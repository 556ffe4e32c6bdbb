import { afterAll, beforeAll, expect, test } from "vitest";
import { checkSignIn, seatsOf } from "~/data/accounts";
import { closeDatabase, database } from "~/data/db";
import { memberById } from "~/data/members";
import { demoPassword, demoShopId, demoSignInNames, seedDemo } from "../../seed/demo";
import "../support/database";

/** Thursday 5 November 2026, 10:20 in New York. */
const now = Date.UTC(2026, 10, 5, 15, 20);

beforeAll(() => seedDemo({ now }), 120_000);
afterAll(closeDatabase);

test.each(demoSignInNames)(
  "$signInName signs in with the demo's password, and is $role",
  async ({ signInName, role }) => {
    const found = await checkSignIn({ signInName, password: demoPassword, now });
    const [seat] = found.ok ? await seatsOf(found.value.accountId) : [];
    const member = seat && (await memberById(seat.shopId, seat.memberId));
    expect(member?.roleSpans.map((span) => span.role)).toEqual([role]);
  },
);

test("the ledger has every piece once: ten on the floor, and three that left last week", async () => {
  const pieces = await database().piece.findMany({ where: { shopId: demoShopId } });
  const left = pieces.filter((piece) => piece.archivedAt !== null).map((piece) => piece.number);
  expect([pieces.length, left.sort()]).toEqual([13, ["K-203", "K-208", "K-209"]]);
});

test("a claim that Sable made without signal was kept from taking what Fern had, and Fern was told", async () => {
  const told = await database().notice.findMany({ where: { shopId: demoShopId, about: "claim-contested" } });
  expect(told).toHaveLength(1);
});
