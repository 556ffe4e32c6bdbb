/** The server without its pages, as a process of its own that a test can kill: the API's door, and the rooms. */
import type { AddressInfo } from "node:net";
import path from "node:path";
import { handleApi } from "~/api/handler";
import { closeDatabase } from "~/data/db";
import { endOnRequest } from "../../../server/ending";
import { dispatcher, type Handler, listening, webServer } from "../../../server/http";
import { Hub } from "../../../server/hub";
import { openLog } from "../../../server/log";
import { figures } from "../../../server/metrics/figures";
import { Origins } from "../../../server/origins";
import { servicesOf } from "../../../server/services";
import { sessionIdReader } from "../../../server/session-cookie";
import { shutDown } from "../../../server/shutdown";
import { standingOf } from "../../../server/standing";
import { UpgradeGate } from "../../../server/upgrade";
import { watchHandlers } from "../../../server/watch";

const now = () => Date.now();
const log = openLog({ level: "info", counted: () => figures.fault() });
const report = log.fault;
const { TACKFREE_UNFLUSHED, BENCH_UNPACED, NEXTAUTH_SECRET = "", METRICS_TOKEN } = process.env;
/** A test has more devices than a shop. */
const crowd = { session: 2_000, member: 2_000, shop: 2_000, address: 2_000 };
/** A bench sends faster than people do. */
const fast = { perSecond: 1e9, burst: 1e9 };
const unpaced = { framesOfConnection: fast, bytesOfConnection: fast, framesOfShop: fast, bytesOfShop: fast };
const pace = BENCH_UNPACED === "1" ? unpaced : undefined;
const hub = new Hub({ now, lookUp: standingOf, report, isDurable: TACKFREE_UNFLUSHED !== "1", crowd, pace, log });
const sessionIdOf = sessionIdReader({ secrets: [NEXTAUTH_SECRET], url: "http://localhost" });
const services = servicesOf(hub, { now, sessionIdOf, report });
let isServing = true;
const nothingHere: Handler = async (_, response) => void response.writeHead(404).end();
const web = webServer(
  dispatcher({
    api: (request, response) => handleApi(request, response, services),
    parts: nothingHere,
    pages: nothingHere,
    watch: watchHandlers({
      hub,
      migrationsFolder: path.resolve("prisma/migrations"),
      dataFolder: ".",
      metricsToken: METRICS_TOKEN,
      isServing: () => isServing,
      report,
    }),
    report,
    isServing: () => isServing,
  }),
);
const gate = new UpgradeGate({
  sockets: hub.sockets,
  sessionIdOf,
  lookUp: standingOf,
  now,
  report,
  origins: new Origins({ addresses: [], mayBeAbsent: true }),
});
web.on("upgrade", gate.handle);
await hub.open();
const beat = setInterval(() => hub.beat(), 100);
await listening(web, 0, "127.0.0.1");
console.log(`listening on ${(web.address() as AddressInfo).port}`);
endOnRequest(
  () =>
    shutDown({
      servers: [web],
      gate,
      hub,
      stopServing: () => {
        isServing = false;
      },
      stopBeating: () => clearInterval(beat),
      closePages: async () => undefined,
      closeDatabase,
    }),
  log,
);
