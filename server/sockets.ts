import { setTimeout as pause } from "node:timers/promises";
import type { WebSocket } from "ws";
import { type InstantMs, minuteMs, secondMs } from "~/core/units";
import { closeCode, limits, type RoomAddress } from "~/core/wire";
import { type Access, accessTo, type Standing } from "./access";
import { Connection } from "./connection";
import type { Whose } from "./neighbours";
import type { Rooms } from "./rooms";

/** Close code of the WebSocket registry: try again later. */
const tryLater = 1013;
const recheckMs = minuteMs;
/** Beats are a quarter of a second apart: a process without one for this long was stopped, or all but. */
const stoppedMs = 3 * secondMs;

export type LookUp = (sessionId: string, now: InstantMs) => Promise<Standing | undefined>;

/** Every open socket, and whether its session may still be there. */
export class Sockets {
  private readonly addressByConnection = new Map<Connection, RoomAddress>();
  private readonly doubts = new Set<Promise<void>>();
  private beatenAt: number | undefined;

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
    const connection = new Connection(socket, access, this.now, () => this.noticeStop());
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
    this.noticeStop();
    this.beatenAt = performance.now();
    for (const connection of this.addressByConnection.keys()) {
      if (!connection.isOpen) this.addressByConnection.delete(connection);
      else connection.beat(now);
    }
    for (const [connection, address] of this.addressByConnection) {
      if (now - connection.checkedAt >= recheckMs) void this.recheck(connection, address);
    }
  }

  /** The shops whose rooms somebody has open. */
  shopIds(): Set<string> {
    return new Set([...this.addressByConnection.values()].map(({ shopId }) => shopId));
  }

  /**
   * Stops speaking to these at once, looks again how their sessions stand, and hangs up on those that may no longer be
   * there. The others then hear what was held back for them.
   */
  async doubt(isMeant: (access: Access) => boolean): Promise<void> {
    const meant = [...this.addressByConnection].filter(([{ isOpen, access }]) => isOpen && isMeant(access));
    for (const [connection] of meant) connection.hold();
    const asked = meant.map(async ([connection, address]) => {
      await this.recheck(connection, address);
      connection.release();
    });
    for (const one of asked) {
      this.doubts.add(one);
      void one.then(() => this.doubts.delete(one));
    }
    await Promise.all(asked);
  }

  /** Waits until everybody who may has heard what was held back for them. */
  async settled(): Promise<void> {
    await Promise.all(this.doubts);
  }

  /**
   * A process that was stopped for a while wakes up with what it believed then, and with what has been sent to it since:
   * before it takes any of that, it asks again who may still say something.
   */
  private noticeStop(): void {
    const at = performance.now();
    if (this.beatenAt === undefined || at - this.beatenAt < stoppedMs) return;
    this.beatenAt = at;
    const asked = this.doubt(() => true);
    for (const connection of this.addressByConnection.keys()) connection.distrust(asked);
  }

  doubtThoseOf(whose: Whose): Promise<void> {
    return this.doubt(({ sessionId, memberId }) =>
      "sessionId" in whose ? sessionId === whose.sessionId : memberId === whose.memberId,
    );
  }

  closeAll(code: number): void {
    for (const connection of this.addressByConnection.keys()) connection.close(code);
    this.addressByConnection.clear();
  }

  /** Hangs up in parts, a while apart, so that not all come back in the same moment. */
  async closeInTurn(code: number, { parts, betweenMs }: { parts: number; betweenMs: number }): Promise<void> {
    const open = [...this.addressByConnection.keys()];
    const partSize = Math.ceil(open.length / parts);
    for (let from = 0; from < open.length; from += partSize) {
      if (from > 0) await pause(betweenMs);
      for (const connection of open.slice(from, from + partSize)) connection.close(code);
    }
    this.closeAll(code);
  }

  private async recheck(connection: Connection, address: RoomAddress): Promise<void> {
    const now = this.now();
    connection.checkedAt = now;
    try {
      const answer = accessTo(address, await this.lookUp(connection.access.sessionId, now), now);
      if ("code" in answer) return connection.close(answer.code);
      connection.access = answer.access;
    } catch (error) {
      connection.close(closeCode.databaseAway);
      this.report(error);
    }
  }
}
