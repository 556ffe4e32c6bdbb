/**
 * All gates of a large shop, without browser or server: the rules that every device runs, in a process of its own, which
 * prints the figures. Cold is everything from the rows of the readings: thinning, histories, sums of every law, gates. Warm
 * is one reading more, and all gates again at the same instant. Asked is only whether each gate is open, or also since when
 * and until when, as the argument says. Figures are of the processor, for a machine that others share.
 */
import { airWithReading, type RoomAir, roomAir } from "~/core/climate/history";
import { type Gate, type GateAction, gate, recoatFilmGate } from "~/core/cure/gate";
import type { Picture } from "~/core/cure/picture";
import { lineMinutes, slowClock } from "~/core/cure/rate";
import { rateLaw } from "~/core/cure/rate-laws";
import { roomCredit, roomReachedAt } from "~/core/cure/room-credit";
import { withAir } from "~/core/cure/with-air";
import type { Reading } from "~/core/shop/tables";
import {
  actionsOf,
  askedAt,
  type BenchPiece,
  benchPieces,
  oneMoreReading,
  products,
  readingsOfRooms,
  rooms,
} from "./gates-shop";

type Held = { picture: Picture; asked: GateAction[] };

const gateOf = (picture: Picture, asked: GateAction): Gate =>
  asked.action === "recoat" ? recoatFilmGate(picture, asked, askedAt) : gate(picture, asked, askedAt);

export type Depth = "open-or-not" | "with-times";

/** What is read of a gate; the rest is not worked out. */
const readOf: Record<Depth, (found: Gate) => unknown> = {
  "open-or-not": ({ state }) => state,
  "with-times": ({ state, sinceAt, safeAt, likelyAt }) => [state, sinceAt, safeAt, likelyAt],
};
const readGate = readOf[process.argv[2] as Depth];

const allGates = (held: readonly Held[]): unknown[] =>
  held.flatMap(({ picture, asked }) => asked.map((action) => readGate(gateOf(picture, action))));

const timed = <Value>(work: () => Value): { value: Value; ms: number } => {
  const before = process.cpuUsage();
  const value = work();
  const { user, system } = process.cpuUsage(before);
  return { value, ms: (user + system) / 1000 };
};

const pictureIn = ({ roomIds, ...piece }: BenchPiece, airByRoomId: ReadonlyMap<string, RoomAir>): Held => {
  const airs = new Map(roomIds.map((roomId) => [roomId, airByRoomId.get(roomId) as RoomAir]));
  const picture = { ...piece, airByRoomId: airs };
  return { picture, asked: actionsOf(picture) };
};

const coldShop = (rows: readonly Reading[][], pieces: readonly BenchPiece[]) => {
  const airByRoomId = new Map(rooms.map((room, index) => [room.id, roomAir(rows[index] as Reading[], room)]));
  const held = pieces.map((piece) => pictureIn(piece, airByRoomId));
  return { airByRoomId, held, gates: allGates(held) };
};

type BenchSheet = (typeof products)[0]["sheet"];

/**
 * Every line of a history worked out, without a table or a sum: what all this is spared, and what it must agree with.
 *
 * @returns the instant at which so many minutes are reached, to the second
 */
const reintegrated = (rows: readonly Reading[], sheet: BenchSheet, fromAt: number, minutes: number) => {
  const law = rateLaw(sheet);
  let missing = minutes;
  for (let index = 1; index < rows.length; index += 1) {
    const [from, to] = [rows[index - 1] as Reading, rows[index] as Reading];
    if (from.at < fromAt) continue;
    const lineTo = (share: number) => ({
      fromAt: from.at,
      toAt: from.at + share * (to.at - from.at),
      from: { celsius: from.airCelsius, humidityPercent: from.humidityPercent },
      to: {
        celsius: from.airCelsius + share * (to.airCelsius - from.airCelsius),
        humidityPercent: from.humidityPercent + share * (to.humidityPercent - from.humidityPercent),
      },
    });
    const earned = lineMinutes(lineTo(1), law, slowClock);
    if (earned >= missing) {
      let [low, high] = [0, 1];
      for (let step = 0; step < 20; step += 1) {
        const middle = (low + high) / 2;
        if (lineMinutes(lineTo(middle), law, slowClock) < missing) low = middle;
        else high = middle;
      }
      return from.at + high * (to.at - from.at);
    }
    missing -= earned;
  }
  return undefined;
};

