import { afterAll, afterEach, beforeEach, describe, expect, test } from "vitest";
import { closeDatabase, database } from "~/data/db";
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

const post = async (procedure: string, body: string, headers: Record<string, string> = {}) =>
  fetch(`${site}/api/trpc/${procedure}`, {
    method: "POST",
    headers: { "content-type": "application/json", cookie: await cookieOf(owner), ...headers },
    body,
  });
const sweeping = (taskId = newId()) =>
  JSON.stringify({ intents: [intentOf(owner, "add-task", { taskId, title: "Sweep", sort: "other" })] });

describe("a request over the wire", () => {
  test("from the shop's own pages is answered, and no cache keeps the answer", async () => {
    const response = await post("door.send", sweeping(), { origin: site });
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
  test("is told to the log in full, and to the sender without a word of it", async () => {
    const bug = new Error('duplicate key value violates unique constraint "piece_pkey"');
    const broken = new ShopApi({ commit: () => Promise.reject(bug) });
    const address = await broken.listen();
    const response = await fetch(`${address}/api/trpc/door.send`, {
      method: "POST",
      headers: { "content-type": "application/json", cookie: await cookieOf(owner) },
      body: sweeping(),
    });
    const told = await response.text();
    expect(response.status).toBe(500);
    expect(JSON.parse(told)).toMatchObject({
      error: { message: "Something broke on the server. Nothing was changed." },
    });
    expect(told).not.toMatch(/piece_pkey|\.ts|node_modules|at /);
    expect(broken.faults).toEqual([bug]);
    await broken.stop();
  });
});
