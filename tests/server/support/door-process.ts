/** The server without its pages, as a process of its own that a test can kill: the API's door, and the rooms. */
import type { AddressInfo } from "node:net";
import { handleApi } from "~/api/handler";
import { listening, webServer } from "../../../server/http";
import { Hub } from "../../../server/hub";
import { servicesOf } from "../../../server/services";
import { sessionIdReader } from "../../../server/session-cookie";
import { standingOf } from "../../../server/standing";
import { UpgradeGate } from "../../../server/upgrade";

const now = () => Date.now();
const report = (error: unknown) => console.error(error);
const { TACKFREE_UNFLUSHED, NEXTAUTH_SECRET = "" } = process.env;
const hub = new Hub({ now, lookUp: standingOf, report, isDurable: TACKFREE_UNFLUSHED !== "1" });
const sessionIdOf = sessionIdReader({ secret: NEXTAUTH_SECRET, url: "http://localhost" });
const services = servicesOf(hub, { now, sessionIdOf, report });
const web = webServer((request, response) => {
  handleApi(request, response, services).catch(report);
});
const gate = new UpgradeGate({
  sockets: hub.sockets,
  sessionIdOf,
  lookUp: standingOf,
  now,
  report,
  mayLackOrigin: true,
});
web.on("upgrade", gate.handle);
await hub.open();
setInterval(() => hub.beat(), 100);
await listening(web, 0, "127.0.0.1");
console.log(`listening on ${(web.address() as AddressInfo).port}`);
