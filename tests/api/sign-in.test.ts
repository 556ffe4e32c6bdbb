import { afterAll, afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { authOptions } from "~/api/auth";
import { dayMs } from "~/core/units";
import { checkSignIn } from "~/data/accounts";
import { closeDatabase, database } from "~/data/db";
import { createLink } from "~/data/links";
import { liveSession } from "../../server/standing";
import { accepted, freshShop, mondayAt, newId, type TestShop } from "../support/database";
import { codeOf, joiningWith, password, ShopApi } from "./support/shop-api";

let api: ShopApi;
let shop: TestShop;
beforeEach(async () => {
  vi.useFakeTimers({ now: mondayAt, toFake: ["Date"] }); // the sign-in reads the clock by itself
  api = new ShopApi();
  shop = await freshShop();
});
afterEach(async () => {
  vi.useRealTimers();
  await api.stop();
});
afterAll(closeDatabase);

type Given = { signInName: string; password: string; deviceId?: string; deviceName?: string };
type Authorize = (given: Given) => Promise<{ id: string }>;
/** Signs in as the page does, by the provider's own function. */
const authorize = (given: Given) =>
  (authOptions().providers[0] as unknown as { options: { authorize: Authorize } }).options.authorize(given);

/** A helper of the shop with an account that is known by its name. */
async function helperWithName() {
  const joining = joiningWith((await api.invite(shop, "helper")).secret);
  await (await api.as()).account.join(joining);
  return { signInName: joining.signInName, memberId: joining.body.memberId };
}

async function accountIdOf(signInName: string) {
  return (await database().account.findUniqueOrThrow({ where: { signInName } })).id;
}

describe("signing in", () => {
  test("makes a session for the member, on the device that asked", async () => {
    const { signInName, memberId } = await helperWithName();
    const deviceId = newId();
    const { id } = await authorize({ signInName, password, deviceId, deviceName: "Max's phone" });
    expect(await liveSession(id, mondayAt)).toMatchObject({ shopId: shop.shopId, memberId, deviceId, role: "helper" });
    const device = await database().device.findFirst({ where: { id: deviceId } });
    expect(device).toMatchObject({ name: "Max's phone", memberId });
  });

  test.each([
    ["a wrong password", (name: string) => ({ signInName: name, password: "not this one" })],
    ["a name that nobody has", () => ({ signInName: "nobody here", password })],
  ])("answers %s alike, and makes no session", async (_, given) => {
    const { signInName } = await helperWithName();
    const before = await database().session.count();
    await expect(authorize(given(signInName))).rejects.toThrow('{"kind":"wrong-name-or-password"}');
    expect(await database().session.count()).toBe(before);
  });

  test("waits after five wrong passwords, even for the right one", async () => {
    const { signInName } = await helperWithName();
    for (let attempt = 0; attempt < 5; attempt++) {
      await expect(authorize({ signInName, password: "not this one" })).rejects.toThrow("wrong-name-or-password");
    }
    await expect(authorize({ signInName, password })).rejects.toThrow("too-many-attempts");
    vi.setSystemTime(mondayAt + 31_000);
    expect(await authorize({ signInName, password })).toHaveProperty("id");
  });

  test("is over for whoever is a member no longer", async () => {
    const { signInName, memberId } = await helperWithName();
    await accepted(shop.owner, "end-membership", { memberId, why: "moved away" });
    vi.setSystemTime(mondayAt + 1000);
    await expect(authorize({ signInName, password })).rejects.toThrow('{"kind":"no-seat"}');
  });

  test("takes no device id that is none", async () => {
    const { signInName } = await helperWithName();
    const { id } = await authorize({ signInName, password, deviceId: "'; drop table device" });
    expect((await liveSession(id, mondayAt))?.deviceId).toMatch(/^[0-9a-f-]{36}$/);
  });
});

describe("an ended session", () => {
  test("is not let in by the call after the sign-out", async () => {
    const owner = await api.signIn(shop.owner);
    expect(await (await api.as(owner)).account.me()).toMatchObject({
      memberId: owner.memberId,
      shopName: "A bench and a lamp",
    });
    await (await api.as(owner)).account.signOut();
    expect(await codeOf((await api.as(owner)).account.me())).toBe("UNAUTHORIZED");
    expect(await codeOf(api.send(owner, ["add-task", { taskId: newId(), title: "Sweep", sort: "other" }]))).toBe(
      "UNAUTHORIZED",
    );
  });

  test("leaves the member's other devices signed in", async () => {
    const phone = await api.signIn(shop.owner);
    const bench = await api.signIn({ ...shop.owner });
    await (await api.as(phone)).account.signOut();
    expect(await codeOf((await api.as(bench)).account.me())).toBeUndefined();
  });

  test("is what an owner's word makes of every session of whom they send away", async () => {
    const helper = await api.member(shop, "helper");
    await accepted(shop.owner, "end-membership", { memberId: helper.memberId, why: "moved away" });
    expect(await codeOf((await api.as(helper)).account.me())).toBe("UNAUTHORIZED");
  });
});

describe("a password", () => {
  test("that was changed ends the sessions of the old one, and only the new one signs in", async () => {
    const { signInName } = await helperWithName();
    const session = { sessionId: (await authorize({ signInName, password })).id };
    const changed = await (await api.as(session)).account.changePassword({ password: "linseed and beeswax" });
    expect(changed.ok).toBe(true);
    expect(await codeOf((await api.as(session)).account.me())).toBe("UNAUTHORIZED");
    expect((await checkSignIn({ signInName, password, now: mondayAt })).ok).toBe(false);
    expect((await checkSignIn({ signInName, password: "linseed and beeswax", now: mondayAt })).ok).toBe(true);
  });

  test("that is too short changes nothing", async () => {
    const { signInName } = await helperWithName();
    const session = { sessionId: (await authorize({ signInName, password })).id };
    const changed = await (await api.as(session)).account.changePassword({ password: "varnish" });
    expect(changed).toEqual({ ok: false, refusal: { kind: "password-too-short", min: 10 } });
    expect(await codeOf((await api.as(session)).account.me())).toBeUndefined();
  });
});

describe("the link that lets an owner back in", () => {
  const resetLink = async (signInName: string) =>
    createLink({
      sort: "owner-reset",
      shopId: shop.shopId,
      accountId: await accountIdOf(signInName),
      now: api.now,
      expiresAt: api.now + dayMs,
    });
  const reset = async (secret: string, wanted = "linseed and beeswax") =>
    (await api.as()).account.reset({ secret, password: wanted });

  test("sets a new password once, and ends what was signed in with the old one", async () => {
    const { signInName } = await helperWithName();
    const session = { sessionId: (await authorize({ signInName, password })).id };
    const secret = await resetLink(signInName);
    expect(await (await api.as()).account.isResetOpen({ secret })).toBe(true);
    expect(await reset(secret)).toMatchObject({ ok: true });
    expect(await codeOf((await api.as(session)).account.me())).toBe("UNAUTHORIZED");
    expect((await checkSignIn({ signInName, password: "linseed and beeswax", now: mondayAt })).ok).toBe(true);
    expect(await reset(secret, "another new one")).toEqual({ ok: false, refusal: { kind: "link-over" } });
    expect(await (await api.as()).account.isResetOpen({ secret })).toBe(false);
  });

  test("is not spent by a password that is too short", async () => {
    const { signInName } = await helperWithName();
    const secret = await resetLink(signInName);
    expect(await reset(secret, "varnish")).toEqual({ ok: false, refusal: { kind: "password-too-short", min: 10 } });
    expect(await reset(secret)).toMatchObject({ ok: true });
  });

  test("is over after its day, and when a newer one was made", async () => {
    const { signInName } = await helperWithName();
    const older = await resetLink(signInName);
    const newer = await resetLink(signInName);
    expect(await reset(older)).toEqual({ ok: false, refusal: { kind: "link-over" } });
    api.now += dayMs;
    expect(await reset(newer)).toEqual({ ok: false, refusal: { kind: "link-over" } });
  });

  test("is no founder's code, nor the other way round", async () => {
    const { signInName } = await helperWithName();
    const code = await createLink({ sort: "founder", now: mondayAt, expiresAt: mondayAt + dayMs });
    expect(await reset(code)).toEqual({ ok: false, refusal: { kind: "link-over" } });
    expect(await (await api.as()).account.isResetOpen({ secret: await resetLink(signInName) })).toBe(true);
  });
});
