import { beforeEach, describe, expect, test } from "vitest";
import { type Frame, type PresenceEntry, presenceFrame, readFrame, readPresence } from "../../server/messages";
import { PresenceBoard } from "../../server/presence";
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
    board.flush();
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
    board.flush();
    silas.say(null, 99, 1);
    silas.say({ lookingAt: "piece:9" }, 99, 1);
    board.flush();
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
    board.flush();
    board.leave(silas.connection);
    board.flush();
    const again = device("silas", 2);
    again.say({}, 7);
    board.flush();
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
    board.flush();
    expect(hanna.heard().map(({ state }) => (state as { lookingAt?: string }).lookingAt)).toEqual(["piece:49"]);
  });

  test("a word of more than a kilobyte, or from nobody in particular, is passed over", () => {
    const [hanna, tablet] = [device("hanna", 1), device(undefined, 2)];
    hanna.say({ lookingAt: "x".repeat(2000) });
    tablet.say({ lookingAt: "piece:1" });
    expect(board.all()).toEqual([]);
  });

  test("after a thousand that came and went there is nothing left of them", () => {
    for (let count = 0; count < 1000; count += 1) {
      const one = device("silas", count);
      one.say({});
      board.flush();
      board.leave(one.connection);
    }
    board.flush();
    expect(board.all()).toEqual([]);
    const onlooker = device("hanna", 9999);
    board.listen(onlooker.connection);
    expect(onlooker.heard()).toEqual([]);
  });
});
