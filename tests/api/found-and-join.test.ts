import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { dayMs } from "~/core/units";
import { checkSignIn } from "~/data/accounts";
import { closeDatabase, database } from "~/data/db";
import { createLink } from "~/data/links";
import { accepted, foundingOf, freshShop, mondayAt, newId } from "../support/database";
import { joiningWith, password, ShopApi } from "./support/shop-api";

let api: ShopApi;
beforeEach(() => {
  api = new ShopApi();
});
afterEach(() => api.stop());
afterAll(closeDatabase);

const foundersCode = (now = mondayAt) => createLink({ sort: "founder", now, expiresAt: now + dayMs });

function foundingWith(code: string, more: object = {}) {
  const shopId = newId();
  return { code, shopId, signInName: newId(), password, intentId: newId(), body: { ...foundingOf(shopId), ...more } };
}

const found = async (founding: ReturnType<typeof foundingWith>) => (await api.as()).account.found(founding);
const join = async (joining: ReturnType<typeof joiningWith>) => (await api.as()).account.join(joining);

const hasAccount = async (signInName: string) => (await database().account.count({ where: { signInName } })) === 1;
const memberCount = (shopId: string) => database().member.count({ where: { shopId } });
const shopCount = (id: string) => database().shop.count({ where: { id } });

describe("the founder's code", () => {
  test("opens a shop with its owner, who can then sign in", async () => {
    const founding = foundingWith(await foundersCode());
    expect(await found(founding)).toMatchObject({ ok: true, value: { verdict: "accepted" } });
    const { signInName } = founding;
    const account = await checkSignIn({ signInName, password, now: mondayAt });
    expect(account.ok).toBe(true);
    const seat = await database().seat.findFirst({ where: { shopId: founding.shopId } });
    expect(seat).toMatchObject({ memberId: founding.body.memberId, accountId: account.ok && account.value.accountId });
  });

  test("opens one shop only", async () => {
    const code = await foundersCode();
    await found(foundingWith(code));
    const second = foundingWith(code);
    expect(await found(second)).toEqual({ ok: false, refusal: { kind: "link-over" } });
    expect([await shopCount(second.shopId), await hasAccount(second.signInName)]).toEqual([0, false]);
  });

  test("opens one shop where two people use it at the same moment", async () => {
    const code = await foundersCode();
    const both = [foundingWith(code), foundingWith(code)];
    const answers = await Promise.all(both.map(found));
    expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
    const shops = await Promise.all(both.map(({ shopId }) => shopCount(shopId)));
    expect(shops.reduce((sum, count) => sum + count)).toBe(1);
  });

  test("that was mistyped opens nothing, and the right one still does", async () => {
    const code = await foundersCode();
    const wrong = foundingWith(`${code.slice(0, -1)}!`);
    expect(await found(wrong)).toEqual({ ok: false, refusal: { kind: "link-over" } });
    expect(await shopCount(wrong.shopId)).toBe(0);
    expect(await found(foundingWith(code))).toMatchObject({ ok: true });
  });

  test("is over after its day", async () => {
    const code = await foundersCode(mondayAt - dayMs);
    expect(await found(foundingWith(code))).toEqual({ ok: false, refusal: { kind: "link-over" } });
  });

  test("is not spent on a shop whose time zone does not exist", async () => {
    const code = await foundersCode();
    const answer = await found(foundingWith(code, { zone: "Atlantis/Capital" }));
    expect(answer).toMatchObject({
      ok: true,
      value: { verdict: "refused", refusal: { kind: "malformed", field: "zone" } },
    });
    expect(await found(foundingWith(code))).toMatchObject({ ok: true, value: { verdict: "accepted" } });
  });

  test("is not spent on a password that is too short, and no shop is left behind", async () => {
    const code = await foundersCode();
    const hasty = { ...foundingWith(code), password: "varnish" };
    // ten characters: our reading of NIST SP 800-63B 3.1.1.2, which asks for eight at least
    expect(await found(hasty)).toEqual({ ok: false, refusal: { kind: "password-too-short", min: 10 } });
    expect(await shopCount(hasty.shopId)).toBe(0);
    expect(await found(foundingWith(code))).toMatchObject({ ok: true });
  });
});

