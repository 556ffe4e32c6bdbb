import { createHash, timingSafeEqual } from "node:crypto";
import type { IncomingMessage } from "node:http";
import { BlockList, isIP } from "node:net";
import type { Handler } from "../http";
import { exposition, expositionType, type Instrument } from "./instruments";

const loopback = new BlockList();
loopback.addSubnet("127.0.0.0", 8, "ipv4");
loopback.addAddress("::1", "ipv6");

const isLoopback = (address: string): boolean => {
  const family = isIP(address);
  return family !== 0 && loopback.check(address, family === 6 ? "ipv6" : "ipv4");
};

/** What a proxy in front adds: through it comes the whole world, from this machine. */
const proxied = ["forwarded", "x-forwarded-for", "x-forwarded-host", "x-real-ip", "via"];

/**
 * Does somebody on this machine ask, who typed an address of this machine? A page of another site can make a browser here
 * ask under that site's name.
 */
function isFromThisMachine({ socket, headers }: IncomingMessage): boolean {
  const { remoteAddress = "" } = socket;
  const site = `http://${headers.host}`;
  const hostname = URL.canParse(site) ? new URL(site).hostname : "";
  const isNamedSo = hostname === "localhost" || isLoopback(hostname.replace(/^\[|\]$/g, ""));
  return isLoopback(remoteAddress) && isNamedSo && proxied.every((name) => headers[name] === undefined);
}

const digest = (text: string): Buffer => createHash("sha256").update(text).digest();

const isBearer = (given: string | undefined, token: string): boolean =>
  given !== undefined && timingSafeEqual(digest(given), digest(`Bearer ${token}`));

/** Figures, for this machine and for whoever has the token; nobody else learns that they are here. */
export const metricsHandler =
  (
    instruments: readonly Instrument[],
    { token, report }: { token?: string; report: (error: unknown) => void },
  ): Handler =>
  async (request, response) => {
    const { authorization } = request.headers;
    const mayRead =
      (token !== undefined && isBearer(authorization, token)) ||
      (authorization === undefined && isFromThisMachine(request));
    if (mayRead) {
      response.writeHead(200, { "content-type": expositionType, "cache-control": "no-store" });
      response.end(await exposition(instruments, report));
    } else if (token === undefined) response.writeHead(404).end();
    else response.writeHead(401, { "www-authenticate": "Bearer" }).end();
  };
