/** What rooms and sockets cost in memory: measured in this process, which is given a database of its own. */
import { once } from "node:events";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import WebSocket from "ws";
import { floorRoom } from "~/core/wire";
import { database } from "~/data/db";
import { FloorDocument } from "../../server/floor-document";
import { ShopServer } from "../server/support/shop-server";
import { freshShop, pieceBody } from "../support/database";

setFlagsFromString("--expose_gc");
const collect = runInNewContext("gc") as () => void;

/** What is in use when everything that can go has gone: the heap, and buffers outside of it. */
async function usedBytes(): Promise<number> {
  for (let round = 0; round < 3; round += 1) {
    await new Promise((resolve) => setTimeout(resolve, 50));
    collect();
  }
  const { heapUsed, external } = process.memoryUsage();
  return heapUsed + external;
}

const boards = 20;
const piecesOfBoard = 200;

/** A board of two hundred pieces with four fields each, as a document in memory; the mean of twenty. */
export async function measureBoard(): Promise<number> {
  const state = boardOf(piecesOfBoard).since();
  const before = await usedBytes();
  const floors = Array.from({ length: boards }, () => FloorDocument.of([state]));
  const bytes = ((await usedBytes()) - before) / boards;
  for (const floor of floors) floor.destroy();
  return bytes;
}

/** Pieces with what a board shows of each: its name, where it hangs, in which stage, and its place there. */
export function boardOf(count: number): FloorDocument {
  const floor = FloorDocument.of([]);
  floor.set(Array.from({ length: count }, (_, number) => pieceEntry(number, 0)));
  return floor;
}

export const pieceEntry = (number: number, moves: number) => ({
  part: "piece" as const,
  key: `00000000-0000-7000-8000-${number.toString(16).padStart(12, "0")}`,
  value: { name: `Piece ${number}`, board: number % 4, stage: (number + moves) % 7, rank: (number * 7 + moves) % 1000 },
});

const sockets = 500;

/** An open socket on which nothing happens. The client's end lies in this process too, and is taken off. */
export async function measureSockets(): Promise<number> {
  const crowd = { session: 2_000, member: 2_000, shop: 2_000, address: 2_000 };
  const server = await ShopServer.start(undefined, crowd);
  const shop = await freshShop();
  const cookie = await server.signIn(shop.owner);
  const url = `ws://${server.host}/sync/${floorRoom(shop.shopId, 1)}`;
  // a busy machine may not look a session up in time, and says so; then it is asked again
  const connect = async (): Promise<WebSocket> => {
    const socket = new WebSocket(url, { headers: { cookie }, perMessageDeflate: false });
    try {
      await once(socket, "open");
      return socket;
    } catch {
      return connect();
    }
  };
  const first = await server.floor(shop.owner); // whatever is loaded once is loaded now
  const warmUp = await Promise.all(Array.from({ length: 10 }, connect));
  const before = await usedBytes();
  const open: WebSocket[] = [];
  while (open.length < sockets) open.push(...(await Promise.all(Array.from({ length: 10 }, connect))));
  const both = ((await usedBytes()) - before) / sockets;
  first.leave();
  for (const socket of [...warmUp, ...open]) socket.terminate();
  await server.stop();
  return both;
}

export type RoomsFound = { firstBytes: number; secondBytes: number; left: number };

/** Opens so many notes one after the other, lets them go, and does all of it again. */
export async function measureRooms(count: number): Promise<RoomsFound> {
  const server = await ShopServer.start();
  const shop = await freshShop();
  const piece = pieceBody(shop);
  await server.accepted(shop.owner, ["add-piece", piece]);
  await database().$executeRaw`
    INSERT INTO "piece" SELECT (jsonb_populate_record(p, jsonb_build_object('id', gen_random_uuid(), 'number', 'N-' || n))).*
    FROM "piece" p, generate_series(1, ${count}::int) n WHERE p."id" = ${piece.pieceId}::uuid`;
  const { shopId } = shop;
  const pieces = await database().piece.findMany({
    where: { shopId, id: { not: piece.pieceId } },
    select: { id: true },
  });
  const pass = async () => {
    for (let from = 0; from < pieces.length; from += 4) {
      const some = pieces.slice(from, from + 4);
      await Promise.all(
        some.map(({ id }) =>
          server.hub.rooms.use({ kind: "notes", shopId, pieceId: id, epoch: 1 }, async () => undefined),
        ),
      );
      if (from % 500 === 0) server.now += 61_000;
    }
    while (server.hub.rooms.size > 0) {
      server.now += 61_000;
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    return usedBytes();
  };
  const firstBytes = await pass();
  const secondBytes = await pass();
  const left = server.hub.rooms.size;
  await server.stop();
  return { firstBytes, secondBytes, left };
}
