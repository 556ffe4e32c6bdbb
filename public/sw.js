/**
 * Opens the floor without a server. Pages come from the network and, when it is silent, from the cache; assets with a
 * hash in their name come from the cache. Nothing under /api or /sync, and no answer to a signed-in question, is kept:
 * the pages are empty shells, and what they show rests in the device's own databases.
 */
const build = new URL(self.location.href).searchParams.get("build") ?? "none";
const cachePrefix = "tackfree-";
const cacheName = `${cachePrefix}pages-${build}`;
/** A workshop's wifi is more often slow than gone: after this long the cached page is better. */
const patienceMs = 3000;

const shells = new Set([
  "/floor",
  "/safe",
  "/bench",
  "/piece",
  "/week",
  "/rooms",
  "/shelf",
  "/members",
  "/mixing",
  "/more",
  "/closing",
  "/hit",
]);

/** The ids are in the query and the shell is the same for all of them. */
const shellKey = (url) => new URL(url.pathname, self.location.origin).href;
const isHashed = (url) => url.pathname.startsWith("/_next/static/") || url.pathname.startsWith("/fonts/");
/** A page that was redirected is another page: the door for those who are not signed in. */
const isShell = (response) =>
  response.ok && !response.redirected && (response.headers.get("content-type") ?? "").startsWith("text/html");

self.addEventListener("install", (event) => event.waitUntil(self.skipWaiting()));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (isHashed(url)) event.respondWith(asset(request));
  else if (request.mode === "navigate" && shells.has(url.pathname)) event.respondWith(page(event, url));
});

self.addEventListener("message", (event) => {
  const { cache: paths, assets = [] } = event.data ?? {};
  if (!Array.isArray(paths)) return;
  const loaded = assets.filter((path) => isHashed(new URL(path, self.location.origin)));
  const done = keepShells(
    paths.filter((path) => shells.has(path)),
    loaded,
  );
  event.waitUntil(done.then((answer) => event.ports[0]?.postMessage(answer)));
});

async function asset(request) {
  const kept = await caches.match(request);
  if (kept) return kept;
  const response = await fetch(request);
  if (response.ok) await (await caches.open(cacheName)).put(request, response.clone());
  return response;
}

async function page(event, url) {
  const fresh = fetch(event.request).then(async (response) => {
    if (isShell(response)) await (await caches.open(cacheName)).put(shellKey(url), response.clone());
    return response;
  });
  // the browser must not end the worker while a slow page is still on its way into the cache
  event.waitUntil(fresh.catch(() => undefined));
  const kept = await keptPage(url);
  if (!kept) return fresh;
  const patience = new Promise((resolve) => setTimeout(() => resolve(kept), patienceMs));
  const wanted = fresh.then(
    (response) => (response.status >= 500 ? kept : response),
    () => kept,
  );
  return Promise.race([wanted, patience]);
}

/** This build's page first; an older one still opens the floor. */
const keptPage = async (url) =>
  (await (await caches.open(cacheName)).match(shellKey(url))) ?? (await caches.match(shellKey(url)));

/** `loaded`: what the open page has loaded beyond what its text names, while no worker stood between. */
async function keepShells(paths, loaded) {
  const cache = await caches.open(cacheName);
  await Promise.all(loaded.map((path) => keepAsset(cache, path)));
  const kept = await Promise.allSettled(paths.map((path) => keepShell(cache, path)));
  const isKept = (_path, index) => kept[index].status === "fulfilled";
  const cached = paths.filter(isKept);
  const failed = paths.filter((path, index) => !isKept(path, index));
  if (failed.length === 0) await dropOlderBuilds();
  return { cached, failed };
}

async function keepShell(cache, path) {
  const response = await fetch(path, { credentials: "same-origin" });
  if (!isShell(response)) throw new Error(`${path} is not a page that can be kept`);
  const html = await response.clone().text();
  // scripts, styles and the chunks that the page names for later
  const assets = new Set(html.match(/\/(?:_next\/static|fonts)\/[^"'\\ )<>]+/g) ?? []);
  await Promise.all([...assets].map((asset) => keepAsset(cache, asset)));
  await cache.put(shellKey(new URL(path, self.location.origin)), response);
}

async function keepAsset(cache, path) {
  if (await cache.match(path)) return;
  const response = await fetch(path);
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  await cache.put(path, response.clone());
  if (!path.split("?")[0].endsWith(".css")) return;
  // letters that a style sheet names, given from its own address
  const named = (await response.text()).match(/url\(([^)]+)\)/g) ?? [];
  const addresses = named
    .map((text) => text.slice(4, -1).replace(/["']/g, ""))
    .filter((text) => !text.startsWith("data:"));
  const base = new URL(path, self.location.origin);
  const letters = addresses
    .map((text) => new URL(text, base))
    .filter((url) => url.origin === base.origin && isHashed(url));
  await Promise.all(letters.map((url) => keepAsset(cache, url.pathname + url.search)));
}

async function dropOlderBuilds() {
  const names = await caches.keys();
  await Promise.all(
    names.filter((name) => name.startsWith(cachePrefix) && name !== cacheName).map((name) => caches.delete(name)),
  );
}
