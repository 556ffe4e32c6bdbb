/** How many words arrive in a second when everybody writes as fast as the others can read. */
import { setTimeout as pause } from "node:timers/promises";
import { killDoor, openDoor } from "../server/support/doors";
import { openBare } from "./bare";
import type { BenchPlace } from "./bench-place";
import type { Arrival, BenchRoom } from "./bench-room";
import { openRooms, type Target } from "./fan-out";
import { inTurn, median } from "./medians";
import { atLeast, type Row, times } from "./rows";

/** Each hand has so many updates under way until all readers have them. */
const inFlight = 4;
const pairs = 5;
const [warmUpMs, measuredMs] = [500, 1_500];

const shapes = [
  { rooms: 1, readers: 10, leastRatio: 0.5 },
  { rooms: 1, readers: 50, leastRatio: 1 },
  { rooms: 1, readers: 200, leastRatio: 1 },
  { rooms: 100, readers: 5, leastRatio: 0.5 },
] as const;
type Shape = (typeof shapes)[number];

/** @returns updates that arrived at somebody, each second */
async function closedLoop(target: Target, shape: Shape): Promise<number> {
  const rooms = await openRooms(target, { ...shape, perSecond: 0 }, 1);
  let [arrivals, isOver] = [0, false];
  for (const room of rooms) {
    const toWrite = oneForEachThatAllHave(room);
    room.arrived = (arrival) => {
      arrivals += 1;
      if (!isOver) toWrite(arrival);
    };
    for (const writer of room.hands.keys()) for (let one = 0; one < inFlight; one += 1) room.write(writer);
  }
  await pause(warmUpMs);
  const [startedAt, before] = [performance.now(), arrivals];
  await pause(measuredMs);
  const perSecond = ((arrivals - before) * 1000) / (performance.now() - startedAt);
  isOver = true;
  for (const room of rooms) await room.close();
  return perSecond;
}

function oneForEachThatAllHave(room: BenchRoom): (arrival: Arrival) => void {
  const haveIt = room.hands.map((): number[] => []);
  const all = room.hands.length - 1;
  return ({ writer, number }) => {
    const counts = haveIt[writer] as number[];
    counts[number] = (counts[number] ?? 0) + 1;
    if (counts[number] === all) room.write(writer);
  };
}

export async function measureClosedLoop(place: BenchPlace): Promise<Row[]> {
  const door = await openDoor({ NODE_ENV: "production", BENCH_UNPACED: "1" });
  const bare = await openBare();
  const rows: Row[] = [];
  try {
    for (const shape of shapes) {
      const found = await inTurn(
        pairs,
        () => closedLoop({ base: `ws://127.0.0.1:${door.port}/sync`, isBare: false, place }, shape),
        () => closedLoop({ base: `ws://127.0.0.1:${bare.port}`, isBare: true, place }, shape),
      );
      const name = `${shape.rooms} × ${shape.readers}`;
      const [ours, plain] = [median(found.map((pair) => pair.ours)), median(found.map((pair) => pair.bare))];
      const thousands = (count: number) => Math.round(count).toLocaleString("en-US");
      rows.push({ what: `${name}: updates delivered a second`, value: `${thousands(ours)}; bare ${thousands(plain)}` });
      const ratio = median(found.map((pair) => pair.ours / pair.bare));
      rows.push(atLeast(`${name}: against bare`, ratio, shape.leastRatio, times));
    }
    return rows;
  } finally {
    bare.stop();
    await killDoor(door);
  }
}
