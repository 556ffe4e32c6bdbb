import type { IncomingMessage, ServerResponse } from "node:http";
import { nodeHTTPRequestHandler } from "@trpc/server/adapters/node-http";
import { createContext } from "./init";
import { appRouter } from "./root";
import type { Services } from "./services";

export const apiPath = "/api/trpc/";

/** The longest request: a logger's file of 200,000 rows, read on the device, in columns. */
const longestBodyBytes = 16 << 20;

/** Cookies ride along on requests that another site makes; such a request is not the member's. */
const isFromElsewhere = ({ method, headers }: IncomingMessage): boolean => {
  if (method === "GET" || headers.origin === undefined) return false;
  try {
    return new URL(headers.origin).host !== headers.host;
  } catch {
    return true;
  }
};

export async function handleApi(request: IncomingMessage, response: ServerResponse, services: Services): Promise<void> {
  if (isFromElsewhere(request)) {
    response.writeHead(403, { "content-type": "text/plain" }).end("This request comes from another site.");
    return;
  }
  const path = new URL(request.url ?? "/", "http://local").pathname.slice(apiPath.length);
  await nodeHTTPRequestHandler({
    req: request,
    res: response,
    path,
    router: appRouter,
    maxBodySize: longestBodyBytes,
    createContext: () => createContext(request, services),
    responseMeta: () => ({ headers: { "cache-control": "no-store" } }),
    onError: ({ error }) => {
      if (error.code === "INTERNAL_SERVER_ERROR") services.report(error.cause ?? error);
    },
  });
}