/** How far the looked-up instants lie from the worked-out ones at worst, over every law in every room. */
const worstSeconds = (rows: readonly Reading[][], airs: ReadonlyMap<string, RoomAir>): number => {
  let worst = 0;
  for (const [index, room] of rooms.entries())
    for (const { sheet } of products) {
      const ofRoom = rows[index] as Reading[];
      const fromAt = (ofRoom[3000 + 17 * index] as Reading).at;
      const asked = { at: askedAt, countsAway: false };
      const found = roomReachedAt(roomCredit(airs.get(room.id) as RoomAir, sheet), "safe", fromAt, 2880, asked);
      const exact = reintegrated(ofRoom, sheet, fromAt, 2880);
      if (found === undefined || exact === undefined) throw new Error(`two days are never reached in ${room.name}`);
      worst = Math.max(worst, Math.abs(found - exact) / 1000);
    }
  return worst;
};

/** As little as can be done with every reading once. */
const looked = (rows: readonly Reading[][]): number => {
  let coldest = Number.POSITIVE_INFINITY;
  for (const ofRoom of rows) for (const { airCelsius } of ofRoom) coldest = Math.min(coldest, airCelsius);
  return coldest;
};

const median = (values: number[]) => values.sort((one, other) => one - other)[values.length >> 1] as number;

/** Milliseconds of the processor; a least one is what the work takes where nobody disturbs it. */
export type GatesFigures = {
  gates: number;
  firstColdMs: number;
  coldMs: number;
  leastColdMs: number;
  afterReadingMs: number;
  leastAfterReadingMs: number;
  reintegrateOneFilmMs: number;
  lookAtReadingsMs: number;
  worstSeconds: number;
};

const measured = (): GatesFigures => {
  const rows = readingsOfRooms();
  const first = timed(() => coldShop(rows, benchPieces()));
  const colds: number[] = [];
  let shop = first.value;
  for (let run = 0; run < 7; run += 1) {
    const pieces = benchPieces();
    const cold = timed(() => coldShop(rows, pieces));
    colds.push(cold.ms);
    shop = cold.value;
  }
  const afters: number[] = [];
  for (const [index, room] of rooms.entries()) {
    // nothing stands in the spray rooms any more
    if (shop.held.every(({ picture }) => picture.stays.at(-1)?.roomId !== room.id)) continue;
    const reading = oneMoreReading(index);
    const after = timed(() => {
      const air = airWithReading(shop.airByRoomId.get(room.id) as RoomAir, reading);
      return allGates(shop.held.map(({ picture, asked }) => ({ picture: withAir(picture, air), asked })));
    });
    afters.push(after.ms);
  }
  const looks = Array.from({ length: 7 }, () => timed(() => looked(rows)).ms);
  const [{ sheet }] = products as [(typeof products)[0]];
  const films = Array.from(
    { length: 5 },
    () => timed(() => reintegrated(rows[0] as Reading[], sheet, 0, Number.POSITIVE_INFINITY)).ms,
  );
  return {
    gates: shop.gates.length,
    firstColdMs: first.ms,
    coldMs: median(colds),
    leastColdMs: Math.min(...colds),
    afterReadingMs: median(afters),
    leastAfterReadingMs: Math.min(...afters),
    reintegrateOneFilmMs: median(films),
    lookAtReadingsMs: median(looks),
    worstSeconds: worstSeconds(rows, shop.airByRoomId),
  };
};

console.log(JSON.stringify(measured()));
