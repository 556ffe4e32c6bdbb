import { X509Certificate } from "node:crypto";
import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import path from "node:path";
import next from "next";
import { handleApi } from "~/api/handler";
import { limits } from "~/core/wire-limits";
import { closeDatabase } from "~/data/db";
import { endOnRequest } from "./ending";
import { demoShopId, hasDemoShop, waysIn } from "./first-start";
import { guardOf } from "./guard";
import { dispatcher, listening, type WebServer, webServer } from "./http";
import { Hub } from "./hub";
import { openLog } from "./log";
import { figures } from "./metrics/figures";
import { Origins } from "./origins";
import { pageParts } from "./page-parts";
import { recordInventedReadings, sensorEveryMs } from "./sensor";
import { servicesOf } from "./services";
import { sessionIdReader } from "./session-cookie";
import { readSettings } from "./settings";
import { shutDown } from "./shutdown";
import { standingOf } from "./standing";
import { trustPages } from "./trust-page";
import { UpgradeGate } from "./upgrade";
import { watchHandlers } from "./watch";

const settings = readSettings(process.env);
const log = openLog({
  level: settings.logLevel,
  isReadable: settings.isDevelopment,
  counted: () => figures.fault(),
});
const report = log.fault;
const now = (): number => Date.now();

const hub = new Hub({ now, lookUp: standingOf, report, isDurable: settings.isDurable, log });
const sessionIdOf = sessionIdReader({ secrets: settings.sessionSecrets, url: settings.siteUrl });
const origins = new Origins({
  addresses: settings.siteAddresses,
  mayBeAbsent: settings.mayLackOrigin,
  turnedAway: (origin) => log.warn("origin-refused", { origin }),
});
const services = servicesOf(hub, { now, sessionIdOf, report });
let isServing = true;
let pages: ReturnType<(typeof app)["getRequestHandler"]>;
const server = webServer(
  dispatcher({
    api: (request, response) => handleApi(request, response, services),
    parts: async (_, response) => {
      const parts = settings.isDevelopment ? [] : await pageParts(path.resolve(".next/static"));
      response.writeHead(200, { "content-type": "application/json", "cache-control": "no-cache" });
      response.end(JSON.stringify(parts));
    },
    pages: (request, response) => pages(request, response),
    guard: guardOf({ origins, now }),
    report,
    isServing: () => isServing,
    watch: watchHandlers({
      hub,
      migrationsFolder: path.resolve("prisma/migrations"),
      dataFolder: settings.dataFolder,
      metricsToken: settings.metricsToken,
      isServing: () => isServing,
      report,
    }),
  }),
  settings.tls,
);
// Next listens for upgrades on the server that it is given and ends those it does not know, so it is given one that never
// opens; what is for it, the gate hands over.
const pageServer = createServer();
const app = next({ dev: settings.isDevelopment, httpServer: pageServer, port: settings.port });
await app.prepare();
pages = app.getRequestHandler();

const gate = new UpgradeGate({
  sockets: hub.sockets,
  sessionIdOf,
  lookUp: standingOf,
  now,
  report,
  origins,
  // in development the page server has a socket of its own, over which pages reload
  pages: settings.isDevelopment
    ? {
        path: "/_next/hmr",
        take: (request, socket, head) => void pageServer.emit("upgrade", request, socket, head),
      }
    : undefined,
});
server.on("upgrade", gate.handle);

const signIn = await waysIn({ isDemo: settings.isDemo, siteUrl: settings.siteUrl, now: now() });

const servers: WebServer[] = [server];
if (settings.authorityFile) {
  servers.push(webServer(trustPages({ authorityFile: settings.authorityFile, sitePort: settings.port })));
}
for (const [index, one] of servers.entries()) await listening(one, settings.port + index, settings.listenHost);

await hub.open();
const beat = setInterval(() => hub.beat(), limits.beatMs);
const readRooms = () => void recordInventedReadings(hub, demoShopId, now()).catch(report);
const isDemoShop = await hasDemoShop();
const sensor = isDemoShop ? setInterval(readRooms, sensorEveryMs) : undefined;
if (isDemoShop) readRooms();

if (settings.authorityFile) {
  const { fingerprint256 } = new X509Certificate(readFileSync(settings.authorityFile));
  console.log(
    `Authority: its SHA-256 fingerprint, to compare on each device that is to trust it:\n  ${fingerprint256}`,
  );
}
console.log(`Tackfree is ready: ${settings.siteUrl}`);
log.info("started");

console.log(signIn);

async function end(): Promise<boolean> {
  const stopBeating = () => {
    clearInterval(beat);
    clearInterval(sensor);
  };
  const stopServing = () => {
    isServing = false;
  };
  const closePages = () => app.close();
  return shutDown({ servers, gate, hub, stopServing, stopBeating, closePages, closeDatabase });
}
endOnRequest(end, log);
