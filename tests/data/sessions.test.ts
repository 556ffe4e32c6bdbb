import { afterAll, describe, expect, test } from "vitest";
import { changePassword, checkSignIn, createAccount, seatsOf, takeSeat } from "~/data/accounts";
import { closeDatabase, database } from "~/data/db";
import { createLink, isLinkOpen, useLink } from "~/data/links";
import { createSession, endSession, endSessionsOf, sessionById } from "~/data/sessions";
import { accepted, freshShop, joined, minuteMs, mondayAt, newId } from "../support/database";

afterAll(closeDatabase);

const password = "shellac over wax";
const freshName = () => `fern-${newId()}`;

async function freshAccount(signInName = freshName()) {
  const made = await createAccount({ signInName, password, now: mondayAt });
  if (!made.ok) throw new Error(made.refusal.kind);
  return { signInName, accountId: made.value.accountId };
}

describe("accounts", () => {
  test("a name is the same in capitals, and belongs to one account", async () => {
    const { signInName, accountId } = await freshAccount();
    const typed = ` ${signInName.toUpperCase()} `;
    expect(await checkSignIn({ signInName: typed, password, now: mondayAt })).toEqual({
      ok: true,
      value: { accountId },
    });
    const second = await createAccount({ signInName: typed, password, now: mondayAt });
    expect(second).toEqual({ ok: false, refusal: { kind: "name-taken" } });
  });

  test("a wrong password and a name that nobody has get the same answer", async () => {
    const { signInName } = await freshAccount();
    const wrong = await checkSignIn({ signInName, password: "not this one", now: mondayAt });
    expect(wrong).toEqual({ ok: false, refusal: { kind: "wrong-name-or-password" } });
    expect(await checkSignIn({ signInName: freshName(), password, now: mondayAt })).toEqual(wrong);
  });

  test("after five wrong passwords even the right one waits, and then it opens", async () => {
    const { signInName, accountId } = await freshAccount();
    for (let attempt = 0; attempt < 5; attempt += 1) await checkSignIn({ signInName, password: "no", now: mondayAt });
    const waiting = await checkSignIn({ signInName, password, now: mondayAt });
    expect(waiting).toMatchObject({ ok: false, refusal: { kind: "too-many-attempts" } });
    const earliestAt = waiting.ok || waiting.refusal.kind !== "too-many-attempts" ? 0 : waiting.refusal.earliestAt;
    expect(await checkSignIn({ signInName, password, now: earliestAt })).toEqual({ ok: true, value: { accountId } });
  });

  test("no password is kept as it was typed", async () => {
    const { accountId } = await freshAccount();
    const { passwordHash } = await database().account.findUniqueOrThrow({ where: { id: accountId } });
    expect(passwordHash).toMatch(/^\$argon2id\$/);
    expect(passwordHash).not.toContain(password);
  });

  test("a password of nine characters is too short", async () => {
    expect(await createAccount({ signInName: freshName(), password: "123456789", now: mondayAt })).toMatchObject({
      refusal: { kind: "password-too-short" },
    });
  });
});

describe("sessions", () => {
  const expiresAt = mondayAt + 30 * 24 * 60 * minuteMs;

  async function signedIn() {
    const shop = await freshShop();
    const helper = await joined(shop, "helper");
    const { accountId } = await freshAccount();
    await takeSeat({ accountId, shopId: shop.shopId, memberId: helper.memberId });
    const { shopId, memberId, deviceId } = helper;
    const wanted = { shopId, deviceId, deviceName: "Max's phone", now: mondayAt, expiresAt };
    const sessionId = await createSession({ ...wanted, accountId, memberId, isSharedTablet: false });
    return { shop, helper, accountId, sessionId, wanted };
  }

  test("a session says who it is and in which role, until it expires", async () => {
    const { helper, accountId, sessionId } = await signedIn();
    const { shopId, memberId, deviceId } = helper;
    expect(await sessionById(sessionId, mondayAt)).toEqual({
      sessionId,
      accountId,
      shopId,
      memberId,
      deviceId,
      role: "helper",
      isSharedTablet: false,
      expiresAt,
    });
    expect(await sessionById(sessionId, expiresAt)).toBeUndefined();
    expect(await sessionById(newId(), mondayAt)).toBeUndefined();
    expect(await seatsOf(accountId)).toEqual([{ shopId, memberId }]);
  });

  test("a session takes the new role at once, and dies with the membership", async () => {
    const { shop, helper, sessionId } = await signedIn();
    const at = mondayAt + minuteMs;
    await accepted(shop.owner, "change-role", { memberId: helper.memberId, role: "partner" }, at);
    expect(await sessionById(sessionId, at)).toMatchObject({ role: "partner" });
    await accepted(shop.owner, "end-membership", { memberId: helper.memberId, why: "moved away" }, at + minuteMs);
    expect(await sessionById(sessionId, at + minuteMs)).toBeUndefined();
  });

  test("signing out ends one session; ending a member's ends all of theirs and names them", async () => {
    const { helper, accountId, sessionId, wanted } = await signedIn();
    const { shopId, memberId } = helper;
    const second = await createSession({ ...wanted, accountId, memberId, isSharedTablet: false });
    await endSession(sessionId, "signed-out", mondayAt);
    expect(await sessionById(sessionId, mondayAt)).toBeUndefined();
    expect(await sessionById(second, mondayAt)).toBeDefined();
    const ended = await endSessionsOf({ shopId, memberId, why: "membership-ended", now: mondayAt });
    expect(ended).toEqual([second]);
    expect(await sessionById(second, mondayAt)).toBeUndefined();
  });

  test("another password ends what was signed in with the old one", async () => {
    const { accountId, sessionId } = await signedIn();
    await changePassword({ accountId, password: "wax over shellac", now: mondayAt });
    expect(await sessionById(sessionId, mondayAt)).toBeUndefined();
  });

  test("a shared tablet is nobody's", async () => {
    const { wanted } = await signedIn();
    const sessionId = await createSession({ ...wanted, deviceId: newId(), deviceName: "tablet", isSharedTablet: true });
    const session = await sessionById(sessionId, mondayAt);
    expect(session).toMatchObject({ isSharedTablet: true });
    expect(session?.memberId).toBeUndefined();
  });
});

describe("one-time links", () => {
  test("of two who use a link at once one gets in", async () => {
    const secret = await createLink({ sort: "founder", now: mondayAt, expiresAt: mondayAt + minuteMs });
    expect(await isLinkOpen("founder", secret, mondayAt)).toBe(true);
    const used = await Promise.all([useLink("founder", secret, mondayAt), useLink("founder", secret, mondayAt)]);
    expect(used.filter((found) => found !== undefined)).toHaveLength(1);
    expect(await isLinkOpen("founder", secret, mondayAt)).toBe(false);
  });

  test("an old link, a replaced one and one of another sort open nothing", async () => {
    const shop = await freshShop();
    const { accountId } = await freshAccount();
    const reset = {
      sort: "owner-reset",
      shopId: shop.shopId,
      accountId,
      now: mondayAt,
      expiresAt: mondayAt + minuteMs,
    } as const;
    const [first, second] = [await createLink(reset), await createLink(reset)];
    expect(await useLink("owner-reset", first, mondayAt)).toBeUndefined();
    expect(await useLink("founder", second, mondayAt)).toBeUndefined();
    expect(await useLink("owner-reset", second, mondayAt + minuteMs)).toBeUndefined();
    expect(await useLink("owner-reset", second, mondayAt)).toEqual({ shopId: shop.shopId, accountId });
  });
});
