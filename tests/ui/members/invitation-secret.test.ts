import { expect, test } from "vitest";
import { joinAddress } from "~/ui/members/invitation-secret";

test("the secret stands behind the #, where no server sees it", () => {
  const address = new URL(joinAddress("https://shop.local:3000", "abc_-"));
  expect([address.pathname, address.search, address.hash]).toEqual(["/join", "", "#abc_-"]);
});
