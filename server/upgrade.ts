import type { IncomingMessage } from "node:http";
import type { Duplex } from "node:stream";
import { WebSocketServer } from "ws";
import type { InstantMs } from "~/core/units";
import { parseRoom, type RoomAddress, syncPath } from "~/core/wire";
import { limits } from "~/core/wire-limits";
import { accessTo } from "./access";
import { Knocks } from "./knocks";
import { figures } from "./metrics/figures";
import type { Origins } from "./origins";
import { RoomSocket } from "./room-socket";
import type { SessionIdOf } from "./session-cookie";
import type { LookUp, Sockets } from "./sockets";

export type Gate = {
  sockets: Sockets;
  sessionIdOf: SessionIdOf;
  lookUp: LookUp;
  now: () => InstantMs;
  report: (error: unknown) => void;
  origins: Origins;
  /** Who else takes upgrades, on its own path: the page server, in development. */
  pages?: { path: string; take: (request: IncomingMessage, socket: Duplex, head: Buffer) => void };
};

const statuses = {
  400: "Bad Request",
  401: "Unauthorized",
  403: "Forbidden",
  404: "Not Found",
  503: "Service Unavailable",
} as const;

/**
 * Decides about every upgrade, with the same look-up of the session as the API, because nothing that guards the pages
 * sees an upgrade. A stranger gets an HTTP status. Who has a session is let in and then told by a close code why not,
 * because a browser cannot read the status, and would try for ever.
 */
export class UpgradeGate {
  private handshakes = 0;
  private isShut = false;
  private readonly strangers = new Knocks(limits.strangersOfNetwork);
  private readonly server = new WebSocketServer({
    noServer: true,
    WebSocket: RoomSocket,
    clientTracking: false,
    perMessageDeflate: false, // it keeps memory for every socket
    maxPayload: limits.frameBytes,
    maxFragments: limits.fragments,
    maxBufferedChunks: limits.bufferedChunks,
    ...{ closeTimeout: limits.closingMs }, // the library's types do not name it
  });

  constructor(private readonly gate: Gate) {}

  readonly handle = (request: IncomingMessage, socket: Duplex, head: Buffer): void => {
    socket.on("error", () => socket.destroy());
    const { pages, origins } = this.gate;
    const [path = ""] = (request.url ?? "").split("?");
    const room = roomOf(path);
    if (pages && path === pages.path) pages.take(request, socket, head);
    else if (!room) refuse(socket, 404);
    else if (!origins.admits(request)) refuse(socket, 403);
    else if (this.isShut || this.handshakes >= limits.handshakes) refuse(socket, 503);
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
    if (sessionId === undefined) return this.turnAway(request, socket);
    const { newsCount } = sockets;
    const standing = await inTime(lookUp(sessionId, now()));
    if (this.isShut || socket.destroyed) return refuse(socket, 503);
    const answer = accessTo(room, standing, now());
    this.server.handleUpgrade(request, socket, head, (opened) => {
      if ("access" in answer) {
        sockets.accept(opened, room, answer.access, { from: request.socket.remoteAddress, newsCount });
        return;
      }
      opened.on("error", () => opened.terminate());
      opened.close(answer.code);
    });
  }

  /** Members are never counted here: who floods the shop from its own network shuts nobody out. */
  private turnAway({ socket: { remoteAddress = "" } }: IncomingMessage, socket: Duplex): void {
    if (this.strangers.take(remoteAddress, this.gate.now())) refuse(socket, 401);
    else socket.destroy();
  }
}

/** The room that a path names, undefined where it names none. */
const roomOf = (path: string): RoomAddress | undefined =>
  path.startsWith(`${syncPath}/`) ? parseRoom(path.slice(syncPath.length + 1)) : undefined;

function refuse(socket: Duplex, status: keyof typeof statuses): void {
  if (socket.destroyed) return;
  figures.upgradeRefused(status);
  socket.end(`HTTP/1.1 ${status} ${statuses[status]}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`, () =>
    socket.destroy(),
  );
}

async function inTime<Value>(work: Promise<Value>): Promise<Value> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error("a session was not found in time")), limits.handshakeMs);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
}