describe("an invitation", () => {
  test("says whose it is, and being looked at does not spend it", async () => {
    const shop = await freshShop();
    const { secret } = await api.invite(shop, "helper", "Hanna");
    const look = async () => (await api.as()).account.invitation({ secret });
    await look();
    expect(await look()).toEqual({
      shopId: shop.shopId,
      shopName: "A bench and a lamp",
      role: "helper",
      forName: "Hanna",
    });
    expect(await join(joiningWith(secret))).toMatchObject({ ok: true, value: { verdict: "accepted" } });
  });

  test("lets in one person, in the role that it was made for", async () => {
    const shop = await freshShop();
    const { secret } = await api.invite(shop, "bookkeeper");
    const joining = joiningWith(secret);
    await join(joining);
    const member = await database().member.findFirst({ where: { id: joining.body.memberId } });
    expect(member?.roleSpans).toEqual([{ role: "bookkeeper", fromAt: mondayAt }]);
    const second = joiningWith(secret);
    expect(await join(second)).toMatchObject({
      value: { verdict: "refused", refusal: { kind: "invitation-over", reason: "used" } },
    });
    expect(await hasAccount(second.signInName)).toBe(false);
    expect(await (await api.as()).account.invitation({ secret })).toBeUndefined();
  });

  test("lets in one of two who use it at the same moment", async () => {
    const shop = await freshShop();
    const { secret } = await api.invite(shop, "partner");
    const both = [joiningWith(secret), joiningWith(secret)];
    await Promise.all(both.map(join));
    expect(await memberCount(shop.shopId)).toBe(2); // the owner, and one of them
    const accounts = await Promise.all(both.map(({ signInName }) => hasAccount(signInName)));
    expect(accounts.filter(Boolean)).toHaveLength(1);
  });

  test("is over when its time has passed", async () => {
    const shop = await freshShop();
    const { secret } = await api.invite(shop, "helper");
    api.now += 2 * dayMs;
    expect(await (await api.as()).account.invitation({ secret })).toBeUndefined();
    expect(await join(joiningWith(secret))).toMatchObject({
      value: { verdict: "refused", refusal: { kind: "invitation-over", reason: "expired" } },
    });
  });

  test("is over when the owner has withdrawn it", async () => {
    const shop = await freshShop();
    const { secret, invitationId } = await api.invite(shop, "helper");
    await accepted(shop.owner, "withdraw-invitation", { invitationId });
    expect(await (await api.as()).account.invitation({ secret })).toBeUndefined();
    expect(await join(joiningWith(secret))).toMatchObject({
      value: { verdict: "refused", refusal: { kind: "invitation-over", reason: "withdrawn" } },
    });
  });

  test("leaves no member behind when the sign-in name is somebody else's, and can be used with another", async () => {
    const shop = await freshShop();
    const taken = joiningWith((await api.invite(shop, "helper")).secret);
    await join(taken);
    const { secret } = await api.invite(shop, "helper");
    const members = await memberCount(shop.shopId);
    // names are the same whatever their case
    const clash = joiningWith(secret, taken.signInName.toUpperCase());
    expect(await join(clash)).toEqual({ ok: false, refusal: { kind: "name-taken" } });
    expect(await memberCount(shop.shopId)).toBe(members);
    expect(await join(joiningWith(secret))).toMatchObject({ ok: true, value: { verdict: "accepted" } });
  });

  test("that nobody made is not found, and does not tell which shops there are", async () => {
    const caller = await api.as();
    expect(await caller.account.invitation({ secret: "no such words" })).toBeUndefined();
    await expect(caller.account.join(joiningWith("no such words"))).rejects.toMatchObject({ code: "NOT_FOUND" });
  });

  test("reaches the new member's answer again when the first answer was lost on the way", async () => {
    const shop = await freshShop();
    const joining = joiningWith((await api.invite(shop, "helper")).secret);
    const first = await join(joining);
    expect(await join(joining)).toEqual(first);
    expect(await memberCount(shop.shopId)).toBe(2);
  });
});
