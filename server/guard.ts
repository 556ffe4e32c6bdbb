import type { IncomingMessage, ServerResponse } from "node:http";
import { type InstantMs, secondMs } from "~/core/units";
import { limits } from "~/core/wire-limits";
import { Knocks } from "./knocks";
import type { Origins } from "./origins";

const apiPath = "/api/trpc/";

/** How often a request tries a password, an invitation, a link or a pass: one may ask several things at once. */
function triesIn(url: string): number {
  const path = decoded(url.split("?")[0] ?? "");
  if (path.startsWith("/api/auth/")) return 1;
  const procedures = path.startsWith(apiPath) ? path.slice(apiPath.length).split(",") : [];
  return procedures.filter((name) => name.startsWith("account.") || name.startsWith("lastDelivery.")).length;
}

/** Whoever answers reads the address decoded, so it is counted so. */
function decoded(path: string): string {
  try {
    return decodeURIComponent(path);
  } catch {
    return path; // not an address that anything answers to
  }
}

type GuardParts = {
  origins: Origins;
  now: () => InstantMs;
  /** So long what was asked may take to arrive; a queue with a logger's year in it has the server's own patience. */
  bodyMs?: number;
};

/**
 * Stands before whatever changes something: turns away what pages of other sites send with a member's cookie, and who
 * tries again and again to get in. @returns whether the request was answered here
 */
export function guardOf({
  origins,
  now,
  bodyMs = 10 * secondMs,
}: GuardParts): (request: IncomingMessage, response: ServerResponse) => boolean {
  const strangers = new Knocks(limits.strangersOfNetwork);
  return (request, response) => {
    if (request.method === "GET" || request.method === "HEAD") return false;
    const path = request.url ?? "";
    if (!origins.admits(request)) {
      response.writeHead(403, { "content-type": "text/plain", connection: "close" });
      response.end("This request comes from another site. The shop's own addresses are named in ALLOWED_ORIGINS.");
      return true;
    }
    if (!path.startsWith(`${apiPath}door.`)) hurry(request, bodyMs);
    const tries = triesIn(path);
    if (tries === 0 || strangers.take(request.socket.remoteAddress ?? "", now(), tries)) return false;
    response.writeHead(429, { "content-type": "application/json", "retry-after": "1", connection: "close" });
    response.end(path.startsWith("/api/auth/") ? signInAnswer(now() + secondMs) : "{}");
    return true;
  };
}

/** Hangs up on whoever begins to ask and does not go on. */
function hurry(request: IncomingMessage, bodyMs: number): void {
  const timer = setTimeout(() => request.destroy(), bodyMs);
  for (const over of ["end", "close"]) request.once(over, () => clearTimeout(timer));
}

/** In the form in which the sign-in's own library tells a refusal to its page. */
const signInAnswer = (earliestAt: InstantMs): string =>
  JSON.stringify({
    url: `http://localhost/sign-in?error=${encodeURIComponent(JSON.stringify({ kind: "too-many-attempts", earliestAt }))}`,
  });
