import { encode } from "next-auth/jwt";
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { closeCode, floorRoom, notesRoom } from "~/core/wire";
import { closeDatabase, database } from "~/data/db";
import { createSession, endSession, sessionById } from "~/data/sessions";
import { standingOf } from "../../server/standing";
import { freshShop, handOf, joined, minuteMs, newId, pieceBody, type TestShop } from "../support/database";
import { Phone } from "./support/phone";
import { Promised } from "./support/promised";
import { cookieOf, ShopServer, site } from "./support/shop-server";

let server: ShopServer;
let shop: TestShop;
beforeEach(async () => {
  server = await ShopServer.start();
  shop = await freshShop();
});
afterEach(() => server.stop());
afterAll(closeDatabase);

/** Opens a socket with these headers. @returns the HTTP status that refused it, or the code that closed it */
async function turnedAway(room: string, headers: Record<string, string>): Promise<number | undefined> {
  return new Phone(`ws://${server.host}/sync/${room}`, headers).hungUp();
}

describe("who gets in", () => {
  test("a stranger without a cookie is refused before any room is looked at", async () => {
    expect(await turnedAway(floorRoom(shop.shopId, 1), {})).toBe(401);
    expect(server.hub.rooms.size).toBe(0);
  });

  test.each([
    ["garbage", "next-auth.session-token=garbage"],
    ["nothing", "next-auth.session-token="],
    ["another program's", "theme=dark; lang=en"],
  ])("a cookie that holds %s is a stranger's", async (_, cookie) => {
    expect(await turnedAway(floorRoom(shop.shopId, 1), { cookie })).toBe(401);
  });

  test("a token that was signed with another secret is a stranger's", async () => {
    const sid = (await sidOf(shop.owner)) as string;
    const forged = await encode({ token: { sid }, secret: "somebody else's secret" });
    expect(await turnedAway(floorRoom(shop.shopId, 1), { cookie: `next-auth.session-token=${forged}` })).toBe(401);
  });

  test("the cookie is found in two pieces, in either order, among a dozen others", async () => {
    const whole = (await server.signIn(shop.owner)).split("=")[1] as string;
    const half = Math.floor(whole.length / 2);
    const pieces = [
      `next-auth.session-token.0=${whole.slice(0, half)}`,
      `next-auth.session-token.1=${whole.slice(half)}`,
    ];
    const others = Array.from({ length: 12 }, (_, index) => `other${index}=${index}`);
    for (const order of [pieces, [...pieces].reverse()]) {
      const phone = await server.open(await server.floorName(shop.shopId), [...others, ...order].join("; "));
      await phone.synced();
      expect(phone.rows("shop")).toHaveLength(1);
    }
  });

  test("a socket that another site opens is refused, whatever cookie rides along", async () => {
    const cookie = await server.signIn(shop.owner);
    const room = await server.floorName(shop.shopId);
    expect(await turnedAway(room, { cookie, origin: "https://elsewhere.example" })).toBe(403);
    expect(await turnedAway(room, { cookie, origin: "null" })).toBe(403);
    // the host that a request names is its sender's choice
    expect(await turnedAway(room, { cookie, origin: `http://${server.host}` })).toBe(403);
    const own = new Phone(`ws://${server.host}/sync/${room}`, { cookie, origin: site });
    await own.synced();
    expect(own.rows("shop")).toHaveLength(1);
    own.leave();
  });

  test("another shop's rooms are closed to a member, and so are rooms that are none", async () => {
    const cookie = await server.signIn(shop.owner);
    const other = await freshShop();
    const pieceId = newId();
    expect(await turnedAway(await server.floorName(other.shopId), { cookie })).toBe(closeCode.noRight);
    expect(await turnedAway(notesRoom(other.shopId, pieceId), { cookie })).toBe(closeCode.noRight);
    expect(await turnedAway(notesRoom(shop.shopId, pieceId), { cookie })).toBe(closeCode.noSuchRoom);
    expect(await turnedAway("%E0%A4%A", { cookie })).toBe(404);
    expect(await database().sharedDocument.count({ where: { subjectId: pieceId } })).toBe(0);
  });

  test("the room of an epoch that is over is closed with a code of its own", async () => {
    const cookie = await server.signIn(shop.owner);
    await server.hub.floorEpoch(shop.shopId);
    expect(await turnedAway(floorRoom(shop.shopId, 7), { cookie })).toBe(closeCode.otherEpoch);
  });

  test("a shared tablet reads the floor and the notes, and writes neither", async () => {
    const { shopId } = shop;
    const expiresAt = server.now + 60 * minuteMs;
    const of = { shopId, deviceId: newId(), deviceName: "tablet", isSharedTablet: true as const };
    const cookie = cookieOf(await createSession({ ...of, now: server.now, expiresAt }));
    const piece = pieceBody(shop);
    await server.accepted(shop.owner, ["add-piece", piece]);
    const tablet = await server.open(await server.floorName(shopId), await cookie);
    await tablet.synced();
    expect(tablet.rows("piece")).toHaveLength(1);
    const notes = await server.open(notesRoom(shopId, piece.pieceId), await cookie);
    await notes.synced();
    notes.doc.getText("journal").insert(0, "who wrote this?");
    expect(await notes.hungUp()).toBe(closeCode.noRight);
  });

  test("a flood of strangers is cut off without an answer, and a member from the same address still gets in", async () => {
    const room = floorRoom(shop.shopId, 1);
    const flood = await Promise.all(Array.from({ length: 80 }, () => turnedAway(room, {})));
    expect(flood.filter((status) => status === 401)).toHaveLength(60);
    expect(flood.filter((status) => status === 1006)).toHaveLength(20); // RFC 6455 7.1.5: hung up without a word
    const phone = await server.floor(shop.owner);
    expect(phone.rows("shop")).toHaveLength(1);
  });

  test("sixty-four may wait for the database at once; who comes beyond that is told to come again", async () => {
    const waiting = new Promised<void>();
    const slow = await ShopServer.start(async (sessionId, now) => {
      await waiting.promise;
      return standingOf(sessionId, now);
    });
    const [cookie, room] = [await server.signIn(shop.owner), await server.floorName(shop.shopId)];
    const knocking = Array.from({ length: 70 }, () => slow.open(room, cookie));
    const phones = await Promise.all(knocking);
    const refused = () => phones.filter(({ status }) => status === 503).length;
    for (const phone of phones) void phone.hungUp().catch(() => undefined);
    await Promise.race(phones.map((phone) => phone.until(() => refused() >= 6)));
    waiting.keep();
    await Promise.race(
      phones.map((phone) =>
        phone.until(() => phones.filter((one) => one.isOver || one.heard.length > 0).length === 70),
      ),
    );
    expect(refused()).toBe(6);
    await slow.stop();
  });

  test("a path that is no room's is not found, with or without a room's name in it", async () => {
    const cookie = await server.signIn(shop.owner);
    const room = await server.floorName(shop.shopId);
    for (const path of ["/", "/sync", "/sync/", `/sync//${room}`, `/sync/${room}/`, `/other/${room}`, "/_next/hmr"]) {
      expect(await new Phone(`ws://${server.host}${path}`, { cookie }).hungUp(), path).toBe(404);
    }
  });

  test("one session has eight sockets at most", async () => {
    const cookie = await server.signIn(shop.owner);
    const room = await server.floorName(shop.shopId);
    for (let count = 0; count < 8; count += 1) await (await server.open(room, cookie)).synced();
    expect(await turnedAway(room, { cookie })).toBe(1013);
  });
});

