/**
 * How long a word that one member writes in the notes of a piece takes to every other reader, judged and stored first;
 * beside a broadcaster that does neither, with the same frames, in turn.
 */
import os from "node:os";
import { setTimeout as pause } from "node:timers/promises";
import { killDoor, openDoor } from "../server/support/doors";
import { openBare } from "./bare";
import type { BenchPlace } from "./bench-place";
import { BenchRoom } from "./bench-room";
import { measureCommits } from "./commits";
import { measureFlush } from "./flush";
import { inTurn, median, type Pair } from "./medians";
import { atMost, ms, type Row, times } from "./rows";
import { type Spread, spreadOf } from "./spread";

type Shape = { rooms: number; readers: number; perSecond: number };

/** As many updates a second in all rooms together. */
const shapes: readonly Shape[] = [
  { rooms: 1, readers: 10, perSecond: 50 },
  { rooms: 1, readers: 50, perSecond: 50 },
  { rooms: 1, readers: 200, perSecond: 20 },
  { rooms: 100, readers: 5, perSecond: 250 },
];
const pairs = 5;
const warmUpMs = 500;
const measuredMs = 3_000;
const lettersEach = 60;
/** A word that has not arrived by then never will. */
const patienceMs = 10_000;

const nameOf = ({ rooms, readers }: Shape): string => (rooms === 1 ? `1 × ${readers}` : `${rooms} × ${readers}`);

export type Target = { base: string; isBare: boolean; place: BenchPlace };

/** Opens rooms in which everybody may write. */
export async function openRooms({ base, isBare, place }: Target, { rooms, readers }: Shape, letters: number) {
  const names = await place.freshNotes(rooms);
  const opened = names.map((name) => {
    const headers = (reader: number) => ({ cookie: place.seat(reader).cookie });
    return new BenchRoom({ url: `${base}/${name}`, headers, readers }, letters);
  });
  for (let from = 0; from < opened.length; from += 20)
    await Promise.all(opened.slice(from, from + 20).map((room) => room.open(isBare)));
  return opened;
}

/** Words at a steady pace, the next one of another room and, there, of another hand. */
export async function fanOut(target: Target, shape: Shape): Promise<Spread> {
  const rooms = await openRooms(target, shape, lettersEach);
  const timesMs: number[] = [];
  const startedAt = performance.now();
  let [expected, arrivals] = [0, 0];
  for (const room of rooms) {
    room.arrived = ({ writer, number }) => {
      const at = performance.now();
      const sentAt = room.hands[writer]?.sentAt[number] ?? Number.NaN;
      arrivals += 1;
      if (sentAt - startedAt >= warmUpMs) timesMs.push(at - sentAt);
    };
  }
  const everyMs = 1000 / shape.perSecond;
  for (let written = 0; written * everyMs < warmUpMs + measuredMs; written += 1) {
    const dueMs = startedAt + written * everyMs - performance.now();
    if (dueMs > 0) await pause(dueMs);
    rooms[written % rooms.length]?.write(Math.floor(written / rooms.length) % shape.readers);
    expected += shape.readers - 1;
  }
  const givesUpAt = performance.now() + patienceMs;
  while (arrivals < expected && performance.now() < givesUpAt) await pause(10);
  if (arrivals !== expected) throw new Error(`${nameOf(shape)}: ${arrivals} of ${expected} words arrived`);
  for (const room of rooms) await room.close();
  return spreadOf(timesMs);
}

/** @param isDurable false: what is written is told before it is stored, which only a test may ask for */
export async function measureFanOut(place: BenchPlace, { isDurable }: { isDurable: boolean }): Promise<Row[]> {
  const door = await openDoor({ NODE_ENV: "production", ...(isDurable ? {} : { TACKFREE_UNFLUSHED: "1" }) });
  const bare = await openBare();
  const rows: Row[] = [];
  const commits: number[] = [];
  try {
    for (const shape of shapes) {
      const flushes: number[] = [];
      const found = await inTurn(
        pairs,
        () => fanOut({ base: `ws://127.0.0.1:${door.port}/sync`, isBare: false, place }, shape),
        async () => {
          flushes.push(spreadOf(measureFlush(os.tmpdir())).p50Ms);
          commits.push(...(await measureCommits()));
          return fanOut({ base: `ws://127.0.0.1:${bare.port}`, isBare: true, place }, shape);
        },
      );
      rows.push(...rowsOf(shape, found, isDurable ? median(flushes) : undefined));
    }
    const { p50Ms, p95Ms } = spreadOf(commits);
    return [
      ...rows,
      { what: "one row stored in PostgreSQL, nothing else: p50, p95", value: `${ms(p50Ms)}, ${ms(p95Ms)}` },
    ];
  } finally {
    bare.stop();
    await killDoor(door);
  }
}

/** @param flushMs absent where nothing is flushed */
function rowsOf(shape: Shape, found: readonly Pair<Spread>[], flushMs: number | undefined): Row[] {
  const of = (pick: (pair: Pair<Spread>) => number) => median(found.map(pick));
  const ours = { p50: of((pair) => pair.ours.p50Ms), p95: of((pair) => pair.ours.p95Ms) };
  const bare = { p50: of((pair) => pair.bare.p50Ms), p95: of((pair) => pair.bare.p95Ms) };
  const ratio = of((pair) => pair.ours.p95Ms / pair.bare.p95Ms);
  const name = nameOf(shape);
  const told = `${ms(ours.p50)}, ${ms(ours.p95)}; bare ${ms(bare.p50)}, ${ms(bare.p95)}`;
  const rows: Row[] = [{ what: `${name}: p50, p95`, value: told }];
  if (flushMs === undefined)
    return [...rows, atMost(`${name}: p95 against bare`, ratio, shape.rooms === 1 ? 1.3 : 1.6, times)];
  if (shape.readers === 200) return [...rows, atMost(`${name}: p95 against bare`, ratio, 1.3, times)];
  return [
    ...rows,
    { what: `${name}: p95 against bare, one fdatasync`, value: `${times(ratio)}, ${ms(flushMs)}` },
    atMost(`${name}: p50, bare + 1.5 fdatasync`, ours.p50, bare.p50 + 1.5 * flushMs, ms),
    atMost(`${name}: p95, bare + 3 fdatasync`, ours.p95, bare.p95 + 3 * flushMs, ms),
  ];
}
