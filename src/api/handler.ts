import type { IncomingMessage, ServerResponse } from "node:http";
import { nodeHTTPRequestHandler } from "@trpc/server/adapters/node-http";
import { createContext } from "./init";
import { appRouter } from "./root";
import type { Services } from "./services";

export const apiPath = "/api/trpc/";

/** The longest request: a logger's file of 200,000 rows, read on the device, in columns. */
const longestBodyBytes = 16 << 20;

const reported: ReadonlySet<string> = new Set(["INTERNAL_SERVER_ERROR", "SERVICE_UNAVAILABLE"]);

/** Answers a request that has passed the guard: cookies ride along on what other sites ask, too. */
export async function handleApi(request: IncomingMessage, response: ServerResponse, services: Services): Promise<void> {
  const path = new URL(request.url ?? "/", "http://local").pathname.slice(apiPath.length);
  await nodeHTTPRequestHandler({
    req: request,
    res: response,
    path,
    router: appRouter,
    maxBodySize: longestBodyBytes,
    createContext: () => createContext(request, services),
    responseMeta: ({ errors }) => ({
      headers: {
        "cache-control": "no-store",
        ...(errors.some(({ code }) => code === "SERVICE_UNAVAILABLE") ? { "retry-after": "2" } : {}),
      },
    }),
    onError: ({ error }) => {
      if (reported.has(error.code)) services.report(error.cause ?? error);
    },
  });
}