describe("when a right ends", () => {
  test("a member whose membership ends is hung up on, and hears nothing of what comes after", async () => {
    const helper = await joined(shop, "helper");
    const phone = await server.floor(helper);
    const owner = await server.floor(shop.owner);
    const heard = phone.heard.length;
    await server.accepted(shop.owner, ["end-membership", { memberId: helper.memberId, why: "moved away" }]);
    await server.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
    await owner.until(() => owner.rows("piece").length === 1);
    expect(await phone.hungUp()).toBe(closeCode.noRight);
    expect(phone.heard.slice(heard).filter(({ kind }) => kind === "update")).toEqual([]);
  });

  test("who comes back after the end of their membership is told that there is no right, not that they may sign in", async () => {
    const helper = await joined(shop, "helper");
    const cookie = await server.signIn(helper);
    await server.accepted(shop.owner, ["end-membership", { memberId: helper.memberId, why: "moved away" }]);
    server.now += minuteMs;
    expect(await turnedAway(await server.floorName(shop.shopId), { cookie })).toBe(closeCode.noRight);
  });

  test("a membership that ends while its socket is on the way in lets nothing out to it", async () => {
    const helper = await joined(shop, "helper");
    const cookie = await server.signIn(helper);
    const [looked, go] = [new Promised<void>(), new Promised<void>()];
    let isFirst = true;
    const slow = await ShopServer.start(async (sessionId, now) => {
      const standing = await standingOf(sessionId, now);
      if (!isFirst) return standing;
      isFirst = false;
      looked.keep();
      await go.promise;
      return standing;
    });
    const phone = await slow.open(await slow.floorName(shop.shopId), cookie);
    await looked.promise;
    await slow.accepted(shop.owner, ["end-membership", { memberId: helper.memberId, why: "moved away" }]);
    go.keep();
    expect(await phone.hungUp()).toBe(closeCode.noRight);
    expect(phone.heard.filter(({ kind }) => kind === "step2" || kind === "update")).toEqual([]);
    await slow.stop();
  });

  test("words that arrive between the end of a membership and the hanging up are not taken", async () => {
    const helper = await joined(shop, "helper");
    const piece = pieceBody(shop);
    const [looked, go] = [new Promised<void>(), new Promised<void>()];
    const slow = await ShopServer.start(async (sessionId, now) => {
      const standing = await standingOf(sessionId, now);
      if (!standing || standing.role) return standing;
      looked.keep(); // the end is known here, and nobody has been hung up on yet
      await go.promise;
      return standing;
    });
    await slow.accepted(shop.owner, ["add-piece", piece]);
    const phone = await slow.notes(helper, piece.pieceId);
    const ended = slow.accepted(shop.owner, ["end-membership", { memberId: helper.memberId, why: "moved away" }]);
    await looked.promise;
    phone.doc.getText("journal").insert(0, "one last word");
    // a ping that is answered came after the word: by then the word has arrived
    phone.socket.ping();
    await new Promise((resolve) => phone.socket.once("pong", resolve));
    go.keep();
    await ended;
    expect(await phone.hungUp()).toBe(closeCode.noRight);
    const reader = await slow.notes(shop.owner, piece.pieceId);
    expect(reader.doc.getText("journal").toJSON()).toBe("");
    await slow.stop();
  });

  test.each([
    ["ends", "end-membership", { why: "moved away" }],
    ["becomes an outlet's", "change-role", { role: "outlet" }],
  ])(
    "a membership that %s on one server is over for its sockets on another, and nothing told after it reaches them",
    async (_, kind, more) => {
      const helper = await joined(shop, "helper");
      const other = await ShopServer.start();
      const phone = await other.floor(helper);
      const bystander = await other.floor(shop.owner);
      const heard = phone.heard.length;
      await server.accepted(shop.owner, [kind, { memberId: helper.memberId, ...more }]);
      await server.accepted(shop.owner, ["add-piece", pieceBody(shop)]);
      expect(await phone.hungUp()).toBe(closeCode.noRight);
      await bystander.until(() => bystander.rows("piece").length === 1);
      expect(phone.heard.slice(heard).filter(({ kind: sort }) => sort === "update" || sort === "step2")).toEqual([]);
      await other.stop();
    },
  );

  test("a helper who becomes a partner goes on reading and writing on the same socket", async () => {
    const helper = await joined(shop, "helper");
    const piece = pieceBody(shop);
    await server.accepted(shop.owner, ["add-piece", piece]);
    const phone = await server.notes(helper, piece.pieceId);
    await server.accepted(shop.owner, ["change-role", { memberId: helper.memberId, role: "partner" }]);
    phone.doc.getText("journal").insert(0, "still here");
    const reader = await server.notes(shop.owner, piece.pieceId);
    await reader.until(() => reader.doc.getText("journal").toJSON() === "still here");
    expect(phone.closeCode).toBeUndefined();
  });

  test("who signs out on one device is hung up on there and nowhere else", async () => {
    const [here, there] = [await handOf(shop.shopId, shop.owner.memberId), shop.owner];
    const sid = (await sidOf(here)) as string;
    const phone = await server.open(await server.floorName(shop.shopId), await cookieOf(sid));
    await phone.synced();
    const other = await server.floor(there);
    await endSession(sid, "signed-out", server.now);
    await server.hub.sessionsChanged({ sessionId: sid });
    expect(await phone.hungUp()).toBe(closeCode.sessionOver);
    expect(other.closeCode).toBeUndefined();
  });

  test("a session that runs out is noticed within a minute, without anybody saying so", async () => {
    const sid = (await sidOf(shop.owner, 5 * minuteMs)) as string;
    const phone = await server.open(await server.floorName(shop.shopId), await cookieOf(sid));
    await phone.synced();
    server.now += 5 * minuteMs;
    expect(await phone.hungUp()).toBe(closeCode.sessionOver);
    expect(await sessionById(sid, server.now)).toBeUndefined();
  });

  test("a session that is over is told so by a code, because a browser cannot read the status", async () => {
    const sid = (await sidOf(shop.owner)) as string;
    await endSession(sid, "signed-out", server.now);
    expect(await turnedAway(await server.floorName(shop.shopId), { cookie: await cookieOf(sid) })).toBe(
      closeCode.sessionOver,
    );
  });

  test("while the database is away nobody is let in, and nobody is told to stay away", async () => {
    const away = await ShopServer.start(async (sessionId, now) => {
      if (now > server.now) throw new Error("no database");
      return standingOf(sessionId, now);
    });
    const cookie = await server.signIn(shop.owner);
    const room = await server.floorName(shop.shopId);
    const phone = await away.open(room, cookie);
    await phone.synced();
    away.now += 2 * minuteMs;
    expect(await phone.hungUp()).toBe(closeCode.databaseAway);
    const late = await away.open(room, cookie);
    expect(await late.hungUp()).toBe(503);
    await away.stop();
  });
});

/** A session of this member's device, and nothing more. */
async function sidOf(hand: typeof shop.owner, lastsMs = 60 * minuteMs): Promise<string> {
  const { shopId, memberId, deviceId } = hand;
  const cookie = await server.signIn(hand);
  expect(cookie).toContain("session-token");
  const { accountId } = await database().session.findFirstOrThrow({ where: { shopId, memberId, deviceId } });
  const of = { shopId, memberId, deviceId, accountId: accountId as string, deviceName: "a phone" };
  return createSession({ ...of, isSharedTablet: false, now: server.now, expiresAt: server.now + lastsMs });
}
