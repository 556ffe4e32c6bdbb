import { X509Certificate } from "node:crypto";
import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import path from "node:path";
import next from "next";
import pino from "pino";
import { handleApi } from "~/api/handler";
import { closeDatabase, isDatabaseThere } from "~/data/db";
import { demoShopId, hasDemoShop, waysIn } from "./first-start";
import { dispatcher, listening, type WebServer, webServer } from "./http";
import { Hub } from "./hub";
import { pageParts } from "./page-parts";
import { recordInventedReadings, sensorEveryMs } from "./sensor";
import { servicesOf } from "./services";
import { sessionIdReader } from "./session-cookie";
import { readSettings } from "./settings";
import { shutDown } from "./shutdown";
import { standingOf } from "./standing";
import { trustPages } from "./trust-page";
import { UpgradeGate } from "./upgrade";

const beatMs = 250;

const settings = readSettings(process.env);
const log = pino({ name: "tackfree" });
const report = (error: unknown): void => log.error(error);
const now = (): number => Date.now();

const hub = new Hub({ now, lookUp: standingOf, report, isDurable: settings.isDurable });
const sessionIdOf = sessionIdReader({ secret: settings.sessionSecret, url: settings.siteUrl });
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
    report,
    isServing: () => isServing,
    isReady: isDatabaseThere,
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
  // in development the page server has a socket of its own, over which pages reload
  others: settings.isDevelopment
    ? (request, socket, head) => void pageServer.emit("upgrade", request, socket, head)
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
const beat = setInterval(() => hub.beat(), beatMs);
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

console.log(signIn);

let isEnding = false;
async function end(): Promise<void> {
  if (isEnding) return;
  isEnding = true;
  const stopBeating = () => {
    clearInterval(beat);
    clearInterval(sensor);
  };
  const stopServing = () => {
    isServing = false;
  };
  const closePages = () => app.close();
  const isInTime = await shutDown({ servers, gate, hub, stopServing, stopBeating, closePages, closeDatabase });
  process.exit(isInTime ? 0 : 1);
}
for (const signal of ["SIGTERM", "SIGINT", "SIGHUP"]) process.on(signal, () => void end());
// whoever started this server is gone without a word
process.on("disconnect", () => void end());
