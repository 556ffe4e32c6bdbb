import * as encoding from "lib0/encoding";
import { beforeEach, describe, expect, test } from "vitest";
import { type Frame, type PresenceEntry, presenceFrame, readFrame, readPresence } from "../../server/messages";
import { PresenceBoard, type Present } from "../../server/presence";
import { connectionOn, fern, Line } from "./support/socket";

let board: PresenceBoard;
beforeEach(() => {
  board = new PresenceBoard(1_000_000);
});

const bytesOf = (entries: PresenceEntry[]) =>
  (readFrame(presenceFrame(entries)) as Extract<Frame, { kind: "presence" }>).presence;

function device(memberId: string | undefined, clientId: number, sessionId = `of ${memberId}`) {
  const line = new Line();
  const connection = connectionOn(line, () => 0, { ...fern, memberId, sessionId, deviceId: `phone of ${memberId}` });
  const say = (state: unknown, clock = 1, id = clientId) =>
    board.hear(connection, bytesOf([{ clientId: id, clock, state }]));
  const heard = () =>
    line.sent.flatMap((bytes) => readPresence((readFrame(bytes) as { presence: Uint8Array }).presence) ?? []);
  return { line, connection, say, heard };
}

describe("who is looking where", () => {
  test("the others are told who looks where, by the name of the session and not by the one that is claimed", () => {
    const [hanna, silas] = [device("hanna", 1), device("silas", 2)];
    hanna.say({});
    silas.say({ memberId: "fern", name: "Fern", lookingAt: "piece:1", money: 4 });
    board.flush(0);
    expect(hanna.heard()).toEqual([
      {
        clientId: 2,
        clock: expect.any(Number),
        state: { memberId: "silas", deviceId: "phone of silas", lookingAt: "piece:1" },
      },
    ]);
  });

  test("a connection speaks for one client id, and cannot move or end another's", () => {
    const [hanna, silas, onlooker] = [device("hanna", 1), device("silas", 2), device("fern", 3)];
    hanna.say({ lookingAt: "piece:1" });
    silas.say({ lookingAt: "piece:2" });
    onlooker.say({});
    board.flush(0);
    silas.say(null, 99, 1);
    silas.say({ lookingAt: "piece:9" }, 99, 1);
    board.flush(0);
    expect(board.all()).toContainEqual({ memberId: "hanna", deviceId: "phone of hanna", lookingAt: "piece:1" });
    expect(onlooker.heard().filter(({ clientId }) => clientId === 1)).toHaveLength(1);
  });

  test("a first word about somebody else's id binds nothing", () => {
    const [hanna, silas] = [device("hanna", 1), device("silas", 2)];
    hanna.say({});
    silas.say({}, 1, 1);
    expect(board.all()).toEqual([{ memberId: "hanna", deviceId: "phone of hanna" }]);
  });

  test("whoever leaves is gone for everybody, and is seen at once when they come back with the same clock", () => {
    const [hanna, silas] = [device("hanna", 1), device("silas", 2)];
    hanna.say({});
    silas.say({}, 7);
    board.flush(0);
    board.leave(silas.connection);
    board.flush(0);
    const again = device("silas", 2);
    again.say({}, 7);
    board.flush(0);
    const clocks = hanna.heard().map(({ clock, state }) => ({ clock, isHere: state !== null }));
    expect(clocks.map(({ isHere }) => isHere)).toEqual([true, false, true]);
    expect(clocks.map(({ clock }) => clock)).toEqual([...clocks.map(({ clock }) => clock)].sort((a, b) => a - b));
    expect(new Set(clocks.map(({ clock }) => clock)).size).toBe(3);
  });

  test("the same device takes its id over from a line that is not yet known to be dead", () => {
    const [before, after] = [device("silas", 2), device("silas", 2)];
    before.say({ lookingAt: "piece:1" });
    after.say({ lookingAt: "piece:2" });
    expect(board.all()).toEqual([{ memberId: "silas", deviceId: "phone of silas", lookingAt: "piece:2" }]);
  });

  test("many words between two tellings are told once", () => {
    const [hanna, silas] = [device("hanna", 1), device("silas", 2)];
    hanna.say({});
    for (let count = 0; count < 50; count += 1) silas.say({ lookingAt: `piece:${count}` }, count);
    board.flush(0);
    expect(hanna.heard().map(({ state }) => (state as { lookingAt?: string }).lookingAt)).toEqual(["piece:49"]);
  });

  test("a word of more than a kilobyte, or from nobody in particular, is passed over", () => {
    const [hanna, tablet] = [device("hanna", 1), device(undefined, 2)];
    hanna.say({ lookingAt: "x".repeat(2000) });
    tablet.say({ lookingAt: "piece:1" });
    expect(board.all()).toEqual([]);
  });

  test("a word that is nested thirty thousand deep, or says more than a place, is passed over or cut to nothing", () => {
    const [hanna, silas] = [device("hanna", 1), device("silas", 2)];
    let deep: unknown = 0;
    for (let depth = 0; depth < 400; depth += 1) deep = [deep];
    hanna.say({ deep });
    silas.say({ lookingAt: "<b>\u0000piece" });
    expect(board.all()).toEqual([
      { memberId: "hanna", deviceId: "phone of hanna" },
      { memberId: "silas", deviceId: "phone of silas" },
    ]);
    const brackets = 30_000;
    const json = Buffer.from("[".repeat(brackets) + "]".repeat(brackets));
    const encoder = encoding.createEncoder();
    for (const number of [1, 1, 2]) encoding.writeVarUint(encoder, number);
    encoding.writeVarUint8Array(encoder, json);
    expect(board.hear(hanna.connection, encoding.toUint8Array(encoder))).toBe(true);
  });

  test("two hundred thousand ids in one frame are no presence, and one after the other they stay one", () => {
    const [hanna, silas] = [device("hanna", 1), device("silas", 2)];
    hanna.say({});
    const encoder = encoding.createEncoder();
    encoding.writeVarUint(encoder, 200_000);
    for (let clientId = 0; clientId < 200_000; clientId += 1) {
      for (const number of [clientId, 1]) encoding.writeVarUint(encoder, number);
      encoding.writeVarString(encoder, "{}");
    }
    expect(board.hear(silas.connection, encoding.toUint8Array(encoder))).toBe(false);
    for (let clientId = 0; clientId < 10_000; clientId += 1) silas.say({ lookingAt: "piece:1" }, 1, clientId);
    board.flush(0);
    expect(board.all()).toHaveLength(2);
    expect(hanna.heard()).toHaveLength(1);
  });

  test("after a thousand that came and went there is nothing left of them", () => {
    for (let count = 0; count < 1000; count += 1) {
      const one = device("silas", count);
      one.say({});
      board.flush(0);
      board.leave(one.connection);
    }
    board.flush(0);
    expect(board.all()).toEqual([]);
    const onlooker = device("hanna", 9999);
    board.listen(onlooker.connection);
    expect(onlooker.heard()).toEqual([]);
  });

  test("who is on another server is seen here, and is gone when it says so or says nothing for a quarter of a minute", () => {
    const hanna = device("hanna", 1);
    hanna.say({});
    const at = (clientId: number, memberId: string) => ({ clientId, state: { memberId, deviceId: "d" } });
    board.hearAfar("there", [at(7, "silas"), at(8, "fern")], 1000);
    board.flush(1000);
    expect(hanna.heard().map(({ clientId }) => clientId)).toEqual([7, 8]);
    board.hearAfar("there", [{ clientId: 7, state: null }], 2000);
    board.flush(2000);
    expect(board.all().map(({ memberId }) => memberId)).toEqual(["fern", "hanna"]);
    board.forgetSilent(15_999);
    expect(board.all()).toHaveLength(2);
    board.forgetSilent(16_000);
    board.flush(16_000);
    expect(board.all().map(({ memberId }) => memberId)).toEqual(["hanna"]);
    expect(hanna.heard().at(-1)).toMatchObject({ clientId: 8, state: null });
  });

  test("who moves here from another server stays, whatever that one still says", () => {
    const [hanna, silas] = [device("hanna", 1), device("silas", 7)];
    hanna.say({});
    board.hearAfar("there", [{ clientId: 7, state: { memberId: "silas", deviceId: "phone of silas" } }], 0);
    board.flush(0);
    silas.say({ lookingAt: "piece:2" });
    board.flush(0);
    board.hearAfar("there", [{ clientId: 7, state: null }], 0);
    board.flush(0);
    expect(board.all()).toContainEqual({ memberId: "silas", deviceId: "phone of silas", lookingAt: "piece:2" });
    expect(hanna.heard().at(-1)?.state).not.toBeNull();
  });

  test("nobody speaks for a client id that is another member's on another server", () => {
    const silas = device("silas", 7);
    board.hearAfar("there", [{ clientId: 7, state: { memberId: "fern", deviceId: "d" } }], 0);
    silas.say({ lookingAt: "piece:2" });
    expect(board.all()).toEqual([{ memberId: "fern", deviceId: "d" }]);
  });

  test("other servers are told of those who are here, and of nobody else", () => {
    const told: Present[] = [];
    board = new PresenceBoard(0, (news) => told.push(...news));
    const silas = device("silas", 2);
    silas.say({});
    board.hearAfar("there", [{ clientId: 7, state: { memberId: "fern", deviceId: "d" } }], 0);
    board.flush(0);
    board.leave(silas.connection);
    board.flush(0);
    expect(told.map(({ clientId, state }) => [clientId, state === null])).toEqual([
      [2, false],
      [2, true],
    ]);
  });
});
