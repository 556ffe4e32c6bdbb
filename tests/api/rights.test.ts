import { randomUUID } from "node:crypto";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Role } from "~/core/shop/entities/people";
import { sha256 } from "~/data/canonical-json";
import { closeDatabase } from "~/data/db";
import { createSession } from "~/data/sessions";
import { accepted, freshShop, mondayAt, newId, pieceBody, type TestShop } from "../support/database";
import { codeOf, type Person, ShopApi } from "./support/shop-api";

type Asker = Role | "shared tablet" | "stranger";
const askers: Asker[] = ["owner", "partner", "helper", "bookkeeper", "outlet", "shared tablet", "stranger"];

let api: ShopApi;
let shop: TestShop;
let pieceId: string;
const sessions = new Map<Asker, { sessionId: string }>();

beforeAll(async () => {
  api = new ShopApi();
  shop = await freshShop();
  pieceId = newId();
  await accepted(shop.owner, "add-piece", pieceBody(shop, pieceId));
  sessions.set("owner", await api.signIn(shop.owner));
  for (const role of ["partner", "helper", "bookkeeper", "outlet"] as const) {
    sessions.set(role, await api.member(shop, role));
  }
  sessions.set("shared tablet", await sharedTablet());
});
afterAll(async () => {
  await api.stop();
  await closeDatabase();
});

async function sharedTablet() {
  const of = { shopId: shop.shopId, deviceId: newId(), deviceName: "a tablet", isSharedTablet: true as const };
  return { sessionId: await createSession({ ...of, now: mondayAt, expiresAt: mondayAt + 86_400_000 }) };
}

type Caller = Awaited<ReturnType<ShopApi["as"]>>;
const member: Asker[] = ["owner", "partner", "helper", "bookkeeper", "outlet"];
const signedIn: Asker[] = [...member, "shared tablet"];
const ofTheShop: Asker[] = ["owner", "partner", "helper", "bookkeeper"];

/** Who is let through. An outlet reads its own pieces and nothing else of the floor; the tablet is nobody in particular. */
const doors: [name: string, mayEnter: Asker[], call: (caller: Caller) => Promise<unknown>][] = [
  ["the server's time", askers, (caller) => caller.door.time()],
  ["the name of the live floor", signedIn, (caller) => caller.door.floorEpoch()],
  ["sending intents", signedIn, (caller) => caller.door.send({ intents: [] })],
  ["who this device is", signedIn, (caller) => caller.account.me()],
  ["the hours of a week", ofTheShop, (caller) => caller.hours.week({})],
  ["the history of a piece", ofTheShop, (caller) => caller.piece.history({ pieceId })],
  ["the hours of a piece, without names", ofTheShop, (caller) => caller.piece.hours({ pieceId })],
  ["one's own notices", member, (caller) => caller.notices.mine()],
  ["the open invitations", ["owner"], (caller) => caller.people.invitations()],
  ["what former members delivered", ["owner"], (caller) => caller.people.lateReports()],
  ["making a pass known", member, (caller) => caller.lastDelivery.enrol({ secretSha256: sha256(randomUUID()) })],
  ["setting another password", member, (caller) => caller.account.changePassword({ password: "varnish" })],
];

describe.each(doors)("%s", (_, mayEnter, call) => {
  test.each(askers.filter((asker) => mayEnter.includes(asker)))("is open to the %s", async (asker) => {
    expect(await codeOf(call(await api.as(sessions.get(asker))))).toBeUndefined();
  });

  test.each(askers.filter((asker) => !mayEnter.includes(asker)))("is closed to the %s", async (asker) => {
    const code = asker === "stranger" ? "UNAUTHORIZED" : "FORBIDDEN";
    expect(await codeOf(call(await api.as(sessions.get(asker))))).toBe(code);
  });
});

