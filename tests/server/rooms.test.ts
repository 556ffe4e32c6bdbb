import { describe, expect, test } from "vitest";
import { closeCode, type RoomAddress } from "~/core/wire";
import { limits } from "~/core/wire-limits";
import type { Connection } from "../../server/connection";
import { type Frame, quietFrame, step1Frame } from "../../server/messages";
import { type Room, Rooms } from "../../server/rooms";
import { Promised } from "./support/promised";
import { connectionOn, Line } from "./support/socket";

const floor: RoomAddress = { kind: "floor", shopId: "shop", epoch: 1 };
const minuteMs = 60_000;
/** Lets everything go on that waits for nothing but its turn. */
const settled = () => new Promise((resolve) => setImmediate(resolve));

class QuietRoom implements Room {
  readonly address = floor;
  readonly connections = new Set<Connection>();
  readonly heard: Frame[] = [];
  hasPending = false;
  isDestroyed = false;
  drained: Promise<void> = Promise.resolve();
  admit(connection: Connection): void {
    this.connections.add(connection);
    connection.deliverTo({
      frame: (frame) => this.heard.push(frame),
      closed: () => this.connections.delete(connection),
    });
  }
  beat(): void {}
  drain = (): Promise<void> => this.drained;
  destroy(): void {
    this.isDestroyed = true;
  }
}

/** Rooms whose loads are finished by the test. */
function slowRooms() {
  const clock = { now: 0 };
  const loads: Promised<QuietRoom>[] = [];
  const faults: unknown[] = [];
  const load = () => {
    const one = new Promised<QuietRoom>();
    loads.push(one);
    return one.promise;
  };
  const rooms = new Rooms<QuietRoom>(
    load,
    () => clock.now,
    (error) => faults.push(error),
  );
  const device = () => {
    const line = new Line();
    return { line, connection: connectionOn(line, () => clock.now) };
  };
  return { clock, loads, faults, rooms, device };
}

describe("a room that is loading", () => {
  test("what a hundred devices say meanwhile is kept, and one load serves them all", async () => {
    const { rooms, loads, device } = slowRooms();
    const room = new QuietRoom();
    for (let count = 0; count < 100; count += 1) {
      const { line, connection } = device();
      void rooms.join(floor, connection);
      line.say(step1Frame(new Uint8Array([count])));
    }
    await settled();
    expect(loads).toHaveLength(1);
    loads[0]?.keep(room);
    await settled();
    expect(room.connections.size).toBe(100);
    const heard = room.heard.map((frame) => (frame.kind === "step1" ? frame.stateVector[0] : undefined));
    expect(new Set(heard)).toEqual(new Set(Array.from({ length: 100 }, (_, index) => index)));
    expect(heard).toHaveLength(100);
  });

  test("a load that fails hangs up for another try, and leaves no empty room behind", async () => {
    const { rooms, loads, device, faults } = slowRooms();
    const [first, second] = [device(), device()];
    void rooms.join(floor, first.connection);
    loads[0]?.break(new Error("no database"));
    await settled();
    expect(first.line.closeCode).toBe(closeCode.databaseAway);
    expect(rooms.size).toBe(0);
    expect(faults).toHaveLength(1);
    void rooms.join(floor, second.connection);
    const room = new QuietRoom();
    loads[1]?.keep(room);
    await settled();
    expect(room.connections).toContain(second.connection);
  });

  test("a device that says more than it may while it waits is sent away", async () => {
    const { rooms, device, clock } = slowRooms();
    const { line, connection } = device();
    void rooms.join(floor, connection);
    for (let count = 0; count < 70; count += 1) {
      clock.now += 1000;
      line.say(step1Frame(new Uint8Array()));
    }
    expect(line.closeCode).toBe(1013);
  });
});

