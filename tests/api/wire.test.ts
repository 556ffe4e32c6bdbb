import { request } from "node:http";
import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { referenceOf } from "~/api/error-reference";
import { closeDatabase, database } from "~/data/db";
import { PassingFault } from "~/data/faults";
import { freshShop, intentOf, newId, type TestShop } from "../support/database";
import { cookieOf, type Person, ShopApi } from "./support/shop-api";

let api: ShopApi;
let shop: TestShop;
let owner: Person;
let site: string;
beforeEach(async () => {
  api = new ShopApi();
  shop = await freshShop();
  owner = await api.signIn(shop.owner);
  site = await api.listen();
});
afterEach(() => api.stop());
afterAll(closeDatabase);

const post = async (procedure: string, body: string, headers: Record<string, string> = {}): Promise<Response> =>
  fetch(`${site}/api/trpc/${procedure}`, {
    method: "POST",
    headers: { "content-type": "application/json", cookie: await cookieOf(owner), origin: site, ...headers },
    body,
  });
/** As a program sends it, that may name any host. @returns the status */
const raw = (procedure: string, body: string, headers: Record<string, string>): Promise<number | undefined> =>
  new Promise((resolve, reject) => {
    const asked = request(`${site}/api/trpc/${procedure}`, {
      method: "POST",
      headers: { "content-type": "application/json", ...headers },
    });
    asked.on("response", (answer) => {
      resolve(answer.statusCode);
      answer.destroy();
    });
    asked.on("error", reject);
    asked.end(body);
  });
const sweeping = (taskId = newId()) =>
  JSON.stringify({ intents: [intentOf(owner, "add-task", { taskId, title: "Sweep", sort: "other" })] });

describe("a request over the wire", () => {
  test("from the shop's own pages is answered, and no cache keeps the answer", async () => {
    const response = await post("door.send", sweeping());
    expect(response.status).toBe(200);
    expect(await response.json()).toMatchObject({ result: { data: { rulings: [{ verdict: "accepted" }] } } });
    expect(response.headers.get("cache-control")).toBe("no-store");
  });

  test.each(["https://elsewhere.example", "null", "http://127.0.0.1:1"])(
    "that the site %s makes with the member's cookie is refused, and nothing is done",
    async (origin) => {
      const taskId = newId();
      expect((await post("door.send", sweeping(taskId), { origin })).status).toBe(403);
      expect(await database().task.count({ where: { id: taskId } })).toBe(0);
    },
  );

  test.each([
    ["nothing of where it comes from", {}],
    ["that its site is the one that it names as this host", { origin: "http://evil.example", host: "evil.example" }],
  ])("that says %s is refused: every browser tells, and a name is no proof", async (_, headers) => {
    const taskId = newId();
    const answered = await raw("door.send", sweeping(taskId), { cookie: await cookieOf(owner), ...headers });
    expect(answered).toBe(403);
    expect(await database().task.count({ where: { id: taskId } })).toBe(0);
  });

  test("that only asks needs to say nothing of where it comes from", async () => {
    expect((await fetch(`${site}/api/trpc/door.time`)).status).toBe(200);
  });

  test("with which one network tries passwords or invitations over and over is put off, and others are not", async () => {
    const tries = Array.from({ length: 80 }, () => post("account.invitation", JSON.stringify({ secret: newId() })));
    const statuses = (await Promise.all(tries)).map(({ status }) => status);
    expect(statuses.filter((status) => status === 200)).toHaveLength(60);
    expect(statuses.filter((status) => status === 429)).toHaveLength(20);
    expect((await post("door.send", sweeping())).status).toBe(200);
    api.now += 1000;
    expect((await post("account.invitation", JSON.stringify({ secret: newId() }))).status).toBe(200);
  });

  test("that tries many invitations at once, or under another spelling, is counted for each of them", async () => {
    const many = (count: number) => Array.from({ length: count }, () => "account.invitation").join(",");
    const inputs = Object.fromEntries(Array.from({ length: 40 }, (_, index) => [index, { secret: newId() }]));
    const batch = (path: string) => post(`${path}?batch=1`, JSON.stringify(inputs));
    expect((await batch(many(40))).status).toBe(200);
    expect((await batch(`door.time,${many(39)}`)).status).toBe(429);
    for (let count = 0; count < 20; count += 1) await post("%61ccount.invitation", JSON.stringify({ secret: newId() }));
    expect((await post("account.invitation", JSON.stringify({ secret: newId() }))).status).toBe(429);
  });

  test("with a cookie that was signed elsewhere is a stranger's", async () => {
    const response = await post("door.send", sweeping(), { cookie: "next-auth.session-token=e30.e30.e30" });
    expect(response.status).toBe(401);
  });

  test("without a session is told so in words and in no stack", async () => {
    const response = await post("account.signOut", "{}", { cookie: "" });
    expect(response.status).toBe(401);
    const { error } = (await response.json()) as { error: { message: string; data: object } };
    expect(error.message).toBe("Sign in first.");
    expect(Object.keys(error.data).sort()).toEqual(["code", "httpStatus", "path"]);
  });

  test("that is begun and never finished is hung up on, and a queue that takes its time is not", async () => {
    const slow = new ShopApi();
    slow.bodyMs = 50;
    const at = new URL(await slow.listen());
    const begin = async (procedure: string) => {
      const cookie = await cookieOf(owner);
      const headers = { "content-type": "application/json", "content-length": "100", origin: at.origin, cookie };
      const asked = request(new URL(`/api/trpc/${procedure}`, at), { method: "POST", headers });
      const over = new Promise<string | number | undefined>((resolve) => {
        asked.once("error", () => resolve("hung up"));
        asked.once("response", ({ statusCode }) => resolve(statusCode));
      });
      asked.flushHeaders();
      return { asked, over };
    };
    const queue = await begin("door.send");
    const invitation = await begin("account.invitation");
    expect(await invitation.over).toBe("hung up"); // begun after the queue, which is still waited for
    queue.asked.end(JSON.stringify({ intents: [] }).padEnd(100));
    expect(await queue.over).toBe(200);
    await slow.stop();
  });

  test("that is larger than a logger's year is refused", async () => {
    const tooLong = JSON.stringify({ intents: ["a".repeat(16 * 1024 * 1024)] });
    // the server may hang up while the rest is still on its way
    const status = await post("door.send", tooLong).then(
      ({ status }) => status,
      () => "hung up",
    );
    expect([413, "hung up"]).toContain(status);
    expect((await post("door.send", sweeping())).status).toBe(200);
  });

  test.each([
    ["half of an object", '{"intents":['],
    ["words where a list belongs", '{"intents":"all of them"}'],
    ["nothing", ""],
  ])("that holds %s is refused as the sender's fault", async (_, body) => {
    expect((await post("door.send", body)).status).toBe(400);
    expect(api.faults).toEqual([]);
  });

  test("for a procedure that is not there is not found", async () => {
    expect((await post("door.constructor", "{}")).status).toBe(404);
  });
});

