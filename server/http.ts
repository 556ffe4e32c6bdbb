import { readFileSync } from "node:fs";
import http, { type IncomingMessage, type RequestListener, type ServerResponse } from "node:http";
import https from "node:https";
import { minuteMs, secondMs } from "~/core/units";
import { partsPath } from "./page-parts";

export type WebServer = http.Server | https.Server;
export type Tls = { certificateFile: string; keyFile: string };

/** A line that is opened and left hanging is closed. The import of a logger's year over bad wifi must still get through. */
const patience = {
  headersTimeout: 5 * secondMs,
  requestTimeout: minuteMs,
  connectionsCheckingInterval: 2 * secondMs,
  maxHeaderSize: 16 * 1024,
};

/** A server for the site: over https where a certificate is given. */
export function webServer(listener: RequestListener, tls?: Tls): WebServer {
  const server = tls
    ? https.createServer(
        { ...patience, cert: readFileSync(tls.certificateFile), key: readFileSync(tls.keyFile) },
        listener,
      )
    : http.createServer(patience, listener);
  // without a listener node answers by itself, but leaves a half-dead line behind where it cannot
  server.on("clientError", (error: NodeJS.ErrnoException, socket) => {
    // a browser keeps spare lines open: an answer to nothing asked would be taken for the answer to its next question
    const isSpare = error.code === "ERR_HTTP_REQUEST_TIMEOUT";
    if (socket.writable && !isSpare) socket.end("HTTP/1.1 400 Bad Request\r\nConnection: close\r\n\r\n");
    else socket.destroy();
  });
  return server;
}

export const listening = (server: WebServer, port: number, host: string): Promise<void> =>
  new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, host, () => {
      server.off("error", reject);
      resolve();
    });
  });

export type Handler = (request: IncomingMessage, response: ServerResponse) => Promise<void>;

const apiPath = "/api/trpc/";

type Handlers = {
  api: Handler;
  parts: Handler;
  pages: Handler;
  report: (error: unknown) => void;
  /** Whether this process serves: not any more once it has been asked to end. */
  isServing?: () => boolean;
  /** Whether it can: the database answers. */
  isReady?: () => Promise<boolean>;
};

/**
 * The API is answered here, by the process that holds the rooms; everything else is a page. Whoever watches over several
 * processes asks `/healthz` whether this one lives, and `/readyz` whether to send people here.
 */
export const dispatcher = ({
  api,
  parts,
  pages,
  report,
  isServing = () => true,
  isReady = async () => true,
}: Handlers): RequestListener => {
  const readiness: Handler = async (_, response) => {
    const isSo = isServing() && (await isReady().catch(() => false));
    response.writeHead(isSo ? 200 : 503, { "content-type": "text/plain" }).end(isSo ? "ready\n" : "not ready\n");
  };
  const handlerOf = (url: string): Handler => {
    if (url === "/healthz") return async (_, response) => void response.writeHead(200).end("alive\n");
    if (url === "/readyz") return readiness;
    if (url.startsWith(apiPath)) return isServing() ? api : elsewhere;
    return url === partsPath ? parts : pages;
  };
  return (request, response) => {
    handlerOf(request.url ?? "")(request, response).catch((error: unknown) => {
      report(error);
      if (!response.headersSent) response.writeHead(500);
      response.end();
    });
  };
};

const elsewhere: Handler = async (_, response) => {
  response.writeHead(503, { "retry-after": "2", connection: "close" }).end();
};
