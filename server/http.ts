import { readFileSync } from "node:fs";
import http, { type IncomingMessage, type RequestListener, type ServerResponse } from "node:http";
import https from "node:https";
import { referenceOf } from "~/api/error-reference";
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
  /** Stands before all of these. @returns whether it has answered by itself */
  guard?: (request: IncomingMessage, response: ServerResponse) => boolean;
  /** By their paths: what whoever watches over the processes asks. */
  watch?: Readonly<Record<string, Handler>>;
  report: (error: unknown) => void;
  /** Whether this process serves: not any more once it has been asked to end. */
  isServing?: () => boolean;
};

/** The API is answered here, by the process that holds the rooms; everything else is a page. */
export const dispatcher = ({
  api,
  parts,
  pages,
  guard = () => false,
  watch = {},
  report,
  isServing = () => true,
}: Handlers): RequestListener => {
  const handlerOf = (url: string): Handler => {
    const watching = Object.hasOwn(watch, url) ? watch[url] : undefined;
    if (watching) return watching;
    if (url.startsWith(apiPath)) return isServing() ? api : elsewhere;
    return url === partsPath ? parts : pages;
  };
  return (request, response) => {
    if (guard(request, response)) return;
    handlerOf(request.url ?? "")(request, response).catch((error: unknown) => {
      report(error);
      if (response.headersSent) return void response.end();
      response.writeHead(500, { "content-type": "text/plain" });
      response.end(`Something broke on the server. Reference ${referenceOf(error)}\n`);
    });
  };
};

const elsewhere: Handler = async (_, response) => {
  response.writeHead(503, { "retry-after": "2", connection: "close" }).end();
};
