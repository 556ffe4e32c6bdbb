import { setTimeout as pause } from "node:timers/promises";
import type { WebSocket } from "ws";
import { type InstantMs, minuteMs, secondMs } from "~/core/units";
import { closeCode, type RoomAddress } from "~/core/wire";
import { type Access, accessTo, type Standing } from "./access";
import { Connection } from "./connection";
import type { Crowd } from "./crowd";
import type { Whose } from "./neighbours";
import { type PaceLimits, ShopPaces } from "./rate";
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
  private readonly leaveByConnection = new Map<Connection, () => void>();
  private readonly doubts = new Set<Promise<void>>();
  private readonly paces: ShopPaces;
  private newsHeard = 0;
  private beatenAt: number | undefined;

  constructor(
    private readonly rooms: Rooms,
    private readonly lookUp: LookUp,
    private readonly now: () => InstantMs,
    private readonly report: (error: unknown) => void,
    private readonly crowd: Crowd,
    pace?: PaceLimits,
  ) {
    this.paces = new ShopPaces(pace);
  }

  get size(): number {
    return this.addressByConnection.size;
  }

  /** What each open socket is for. */
  kinds(): RoomAddress["kind"][] {
    return [...this.addressByConnection.values()].map(({ kind }) => kind);
  }

  /** Grows with everything heard that may have changed somebody's rights. */
  get newsCount(): number {
    return this.newsHeard;
  }

  /** Something was heard that may have changed somebody's rights; who is on the way in is looked at again. */
  hearNews(): void {
    this.newsHeard += 1;
  }

  /**
   * Takes a socket in. Called in the turn in which it opened, so that nothing it says is missed.
   *
   * @param from the network address that it comes from
   * @param newsCount as it was before its access was looked up
   */
  accept(
    socket: WebSocket,
    address: RoomAddress,
    access: Access,
    { from, newsCount }: { from?: string; newsCount: number },
  ): void {
    const connection = new Connection(socket, access, {
      now: this.now,
      shop: this.paces.of(access.shopId, this.now()),
      report: this.report,
      awake: () => this.noticeStop(),
    });
    const leave = this.enter({ ...access, address: from });
    if (!leave) {
      connection.close(tryLater);
      return;
    }
    this.addressByConnection.set(connection, address);
    this.leaveByConnection.set(connection, leave);
    socket.on("close", () => this.forget(connection));
    // the news may have been of this very session, and come between the look-up and now
    if (newsCount !== this.newsHeard) void this.doubt(new Set([connection]));
    void this.rooms.join(address, connection);
  }

  /** Where it is full, those whom this side has hung up on make room, however long they take to go. */
  private enter(visitor: Parameters<Crowd["enter"]>[0]): (() => void) | undefined {
    const leave = this.crowd.enter(visitor);
    if (leave) return leave;
    for (const connection of this.addressByConnection.keys()) if (!connection.isOpen) this.forget(connection);
    return this.crowd.enter(visitor);
  }

  private forget(connection: Connection): void {
    this.addressByConnection.delete(connection);
    this.leaveByConnection.get(connection)?.();
    this.leaveByConnection.delete(connection);
  }

  beat(now: InstantMs): void {
    this.noticeStop();
    this.beatenAt = performance.now();
    for (const connection of this.addressByConnection.keys()) {
      if (!connection.isOpen) this.forget(connection);
      else connection.beat(now);
    }
    this.paces.forgetAllBut(this.shopIds());
    for (const [connection, address] of this.addressByConnection) {
      if (now - connection.checkedAt >= recheckMs) void this.recheck(connection, address);
    }
  }

  /** The shops whose rooms somebody has open. */
  shopIds(): Set<string> {
    return new Set([...this.addressByConnection.values()].map(({ shopId }) => shopId));
  }

  /**
   * Stops speaking and listening to these at once, looks again how their sessions stand, and hangs up on those that may
   * no longer be there. The others then hear what was held back for them, and are heard.
   */
  async doubtWhere(isMeant: (access: Access) => boolean): Promise<void> {
    this.hearNews();
    await this.doubt(new Set([...this.addressByConnection.keys()].filter(({ access }) => isMeant(access))));
  }

  private async doubt(connections: ReadonlySet<Connection>): Promise<void> {
    const meant = [...this.addressByConnection].filter(([one]) => one.isOpen && connections.has(one));
    for (const [connection] of meant) connection.hold();
    const asked = meant.map(async ([connection, address]) => {
      const known = this.recheck(connection, address);
      connection.distrust(known);
      await known;
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
    const asked = this.doubtWhere(() => true);
    for (const connection of this.addressByConnection.keys()) connection.distrust(asked);
  }

  doubtThoseOf(whose: Whose): Promise<void> {
    return this.doubtWhere(({ sessionId, memberId }) =>
      "sessionId" in whose ? sessionId === whose.sessionId : memberId === whose.memberId,
    );
  }

  closeAll(code: number): void {
    for (const connection of this.addressByConnection.keys()) {
      connection.close(code);
      this.forget(connection);
    }
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
