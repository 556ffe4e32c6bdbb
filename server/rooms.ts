import { type InstantMs, minuteMs } from "~/core/units";
import { closeCode, floorRoom, notesRoom, type RoomAddress } from "~/core/wire";
import type { Connection } from "./connection";

/** A shared document in memory, and those who read it. */
export interface Room {
  readonly address: RoomAddress;
  readonly connections: ReadonlySet<Connection>;
  /** Work that is not yet stored. */
  readonly hasPending: boolean;
  admit(connection: Connection): void;
  beat(now: InstantMs): void;
  /** Waits for what is pending. Nothing new comes meanwhile. */
  drain(): Promise<void>;
  destroy(): void;
}

/** Thrown by a load: there is nothing behind this address, or it has another epoch by now. */
export class NotThere extends Error {
  constructor(
    readonly code: number,
    /** For the device, beside the code. */
    readonly reason = "",
  ) {
    super(`no such room (${code})`);
  }
}

export const roomStates = ["loading", "live", "draining"] as const;

type Entry =
  | { state: "loading"; ready: Promise<Room> }
  | { state: "live"; room: Room; users: number; usedAt: InstantMs }
  | { state: "draining"; gone: Promise<void> };

const idleMs = minuteMs;

export const nameOf = (room: RoomAddress): string =>
  room.kind === "floor" ? floorRoom(room.shopId, room.epoch) : notesRoom(room.shopId, room.pieceId, room.epoch);

/**
 * Every room that is in memory. A room is loading, then live, then draining, then gone; each of these happens once at a
 * time, however many wait for it. A load that fails leaves nothing behind, so that no empty document can pass for a room.
 */
export class Rooms<Loaded extends Room = Room> {
  private readonly entryByName = new Map<string, Entry>();
  private isShut = false;

  constructor(
    private readonly load: (address: RoomAddress) => Promise<Loaded>,
    private readonly now: () => InstantMs,
    private readonly report: (error: unknown) => void,
  ) {}

  get size(): number {
    return this.entryByName.size;
  }

  /** Of each room in memory, what it is and how it stands. */
  states(): { room: RoomAddress["kind"]; state: (typeof roomStates)[number] }[] {
    return [...this.entryByName].map(([name, { state }]) => ({
      room: name.startsWith("floor:") ? "floor" : "notes",
      state,
    }));
  }

  /** The rooms that are ready. */
  all(): Loaded[] {
    return [...this.entryByName.values()].flatMap((entry) => (entry.state === "live" ? [entry.room as Loaded] : []));
  }

  /** Is this room the one in memory, and ready? */
  has(room: Loaded): boolean {
    const entry = this.entryByName.get(nameOf(room.address));
    return entry?.state === "live" && entry.room === room;
  }

  /** Lets a connection in as soon as the room is there; until then its frames wait with it. */
  async join(address: RoomAddress, connection: Connection): Promise<void> {
    try {
      let room = await this.open(address);
      // between a load and those who waited for it a room may have been dropped
      while (!this.has(room)) room = await this.open(address);
      room.admit(connection);
    } catch (error) {
      if (error instanceof NotThere) connection.close(error.code, error.reason);
      else {
        connection.close(closeCode.databaseAway);
        this.report(error);
      }
    }
  }

  /** Does something with a room, which stays in memory meanwhile. */
  async use<Result>(address: RoomAddress, work: (room: Loaded) => Promise<Result>): Promise<Result> {
    const room = await this.open(address);
    const entry = this.entryByName.get(nameOf(address));
    if (entry?.state !== "live" || entry.room !== room) return this.use(address, work);
    entry.users += 1;
    try {
      return await work(room);
    } finally {
      entry.users -= 1;
      entry.usedAt = this.now();
    }
  }

  /** Drops a room that can no longer be trusted; its readers are told by a code what to do. */
  forget(address: RoomAddress, room: Room, code: number = closeCode.databaseAway, reason = ""): void {
    const name = nameOf(address);
    const entry = this.entryByName.get(name);
    if (entry?.state === "live" && entry.room === room) this.entryByName.delete(name);
    for (const connection of room.connections) connection.close(code, reason);
    room.destroy();
  }

  beat(now: InstantMs): void {
    for (const [name, entry] of this.entryByName) {
      if (entry.state !== "live") continue;
      entry.room.beat(now);
      if (entry.room.connections.size > 0 || entry.users > 0 || entry.room.hasPending) entry.usedAt = now;
      else if (now - entry.usedAt >= idleMs) this.unload(name, entry.room);
    }
  }

  /** Takes nobody in any more, and waits until everything pending is stored. */
  async shut(): Promise<void> {
    this.isShut = true;
    await Promise.all(this.all().map((room) => room.drain()));
  }

  private async open(address: RoomAddress): Promise<Loaded> {
    if (this.isShut) throw new NotThere(closeCode.restarting);
    const name = nameOf(address);
    const entry = this.entryByName.get(name);
    if (!entry) return this.start(name, address);
    if (entry.state === "loading") return (await entry.ready) as Loaded;
    if (entry.state === "draining") {
      await entry.gone;
      return this.open(address);
    }
    entry.usedAt = this.now();
    return entry.room as Loaded;
  }

  private async start(name: string, address: RoomAddress): Promise<Loaded> {
    const ready = this.load(address);
    const loading: Entry = { state: "loading", ready };
    this.entryByName.set(name, loading);
    try {
      const room = await ready;
      this.entryByName.set(name, { state: "live", room, users: 0, usedAt: this.now() });
      return room;
    } catch (error) {
      this.remove(name, loading);
      throw error;
    }
  }

  private unload(name: string, room: Room): void {
    const gone = room.drain().then(
      () => room.destroy(),
      (error: unknown) => {
        this.report(error);
        room.destroy();
      },
    );
    const entry: Entry = { state: "draining", gone: gone.then(() => this.remove(name, entry)) };
    this.entryByName.set(name, entry);
  }

  private remove(name: string, entry: Entry): void {
    if (this.entryByName.get(name) === entry) this.entryByName.delete(name);
  }
}