describe("a bug inside", () => {
  const sentTo = async (broken: ShopApi): Promise<Response> => {
    const address = await broken.listen();
    return fetch(`${address}/api/trpc/door.send`, {
      method: "POST",
      headers: { "content-type": "application/json", cookie: await cookieOf(owner), origin: address },
      body: sweeping(),
    });
  };

  test("is told to the log in full, and to the sender by a reference, without a word of it", async () => {
    const bug = new Error('duplicate key value violates unique constraint "piece_pkey"');
    const broken = new ShopApi({ commit: () => Promise.reject(bug) });
    const response = await sentTo(broken);
    const told = await response.text();
    expect(response.status).toBe(500);
    expect(JSON.parse(told)).toMatchObject({
      error: { message: `Something broke on the server. Nothing was changed. Reference ${referenceOf(bug)}` },
    });
    expect(told).not.toMatch(/piece_pkey|\.ts|node_modules|at /);
    expect(broken.faults).toEqual([bug]);
    await broken.stop();
  });

  test("is none where the server is only ending: the sender is asked to come again, and when", async () => {
    const ending = new PassingFault("the server is closing");
    const broken = new ShopApi({ commit: () => Promise.reject(ending) });
    const response = await sentTo(broken);
    expect([response.status, response.headers.get("retry-after")]).toEqual([503, "2"]);
    expect(await response.text()).toContain("it may be asked again");
    expect(broken.faults).toEqual([ending]);
    await broken.stop();
  });

  test("is none either where the database is away before it is even known who asks", async () => {
    const away = new Error("Connection terminated unexpectedly");
    const broken = new ShopApi({ sessionOf: () => Promise.reject(away) });
    const response = await sentTo(broken);
    expect([response.status, response.headers.get("retry-after")]).toEqual([503, "2"]);
    await broken.stop();
  });
});
