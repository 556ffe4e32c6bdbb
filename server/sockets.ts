import type { WebSocket } from "ws";
import { type InstantMs, minuteMs } from "~/core/units";
import { closeCode, limits, type RoomAddress } from "~/core/wire";
import { type Access, accessTo, type Standing } from "./access";
import { Connection } from "./connection";
import type { Rooms } from "./rooms";

/** Close code of the WebSocket registry: try again later. */
const tryLater = 1013;
const recheckMs = minuteMs;

export type LookUp = (sessionId: string, now: InstantMs) => Promise<Standing | undefined>;

/** Every open socket, and whether its session may still be there. */
export class Sockets {
  private readonly addressByConnection = new Map<Connection, RoomAddress>();

  constructor(
    private readonly rooms: Rooms,
    private readonly lookUp: LookUp,
    private readonly now: () => InstantMs,
    private readonly report: (error: unknown) => void,
  ) {}

  get size(): number {
    return this.addressByConnection.size;
  }

  /** Takes a socket in. Called in the turn in which it opened, so that nothing it says is missed. */
  accept(socket: WebSocket, address: RoomAddress, access: Access): void {
    const connection = new Connection(socket, access, this.now);
    const ofSession = [...this.addressByConnection.keys()].filter(
      (other) => other.isOpen && other.access.sessionId === access.sessionId,
    );
    if (ofSession.length >= limits.socketsPerSession) {
      connection.close(tryLater);
      return;
    }
    this.addressByConnection.set(connection, address);
    socket.on("close", () => this.addressByConnection.delete(connection));
    void this.rooms.join(address, connection);
  }

  beat(now: InstantMs): void {
    for (const connection of this.addressByConnection.keys()) {
      if (!connection.isOpen) this.addressByConnection.delete(connection);
      else connection.beat(now);
    }
    void this.recheck((connection) => now - connection.checkedAt >= recheckMs);
  }

  /** Stops speaking to these until `recheck` has been told how their sessions stand. */
  hold(isMeant: (access: Access) => boolean): void {
    for (const connection of this.addressByConnection.keys()) if (isMeant(connection.access)) connection.hold();
  }

  /** Looks again how the sessions of these stand, and hangs up on those that may no longer be there. */
  async recheck(isMeant: (connection: Connection) => boolean): Promise<void> {
    const meant = [...this.addressByConnection].filter(([connection]) => connection.isOpen && isMeant(connection));
    await Promise.all(meant.map(([connection, address]) => this.recheckOne(connection, address)));
  }

  closeAll(code: number): void {
    for (const connection of this.addressByConnection.keys()) connection.close(code);
    this.addressByConnection.clear();
  }

  private async recheckOne(connection: Connection, address: RoomAddress): Promise<void> {
    const now = this.now();
    connection.checkedAt = now;
    try {
      const answer = accessTo(address, await this.lookUp(connection.access.sessionId, now), now);
      if ("code" in answer) return connection.close(answer.code);
      connection.access = answer.access;
      connection.release();
    } catch (error) {
      connection.close(closeCode.databaseAway);
      this.report(error);
    }
  }
}
