import { expect, test } from "vitest";
import { shellPaths } from "~/device/register";
import { Caches, Worker } from "./support/worker";

const html = (text: string) => new Response(text, { headers: { "content-type": "text/html; charset=utf-8" } });
const floorPage = `<script src="/_next/static/chunks/main.js"></script><link href="/_next/static/css/a.css">
  <script>self.__next_f.push([1,"static\\",\\"/_next/static/chunks/later.js\\"])</script>`;

/** A shop's site: every page is a shell with a script and a style sheet, which names letters. */
const site = async (path: string): Promise<Response> => {
  const { pathname } = new URL(path, "https://shop.test");
  if (pathname.endsWith(".css")) return new Response("@font-face{src:url(../media/letters.woff2)}");
  if (pathname.startsWith("/_next/")) return new Response(`content of ${pathname}`);
  return html(floorPage);
};
const noSignal = () => Promise.reject(new TypeError("fetch failed"));
const textOf = async (answer: Promise<Response | undefined>) => (await answer)?.text();

test("once told to keep the floor's pages, a phone opens each of them, with any piece in the address, without signal", async () => {
  const worker = new Worker("one", new Caches(), site);
  const loaded = ["/_next/static/chunks/when-needed.js", "/api/trpc/shop"];
  expect(await worker.keep([...shellPaths], loaded)).toEqual({ cached: [...shellPaths], failed: [] });
  expect(worker.asked).not.toContain("/api/trpc/shop");
  worker.network = noSignal;
  for (const path of shellPaths) expect(await textOf(worker.open(`${path}?id=0190`))).toBe(floorPage);
  const assets = ["chunks/main.js", "chunks/later.js", "css/a.css", "media/letters.woff2", "chunks/when-needed.js"];
  for (const asset of assets) expect((await worker.open(`/_next/static/${asset}`, { mode: "cors" }))?.ok).toBe(true);
});

test("questions to the shop, the socket, and pages that are made for one person are never kept or answered", async () => {
  const worker = new Worker("one", new Caches(), site);
  expect(await worker.open("/api/trpc/shop", { mode: "cors" })).toBeUndefined();
  expect(await worker.open("/sync/floor:1:1", { mode: "cors" })).toBeUndefined();
  expect(await worker.open("/sign-in")).toBeUndefined();
  expect(await worker.open("/floor?_rsc=1", { mode: "cors" })).toBeUndefined();
  expect(await worker.open("/floor", { method: "POST" })).toBeUndefined();
  expect(await worker.keep(["/sign-in", "/api/trpc/shop"])).toEqual({ cached: [], failed: [] });
});

test("with signal the newest page is shown, and it is the one that is there without", async () => {
  const worker = new Worker("one", new Caches(), site);
  await worker.keep(["/floor"]);
  worker.network = async () => html("newer");
  expect(await textOf(worker.open("/floor"))).toBe("newer");
  worker.network = noSignal;
  expect(await textOf(worker.open("/floor"))).toBe("newer");
});

test("a door that sends strangers away is not kept as the floor", async () => {
  const worker = new Worker("one", new Caches(), async () =>
    Object.defineProperty(html("sign in"), "redirected", { value: true }),
  );
  expect(await worker.keep(["/floor"])).toEqual({ cached: [], failed: ["/floor"] });
  await worker.open("/floor");
  worker.network = noSignal;
  await expect(worker.open("/floor")).rejects.toThrow("fetch failed");
});

test("on wifi that hangs, the kept page is shown rather than nothing", async () => {
  const worker = new Worker("one", new Caches(), site);
  await worker.keep(["/floor"]);
  worker.network = () => new Promise(() => {});
  const shown = textOf(worker.open("/floor"));
  // the worker looks in its cache before it starts to wait
  await new Promise(setImmediate);
  worker.runOutOfPatience();
  expect(await shown).toBe(floorPage);
});

test("a server that is just restarting does not hide the kept page", async () => {
  const worker = new Worker("one", new Caches(), site);
  await worker.keep(["/floor"]);
  worker.network = async () => new Response("starting", { status: 503 });
  expect(await textOf(worker.open("/floor"))).toBe(floorPage);
});

test("a new build opens the old pages until it has all of its own, and then drops them", async () => {
  const caches = new Caches();
  await new Worker("one", caches, site).keep([...shellPaths]);
  const next = new Worker("two", caches, noSignal);
  expect(await textOf(next.open("/floor"))).toBe(floorPage);
  expect(await next.keep([...shellPaths])).toMatchObject({ cached: [] });
  expect(await caches.keys()).toContain("tackfree-pages-one");
  next.network = site;
  await next.keep([...shellPaths]);
  expect(await caches.keys()).toEqual(["tackfree-pages-two"]);
});

test("an asset with a hash in its name is fetched once", async () => {
  const worker = new Worker("one", new Caches(), site);
  for (let visit = 0; visit < 3; visit += 1) await worker.open("/_next/static/chunks/main.js", { mode: "cors" });
  expect(worker.asked).toEqual(["/_next/static/chunks/main.js"]);
});