describe("what only one word of the owner changes", () => {
  test("a role that was changed counts at the very next call", async () => {
    const hand = await api.member(shop, "helper");
    expect(await codeOf((await api.as(hand)).people.invitations())).toBe("FORBIDDEN");
    await accepted(shop.owner, "change-role", { memberId: hand.memberId, role: "owner" });
    expect(await codeOf((await api.as(hand)).people.invitations())).toBeUndefined();
    await accepted(shop.owner, "change-role", { memberId: hand.memberId, role: "outlet" });
    expect(await codeOf((await api.as(hand)).hours.week({}))).toBe("FORBIDDEN");
  });

  test("an invitation in the list does not give its secret away, not even as a hash", async () => {
    await api.invite(shop, "helper", "Hanna");
    const open = await (await api.as(sessions.get("owner"))).people.invitations();
    expect(open.map(({ forName }) => forName)).toContain("Hanna");
    expect(JSON.stringify(open)).not.toMatch(/[0-9a-f]{64}/);
  });
});

describe("the shared tablet", () => {
  let tablet: Person;
  let taskId: string;
  beforeAll(async () => {
    const owner = await api.signIn({ ...shop.owner, deviceId: newId(), deviceSeq: 0 });
    await (await api.as(owner)).account.shareTablet();
    tablet = owner;
    taskId = newId();
    await accepted(shop.owner, "add-task", { taskId, title: "Sweep", sort: "other" });
  });
  const answerOf = async (kind: string, body: unknown) => (await api.send(tablet, [kind, body])).rulings[0];

  test("is no longer the device of whoever set it up", async () => {
    const me = await (await api.as(tablet)).account.me();
    expect(me).toMatchObject({ isSharedTablet: true, shopId: shop.shopId });
    expect(me).not.toHaveProperty("memberId");
    expect(me).not.toHaveProperty("accountId");
  });

  test.each(["helper", "bookkeeper", "outlet"] as const)("is not set up by the %s", async (role) => {
    expect(await codeOf((await api.as(sessions.get(role))).account.shareTablet())).toBe("FORBIDDEN");
  });

  test("takes a claim for whoever picked themselves", async () => {
    const claim = { claimId: newId(), taskId, memberIds: [tablet.memberId] };
    expect(await answerOf("claim-task", claim)).toMatchObject({ verdict: "accepted" });
  });

  test("takes a report for whoever picked themselves", async () => {
    const timer = { entryId: newId(), workKind: "bench", subjects: [{ pieceId }] };
    expect(await answerOf("start-timer", timer)).toMatchObject({ verdict: "accepted" });
  });

  test.each([
    ["a plan", "add-task", { taskId: newId(), title: "Sweep again", sort: "other" }],
    ["a word", "change-role", { memberId: newId(), role: "helper" }],
  ])("takes no %s, whoever picked themselves", async (_, kind, body) => {
    expect(await answerOf(kind, body)).toMatchObject({ verdict: "refused", refusal: { kind: "not-on-shared-tablet" } });
  });
});

describe("another shop", () => {
  test("does not show through its ids", async () => {
    const other = await freshShop();
    const [theirs, task] = [newId(), newId()];
    await accepted(other.owner, "add-piece", pieceBody(other, theirs));
    await accepted(other.owner, "add-task", { taskId: task, pieceId: theirs, title: "Glue", sort: "repair" });
    const timer = { entryId: newId(), workKind: "bench", subjects: [{ pieceId: theirs }] };
    await accepted(other.owner, "start-timer", timer);
    api.now += 60_000;
    const caller = await api.as(sessions.get("owner"));
    expect(await caller.piece.history({ pieceId: theirs })).toEqual([]);
    expect((await caller.piece.hours({ pieceId: theirs })).seconds).toBe(0);
    expect((await caller.hours.week({})).entries.map(({ id }) => id)).not.toContain(timer.entryId);
  });

  test("is not written to, neither through its things nor through its people", async () => {
    const other = await freshShop();
    const task = newId();
    await accepted(other.owner, "add-task", { taskId: task, title: "Sweep", sort: "other" });
    const owner = await api.signIn({ ...shop.owner, deviceId: newId(), deviceSeq: 0 });
    const [mine] = (await api.send(owner, ["finish-task", { taskId: task }])).rulings;
    expect(mine).toMatchObject({ verdict: "refused", refusal: { kind: "unknown-thing", field: "taskId" } });
    const asThem = { ...owner, memberId: other.owner.memberId };
    const [theirs] = (await api.send(asThem, ["add-task", { taskId: newId(), title: "Sweep", sort: "other" }])).rulings;
    expect(theirs).toMatchObject({ verdict: "refused", refusal: { kind: "unknown-thing", field: "memberId" } });
  });
});