describe("a room that nobody reads any more", () => {
  async function liveRoom() {
    const made = slowRooms();
    const room = new QuietRoom();
    const { line, connection } = made.device();
    void made.rooms.join(floor, connection);
    made.loads[0]?.keep(room);
    await settled();
    return { ...made, room, line };
  }

  test("goes after an idle minute, and not while somebody reads or something is pending", async () => {
    const { rooms, room, line, clock } = await liveRoom();
    clock.now += 10 * minuteMs;
    rooms.beat(clock.now);
    line.terminate();
    room.hasPending = true;
    clock.now += 10 * minuteMs;
    rooms.beat(clock.now);
    await settled();
    expect(room.isDestroyed).toBe(false);
    room.hasPending = false;
    clock.now += minuteMs;
    rooms.beat(clock.now);
    await settled();
    expect(room.isDestroyed).toBe(true);
    expect(rooms.size).toBe(0);
  });

  test("who comes while it is going waits until it has gone, and reads it anew", async () => {
    const { rooms, room, line, clock, loads, device } = await liveRoom();
    const going = new Promised<void>();
    room.drained = going.promise;
    line.terminate();
    clock.now += minuteMs;
    rooms.beat(clock.now);
    const { connection } = device();
    void rooms.join(floor, connection);
    await settled();
    expect(loads).toHaveLength(1);
    going.keep();
    await settled();
    expect(loads).toHaveLength(2);
    const fresh = new QuietRoom();
    loads[1]?.keep(fresh);
    await settled();
    expect(fresh.connections).toContain(connection);
    expect(room.connections.size).toBe(0);
  });

  test("stays as long as somebody works with it", async () => {
    const { rooms, room, line, clock } = await liveRoom();
    const work = new Promised<void>();
    const done = rooms.use(floor, () => work.promise);
    await settled();
    line.terminate();
    clock.now += 10 * minuteMs;
    rooms.beat(clock.now);
    expect(room.isDestroyed).toBe(false);
    work.keep();
    await done;
  });
});

describe("a line", () => {
  test("hears something every quarter of a minute, so that the browser does not give it up", () => {
    const clock = { now: 0 };
    const line = new Line();
    const connection = connectionOn(line, () => clock.now);
    for (clock.now = 0; clock.now < 3 * minuteMs; clock.now += 250) {
      connection.beat(clock.now);
      line.emit("pong");
    }
    expect(line.sent.every((frame) => frame === quietFrame)).toBe(true);
    expect(line.sent.length).toBeGreaterThanOrEqual(12);
    expect(connection.isOpen).toBe(true);
  });

  test("on which nobody answers two pings is cut", () => {
    const line = new Line();
    const connection = connectionOn(line, () => 0);
    for (let now = 0; now < minuteMs; now += 250) connection.beat(now);
    expect(line.pings).toBe(2);
    connection.beat(minuteMs);
    expect(line.isTerminated).toBe(true);
    expect(connection.isOpen).toBe(false);
  });

  test("of a device that does not read is cut before its backlog fills the memory", () => {
    const line = new Line();
    const connection = connectionOn(line, () => 0);
    line.bufferedAmount = limits.backlogBytes;
    connection.send(quietFrame);
    expect(line.sent).toEqual([]);
    expect(line.isTerminated).toBe(true);
  });

  test("that is silenced sends nothing until it is known that it may, and then everything", () => {
    const line = new Line();
    const connection = connectionOn(line, () => 0);
    connection.hold();
    connection.send(quietFrame);
    expect(line.sent).toEqual([]);
    connection.release();
    expect(line.sent).toEqual([quietFrame]);
  });

  test("that two doubts silence hears again when both are over", () => {
    const line = new Line();
    const connection = connectionOn(line, () => 0);
    connection.hold();
    connection.hold();
    connection.send(quietFrame);
    connection.release();
    expect(line.sent).toEqual([]);
    connection.release();
    expect(line.sent).toEqual([quietFrame]);
  });

  test("whose right is in doubt says nothing until it is known, and nothing at all where it is gone", async () => {
    const [line, gone] = [new Line(), new Line()];
    const [connection, other] = [connectionOn(line, () => 0), connectionOn(gone, () => 0)];
    const heard: Frame[] = [];
    for (const one of [connection, other])
      one.deliverTo({ frame: (frame) => heard.push(frame), closed: () => undefined });
    const known = new Promised<void>();
    connection.distrust(known.promise);
    other.distrust(known.promise);
    line.say(step1Frame(new Uint8Array([1])));
    gone.say(step1Frame(new Uint8Array([2])));
    expect(heard).toEqual([]);
    other.close(closeCode.noRight);
    known.keep();
    await settled();
    expect(heard).toMatchObject([{ kind: "step1", stateVector: new Uint8Array([1]) }]);
  });
});
