import type { IncomingMessage } from "node:http";
import type { Duplex } from "node:stream";
import { WebSocketServer } from "ws";
import { type InstantMs, secondMs } from "~/core/units";
import { limits, parseRoom, type RoomAddress, syncPath } from "~/core/wire";
import { accessTo } from "./access";
import type { SessionIdOf } from "./session-cookie";
import type { LookUp, Sockets } from "./sockets";

export type Gate = {
  sockets: Sockets;
  sessionIdOf: SessionIdOf;
  lookUp: LookUp;
  now: () => InstantMs;
  report: (error: unknown) => void;
  /** Only programs leave it out; browsers always say from which site a socket is opened. */
  mayLackOrigin?: boolean;
  /** Whoever else takes upgrades: the page server, in development. */
  others?: (request: IncomingMessage, socket: Duplex, head: Buffer) => void;
};

const statuses = {
  400: "Bad Request",
  401: "Unauthorized",
  403: "Forbidden",
  404: "Not Found",
  503: "Service Unavailable",
} as const;

/** So many at once may wait for the database, and so long. */
const mostHandshakes = 64;
const patienceMs = 2 * secondMs;

/**
 * Decides about every upgrade, with the same look-up of the session as the API, because nothing that guards the pages
 * sees an upgrade. A stranger gets an HTTP status. Who has a session is let in and then told by a close code why not,
 * because a browser cannot read the status, and would try for ever.
 */
export class UpgradeGate {
  private handshakes = 0;
  private isShut = false;
  private readonly server = new WebSocketServer({
    noServer: true,
    clientTracking: false,
    perMessageDeflate: false, // it keeps memory for every socket
    maxPayload: 2 * limits.frameBytes, // one that is a little too large is told so; beyond this ws hangs up by itself
    maxFragments: 64,
    maxBufferedChunks: 4096,
  });

  constructor(private readonly gate: Gate) {}

  readonly handle = (request: IncomingMessage, socket: Duplex, head: Buffer): void => {
    socket.on("error", () => socket.destroy());
    const room = roomOf(request.url ?? "");
    if (room === "elsewhere" && this.gate.others) this.gate.others(request, socket, head);
    else if (room === "elsewhere" || !room) refuse(socket, 404);
    else if (!this.isFromHere(request)) refuse(socket, 403);
    else if (this.isShut || this.handshakes >= mostHandshakes) refuse(socket, 503);
    else void this.shakeHands(request, socket, head, room);
  };

  shut(): void {
    this.isShut = true;
  }

  private async shakeHands(request: IncomingMessage, socket: Duplex, head: Buffer, room: RoomAddress): Promise<void> {
    this.handshakes += 1;
    try {
      await this.admit(request, socket, head, room);
    } catch (error) {
      this.gate.report(error);
      refuse(socket, 503);
    } finally {
      this.handshakes -= 1;
    }
  }

  private async admit(request: IncomingMessage, socket: Duplex, head: Buffer, room: RoomAddress): Promise<void> {
    const { sessionIdOf, lookUp, now, sockets } = this.gate;
    const sessionId = await sessionIdOf(request);
    if (sessionId === undefined) return refuse(socket, 401);
    const standing = await inTime(lookUp(sessionId, now()));
    if (this.isShut || socket.destroyed) return refuse(socket, 503);
    const answer = accessTo(room, standing, now());
    this.server.handleUpgrade(request, socket, head, (opened) => {
      if ("access" in answer) return sockets.accept(opened, room, answer.access);
      opened.on("error", () => opened.terminate());
      opened.close(answer.code);
    });
  }

  /** Cookies travel with sockets that other sites open, so the site must be this one. */
  private isFromHere({ headers }: IncomingMessage): boolean {
    if (headers.origin === undefined) return this.gate.mayLackOrigin ?? false;
    return URL.canParse(headers.origin) && new URL(headers.origin).host === headers.host?.toLowerCase();
  }
}

/** The room that a path names, undefined where it names none, "elsewhere" where it is not about rooms. */
function roomOf(url: string): RoomAddress | undefined | "elsewhere" {
  const [path = ""] = url.split("?");
  return path.startsWith(`${syncPath}/`) ? parseRoom(path.slice(syncPath.length + 1)) : "elsewhere";
}

function refuse(socket: Duplex, status: keyof typeof statuses): void {
  if (socket.destroyed) return;
  socket.end(`HTTP/1.1 ${status} ${statuses[status]}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`, () =>
    socket.destroy(),
  );
}

async function inTime<Value>(work: Promise<Value>): Promise<Value> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error("a session was not found in time")), patienceMs);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
}
